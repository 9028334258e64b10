/** Milliseconds after which something that has not ended counts as hanging; nothing else fails by the clock. */
export const HANG_MS = 600_000;
