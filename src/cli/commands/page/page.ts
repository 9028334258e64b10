import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { dayAfter } from "../../../fitness/index.js";
import { MAX_DATA_AGE_DAYS, pageDataOf, renderPage } from "../../../page/index.js";
import { SHORT_DEFERENCE } from "../../../provenance/index.js";
import { answerOf } from "../../answer.js";
import { cartsInUnits } from "../../carts-in-units.js";
import { readDay } from "../../day.js";
import { type ExitCode, type Io, printJson } from "../../io.js";
import { drawLines, formatHowMany } from "../../text.js";
import { readUnits } from "../../units-option.js";
import { mustBeOther, writeWhole } from "../../whole-file.js";
import { cartsAskedFor, type JudgeOptions, readFleet } from "../judge/judgement.js";

/** Options of `siltbook page`. */
export interface PageOptions extends Omit<JudgeOptions, "explain"> {
  readonly out: string;
}

/** The program of the page, which `npm run build` bundles. */
const PROGRAM = join(
  dirname(createRequire(import.meta.url).resolve("siltbook/package.json")),
  "dist/page/app.js",
);

/** Writes the hangar page. */
export async function runPage(
  sampleFiles: readonly string[],
  options: PageOptions,
  io: Io,
): Promise<ExitCode> {
  const { out, book, carts: cartsFile, requirement, map } = options;
  mustBeOther("--out", out, [book, cartsFile, requirement, map, ...sampleFiles]);
  const on = readDay(options.on);
  const read = await readFleet(sampleFiles, options, { on });
  const carts = cartsInUnits(cartsAskedFor(read, options.cart), readUnits(options.units));
  const data = pageDataOf({ ...read, carts }, on);
  const html = renderPage(data, readFileSync(PROGRAM, "utf8"));
  await writeWhole("--out", out, [html]);
  const circuits = data.carts.reduce((sum, cart) => sum + cart.circuits.length, 0);
  const goodUntil = dayAfter(on, MAX_DATA_AGE_DAYS);
  if (options.json) {
    const written = { carts: data.carts.length, circuits, samples: data.samples.length };
    printJson(
      io,
      answerOf("page", {
        out,
        on,
        goodUntil,
        ...written,
        unread: data.unread.length,
        bytes: Buffer.byteLength(html),
      }),
    );
  } else {
    io.out(
      drawLines([
        `The page is in ${out}: ${formatHowMany(circuits, "circuit")} of ${formatHowMany(data.carts.length, "cart")}, data of ${on}.`,
        `It works without a network, and calls nothing fit after ${goodUntil}.`,
        ...(data.unread.length === 0
          ? []
          : [`${formatHowMany(data.unread.length, "row")} could not be read and may be a newer result.`]),
        SHORT_DEFERENCE,
      ]),
    );
  }
  return data.unread.length === 0 ? 0 : 1;
}
