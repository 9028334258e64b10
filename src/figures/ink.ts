/**
 * Colours that people with colour-blindness can tell apart (Okabe and Ito, Color universal design, 2008). They are
 * readable on white and on near-black. No meaning rests on colour alone.
 */
export const INK = { line: "#0072B2", limit: "#D55E00", event: "#767676" } as const;
