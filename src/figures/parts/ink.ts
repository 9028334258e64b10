/**
 * Colours that people with colour-blindness can tell apart (Okabe and Ito, Color universal design, 2008), for light paper.
 * No meaning rests on colour alone.
 */
export const INK = { line: "#0072B2", limit: "#D55E00", event: "#767676" } as const;

/** What fills a mark that hides the lines below it. */
export const PAPER = "#ffffff";

/** The lighter blue and orange of the same palette, for dark paper, and that paper. */
export const DARK_INK = { line: "#56B4E9", limit: "#E69F00", event: "#9A9A9A" } as const;
export const DARK_PAPER = "#17181a";

/** Every colour of a picture on light paper, with the one that it has on dark. */
export const IN_THE_DARK: readonly (readonly [light: string, dark: string])[] = [
  [INK.line, DARK_INK.line],
  [INK.limit, DARK_INK.limit],
  [INK.event, DARK_INK.event],
  [PAPER, DARK_PAPER],
];

/** Style rules that give pictures in a page the inks of its paper where the reader prefers dark. */
export const DARK_PAGE_STYLE = `@media screen and (prefers-color-scheme: dark) {
${IN_THE_DARK.flatMap(([light, dark]) => ["stroke", "fill"].map((paint) => `  svg [${paint}="${light}"] { ${paint}: ${dark}; }`)).join("\n")}
}`;
