import type { GalleryFigure } from "./figures.js";

/**
 * Writes the page that shows every figure, each in the ink of the reader's page.
 *
 * @returns Markdown; the pictures lie in the folder pictures next to it
 */
export function galleryPage(figures: readonly GalleryFigure[]): string {
  return [
    "# Gallery\n",
    "Every figure of `siltbook/figures`, drawn from the [invented demonstration](../datasets/demo/README.md) by",
    "`npm run pictures`, which also writes this page. A figure is SVG text: `onPaper(svg)` makes it a file, `renderPng(svg)` a",
    "PNG. Each title is the finding, made from the data. Colours are those of Okabe and Ito; no meaning rests on them alone.\n",
    ...figures.map(describeFigure),
    "## As PNG\n",
    "PNG needs two packages that siltbook does not bring along, `@resvg/resvg-js` and `dejavu-fonts-ttf`. The letters come from",
    "the second, so a picture is the same on every machine, also on one without fonts. Without them `renderPng` says what to",
    "install; SVG needs neither.",
    "",
  ].join("\n");
}

function describeFigure({ file, heading, words, call, svg }: GalleryFigure): string {
  const title = /aria-label="([^"]*)"/.exec(svg)?.[1] ?? heading;
  return [
    `## ${heading}\n`,
    `${words} \`${call}\`\n`,
    "<picture>",
    `<source media="(prefers-color-scheme: dark)" srcset="pictures/${file}-dark.svg">`,
    `<img src="pictures/${file}.svg" alt="${title}">`,
    "</picture>\n",
  ].join("\n");
}
