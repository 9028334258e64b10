import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { checkNumbers } from "../../numeric/index.js";
import { DARK_PAPER, IN_THE_DARK, PAPER } from "./ink.js";

/** Ink and paper of a saved picture. */
export type Paper = "light" | "dark";

const PAPERS = {
  light: { ink: "#1c1c1c", paper: PAPER },
  dark: { ink: "#ececec", paper: DARK_PAPER },
} as const;

/** The packages that make PNG pictures are not there. */
export class PictureError extends Error {
  override readonly name = "PictureError";
}

/**
 * Puts a picture on paper of its own, for saving it as a file: a picture in a page takes the page's ink and paper, which a
 * file does not have.
 *
 * @param svg - SVG text of any figure of this module
 * @param paper - dark ink on white, or light ink on near-black
 * @returns SVG text that can be saved
 */
export function onPaper(svg: string, paper: Paper = "light"): string {
  const { ink, paper: ground } = PAPERS[paper];
  const inked =
    paper === "light"
      ? svg
      : IN_THE_DARK.reduce((text, [light, dark]) => text.replaceAll(`"${light}"`, `"${dark}"`), svg);
  return inked.replace("background:none", `background:${ground};color:${ink}`);
}

/** What this module uses of the package that turns SVG into PNG. */
interface Renderer {
  readonly Resvg: new (svg: string, options: object) => { render(): { asPng(): Uint8Array } };
}

/**
 * Renders a picture as PNG.
 *
 * The letters come from a font in a package and never from the machine, so that a picture is the same everywhere and has
 * words on a machine without fonts.
 *
 * @param svg - SVG text of any figure of this module
 * @param options - paper, and pixels for each pixel of the SVG (2 when absent)
 * @returns the bytes of a PNG file
 * @throws PictureError when the packages @resvg/resvg-js and dejavu-fonts-ttf are not installed
 */
export function renderPng(
  svg: string,
  options: { readonly paper?: Paper; readonly scale?: number } = {},
): Uint8Array {
  const { paper = "light", scale = 2 } = options;
  checkNumbers("positive", { scale });
  const fonts = dirname(resolveOptional("dejavu-fonts-ttf/package.json"));
  const { Resvg } = createRequire(import.meta.url)(resolveOptional("@resvg/resvg-js")) as Renderer;
  const picture = new Resvg(onPaper(svg, paper), {
    background: PAPERS[paper].paper,
    fitTo: { mode: "zoom", value: scale },
    font: {
      loadSystemFonts: false,
      fontFiles: ["DejaVuSans.ttf", "DejaVuSans-Bold.ttf"].map((file) => join(fonts, "ttf", file)),
      defaultFontFamily: "DejaVu Sans",
      sansSerifFamily: "DejaVu Sans",
    },
  });
  return picture.render().asPng();
}

function resolveOptional(name: string): string {
  try {
    return createRequire(import.meta.url).resolve(name);
  } catch (error) {
    throw new PictureError(
      "PNG pictures need two packages that siltbook does not bring along: npm install @resvg/resvg-js@2.6.2 dejavu-fonts-ttf@2.37.3",
      { cause: error },
    );
  }
}
