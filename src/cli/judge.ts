import { readFleetOfBook } from "../book/index.js";
import { sayMinutes } from "../circulation/index.js";
import { formatIso4406, sayTarget } from "../cleanliness/index.js";
import { type JudgedCircuit, judgeCarts } from "../fitness/index.js";
import { type Collection, type FleetFiles, type LabFile, readFleetFiles, sayIssue } from "../intake/index.js";
import { CART_CAUTIONS, joinAssumptions } from "../provenance/index.js";
import { type RequirementsFile, sayMeasured } from "../samples/index.js";
import { readDay } from "./arguments.js";
import { classesAsJson } from "./classify.js";
import { type ExitCode, type Io, printJson, UsageError } from "./io.js";
import { planAsJson } from "./plan-json.js";
import { drawTable, sayAssumptions, sayCautions } from "./text.js";

/** Options of `siltbook judge`. */
export interface JudgeOptions {
  readonly book?: string;
  readonly carts?: string;
  readonly requirement?: string;
  readonly on?: string;
  readonly json?: boolean;
}

/** Everything that was read and judged. */
export interface Judgement {
  readonly on: string;
  readonly requirements: RequirementsFile;
  readonly files: readonly LabFile[];
  readonly collection: Collection;
  readonly circuits: readonly JudgedCircuit[];
}

/** Prints a verdict for every circuit of every cart. */
export async function runJudge(
  sampleFiles: readonly string[],
  options: JudgeOptions,
  io: Io,
): Promise<ExitCode> {
  const judgement = await readAndJudge(sampleFiles, options);
  if (options.json) printJson(io, judgementAsJson(judgement));
  else io.out(sayJudgement(judgement));
  return exitCodeOf(judgement);
}

/** Reads the files that the options name and judges every circuit. */
export async function readAndJudge(
  sampleFiles: readonly string[],
  options: JudgeOptions,
): Promise<Judgement> {
  const on = readDay(options.on);
  const fleet = await readFleet(sampleFiles, options);
  const { document: requirements, files } = fleet;
  return { on, requirements, files, collection: fleet, circuits: judgeCarts({ ...fleet, on }) };
}

/** From the book when one is named; otherwise from files. */
async function readFleet(sampleFiles: readonly string[], options: JudgeOptions): Promise<FleetFiles> {
  const { book, carts, requirement } = options;
  if (book === undefined) {
    if (carts === undefined || requirement === undefined || sampleFiles.length === 0) {
      throw new UsageError("expected --carts, --requirement and laboratory files, or --book");
    }
    return readFleetFiles({ carts, requirement, samples: sampleFiles });
  }
  if (sampleFiles.length > 0) {
    throw new UsageError(
      "expected --book or laboratory files, not both; import the files into the book first",
    );
  }
  return readFleetOfBook(book, {
    ...(carts !== undefined && { carts }),
    ...(requirement !== undefined && { requirement }),
  });
}

/** 1 when a circuit is not fit or a row is in quarantine. */
export function exitCodeOf({ circuits, collection }: Judgement): ExitCode {
  const allFit = circuits.every(({ verdict }) => verdict.verdict === "fit");
  return allFit && collection.quarantine.length === 0 ? 0 : 1;
}

/** A judgement as the command line prints it. */
export function judgementAsJson({ on, requirements, files, collection, circuits }: Judgement) {
  return {
    on,
    requirement: {
      document: requirements.document,
      revision: requirements.revision,
      note: requirements.note ?? null,
    },
    circuits: circuits.map(({ verdict, trends, requirement }) => ({
      cart: verdict.cart,
      circuit: verdict.circuit,
      serves: verdict.serves,
      verdict: verdict.verdict,
      reasons: verdict.reasons,
      target: requirement?.cleanliness.map(sayTarget) ?? null,
      sample: verdict.sample ?? null,
      classes: verdict.classification === undefined ? null : classesAsJson(verdict.classification),
      circulation: verdict.circulation === undefined ? null : planAsJson(verdict.circulation),
      trends,
      assumptions: verdict.assumptions,
    })),
    files: files.map((file) => ({
      file: file.file,
      shape: file.shape,
      rows: file.rows,
      samples: file.samples.length,
      quarantined: file.quarantine.length,
      unusedColumns: file.unusedColumns,
    })),
    repeatedSamples: collection.repeated,
    quarantine: collection.quarantine.flatMap((row) =>
      row.issues.map((issue) => ({ ...issue, message: sayIssue(issue), text: row.text })),
    ),
    assumptions: joinAssumptions(...files.map((file) => file.assumptions)),
    cautions: CART_CAUTIONS,
  };
}

/** A judgement as text: the table, what is not fit and why, what could not be read. */
export function sayJudgement(judgement: Judgement): string {
  const { on, requirements, files, collection, circuits } = judgement;
  const notFit = circuits.filter(({ verdict }) => verdict.verdict !== "fit");
  const assumptions = joinAssumptions(
    ...files.map((file) => file.assumptions),
    ...circuits.map(({ verdict }) => verdict.assumptions),
  );
  return [
    `Judged on ${on} by "${requirements.document}", revision ${requirements.revision}.\n`,
    requirements.note === undefined ? "" : `${requirements.note}\n`,
    drawTable(
      [
        "cart",
        "circuit",
        "sample",
        "drawn",
        "ISO 4406",
        "AS4059 cum.",
        "NAS 1638",
        "water ppm",
        "acid",
        "verdict",
        "circulate",
      ],
      circuits.map(rowOf),
    ),
    notFit.length === 0 ? "\nEvery circuit is fit to connect.\n" : "\nNot fit to connect, and why:\n",
    ...notFit.map(sayWhy),
    `\n${files.map(sayFile).join("")}`,
    ...collection.quarantine.flatMap((row) => row.issues.map((issue) => `  ${sayIssue(issue)}\n`)),
    sayAssumptions(assumptions),
    sayCautions(CART_CAUTIONS),
  ].join("");
}

function rowOf({ verdict }: JudgedCircuit): string[] {
  const { sample, classification, circulation } = verdict;
  const iso = classification?.iso4406;
  return [
    verdict.cart,
    verdict.circuit,
    sample?.sample ?? "none",
    sample?.drawnOn ?? "",
    iso === undefined ? "" : formatIso4406(iso),
    classification?.as4059Cumulative?.class ?? "",
    classification?.nas1638?.class ?? "",
    sample?.waterPpm === undefined ? "" : sayMeasured(sample.waterPpm),
    sample?.acidMgKohPerG === undefined ? "" : sayMeasured(sample.acidMgKohPerG),
    verdict.verdict,
    circulation === undefined ? "" : circulation.reachable ? sayMinutes(circulation.minutes) : "cannot",
  ];
}

function sayWhy({ verdict }: JudgedCircuit): string {
  const { circulation } = verdict;
  const reasons = verdict.reasons.filter((reason) => reason.callsFor !== "fit");
  const plan =
    circulation?.reachable === true
      ? `    circulate ${circulation.passes.toFixed(1)} passes, ${sayMinutes(circulation.minutes)}; channel ${circulation.governing} decides\n`
      : "";
  return (
    `  ${verdict.cart}, circuit ${verdict.circuit}: ${verdict.verdict}\n` +
    reasons.map((reason) => `    ${reason.message}\n`).join("") +
    plan
  );
}

function sayFile(file: LabFile): string {
  const unused =
    file.unusedColumns.length === 0 ? "" : `; columns not used: ${file.unusedColumns.join(", ")}`;
  return `${file.file}: ${file.rows} rows read, ${file.samples.length} samples, ${file.quarantine.length} in quarantine${unused}\n`;
}
