import { basename } from "node:path";
import { parseCartsFile, textOnDisk } from "../../../intake/index.js";
import { labelsOf, renderLabels } from "../../../report/index.js";
import { type Cart, FILLED_FROM, findNamed, type SamplePoint } from "../../../samples/index.js";
import { answerOf } from "../../answer.js";
import { type ExitCode, type Io, printJson, UsageError } from "../../io.js";
import { formatHowMany } from "../../text.js";
import { mustBeOther, writeWhole } from "../../whole-file.js";
import { cartsAskedFor } from "../judge/judgement.js";

/** Options of `siltbook labels`. */
export interface LabelsOptions {
  readonly book?: string;
  readonly carts?: string;
  readonly cart?: string;
  readonly circuit?: string;
  readonly bottles?: string;
  readonly first?: string;
  readonly point?: string;
  readonly out: string;
  readonly json?: boolean;
}

/** Writes labels for bottles. */
export async function runLabels(options: LabelsOptions, io: Io): Promise<ExitCode> {
  const { out, book, carts: cartsFile, first } = options;
  mustBeOther("--out", out, [book, cartsFile]);
  const { carts, used } = await readCartsOf(options);
  const wanted = cartsAskedFor({ carts }, options.cart);
  const point = readPoint(options.point);
  const input = {
    carts: options.circuit === undefined ? wanted : withCircuit(wanted, options.circuit),
    bottles: readBottles(options.bottles),
    ...(first !== undefined && { first }),
    ...(point !== undefined && { point }),
  };
  const labels = labelsOf(input);
  const taken = labels.find(({ number }) => number !== undefined && used.has(number));
  if (taken !== undefined) {
    throw new UsageError(
      `--first: number "${taken.number}" is that of a sample in the book; expected new numbers`,
    );
  }
  await writeWhole("--out", out, [renderLabels(input)]);
  if (options.json) printJson(io, answerOf("labels", { out, labels }));
  else io.out(`${formatHowMany(labels.length, "label")} in ${out}, ten on a page of A4\n`);
  return 0;
}

/** The carts, and the numbers of samples that a book holds. */
async function readCartsOf({
  book: path,
  carts,
  first,
}: LabelsOptions): Promise<{ carts: readonly Cart[]; used: ReadonlySet<string> }> {
  if ((path === undefined) === (carts === undefined)) throw new UsageError("expected --book or --carts");
  if (carts !== undefined) {
    return { carts: parseCartsFile(basename(carts), textOnDisk(carts)).carts, used: new Set() };
  }
  const { Book } = await import("../../../book/index.js");
  const book = Book.open(path as string);
  try {
    const numbers = first === undefined ? [] : Array.from(book.samples(), ({ sample }) => sample);
    return { carts: book.carts(), used: new Set(numbers) };
  } finally {
    book.close();
  }
}

/** The one circuit of each cart that has it. */
function withCircuit(carts: readonly Cart[], name: string): Cart[] {
  const having = carts.flatMap((cart) => {
    const found = findNamed(cart.circuits, ({ circuit }) => circuit, name);
    return found === undefined ? [] : [{ ...cart, circuits: [found] }];
  });
  if (having.length > 0) return having;
  const known = [...new Set(carts.flatMap(({ circuits }) => circuits.map(({ circuit }) => circuit)))];
  throw new UsageError(`--circuit: there is no circuit "${name}"; known are ${known.join(", ")}`);
}

function readBottles(text = "1"): number {
  if (/^\d{1,4}$/.test(text.trim())) return Number(text);
  throw new UsageError(`--bottles: expected a whole number such as 2, found "${text}"`);
}

function readPoint(text: string | undefined): SamplePoint | undefined {
  if (text === undefined) return undefined;
  const point = FILLED_FROM.find((one) => one === text.trim().toLowerCase().replaceAll(" ", "-"));
  if (point !== undefined) return point;
  throw new UsageError(`--point: expected one of ${FILLED_FROM.join(", ")}, found "${text}"`);
}
