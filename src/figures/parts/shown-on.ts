/** Where a picture is shown: on a page, or on the screen of a phone. */
export type ShownOn = "page" | "phone";

/** How wide it is there, in pixels. */
export const WIDTHS: Readonly<Record<ShownOn, number>> = { page: 760, phone: 336 };
