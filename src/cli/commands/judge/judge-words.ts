import {
  circulationLines,
  describeAllHolds,
  describeBesideFit,
  describeClearing,
  describeCrossings,
  describeDecisions,
  describeHolds,
  describeOtherBottles,
  describeOtherTexts,
  describeStands,
  exchangeLines,
  isHeld,
  type JudgedCart,
  type JudgedCircuit,
  samplingSteps,
  separateFit,
  standsAs,
  type UnreadResult,
  VERDICT_WORDS,
  verdictColumns,
} from "../../../fitness/index.js";
import { describeIssue, type LabFile } from "../../../intake/index.js";
import {
  type Assumption,
  CART_CAUTIONS,
  describeSource,
  joinAssumptions,
} from "../../../provenance/index.js";
import { describeDays } from "../../day.js";
import { describeAssumptions, describeCautions, drawTable, formatHowMany } from "../../text.js";
import { describeHeld } from "./decisions.js";
import { describeHead } from "./head.js";
import type { Judgement, KeptRecord } from "./judgement.js";
import { describeRowsOfNoCart } from "./rows-of-no-cart.js";

const COLUMNS = verdictColumns([
  "cart",
  "circuit",
  "sample",
  "drawn",
  "iso4406",
  "as4059",
  "nas1638",
  "water",
  "acid",
  "verdict",
  "circulate",
]);

/** A judgement as text: the table, what is not fit and why, what could not be read. */
export function describeJudgement(judgement: Judgement): string {
  const { requirements, files, collection, circuits, carts, kept, heldElsewhere, rowsOfNoCart } = judgement;
  const { fit, notFit } = separateFit(circuits.map((judged, index) => ({ ...judged, kept: kept[index] })));
  return [
    describeHeld(
      describeAllHolds(
        circuits.map(({ verdict, standing }) => ({ ...verdict, standing })),
        heldElsewhere,
      ),
    ),
    `Judged on ${describeDays(judgement)}, by "${requirements.document}", revision ${requirements.revision}.\n`,
    describeRowsOfNoCart(rowsOfNoCart),
    requirements.note === undefined ? "" : `${requirements.note}\n`,
    drawTable(
      COLUMNS.map(({ title }) => title),
      circuits.map((judged) => COLUMNS.map(({ of }) => of(judged) ?? "")),
      2,
    ),
    describeWhetherAll(notFit.length, heldElsewhere.length + rowsOfNoCart.length),
    ...notFit.map((judged) => describeNotFit(judged, judged.kept)),
    fit.length === 0 ? "" : "\nFit, and what would change it:\n",
    ...fit.map((judged) => describeFit(judged, judged.kept, rowsOfNoCart)),
    ...carts.flatMap(describePairings),
    notFit.length === 0 ? "" : describeHowToDraw(notFit),
    describeWhereFrom(circuits),
    `\n${files.map((file) => describeFile(file, collection)).join("")}`,
    collection.quarantine.length === 0 ? "" : "\nIn quarantine:\n",
    ...collection.quarantine.flatMap((row) => row.issues.map((issue) => `  ${describeIssue(issue)}\n`)),
    describeHead(judgement),
    describeAssumptions(assumptionsOf(judgement)),
    describeCautions(CART_CAUTIONS),
  ].join("");
}

/** What all verdicts together rest on. */
export function assumptionsOf({ files, collection, circuits }: Judgement): Assumption[] {
  return joinAssumptions(
    ...files.map((file) => file.assumptions),
    collection.assumptions,
    ...circuits.map(({ verdict }) => verdict.assumptions),
  );
}

/** Of all circuits together nothing is said while a person holds one, or a row may belong to any of them. */
function describeWhetherAll(notFit: number, open: number): string {
  if (notFit > 0) return "\nNot fit to connect, and why:\n";
  return open > 0 ? "" : "\nEvery circuit is fit to connect.\n";
}

function describeNotFit(judged: JudgedCircuit, record: KeptRecord | undefined): string {
  const { verdict, circuit } = judged;
  const reasons = verdict.reasons.filter((reason) => reason.callsFor !== "fit");
  return formatLines(judged, record, [
    ...reasons.map((reason) => reason.message),
    ...circulationLines(verdict, circuit),
    ...exchangeLines(verdict.next),
    ...(verdict.verdict === "fit" ? [] : verdict.changes).map(describeClearing),
    ...describeCrossings(verdict),
  ]);
}

function describeFit(
  judged: JudgedCircuit,
  record: KeptRecord | undefined,
  rowsOfNoCart: readonly UnreadResult[],
): string {
  const { verdict } = judged;
  return formatLines(judged, record, [
    ...describeBesideFit(verdict, rowsOfNoCart),
    ...verdict.changes.map(({ verdict: then, when }) => `${VERDICT_WORDS[then]} ${when}`),
    ...describeCrossings(verdict),
  ]);
}

function formatLines(
  judged: JudgedCircuit,
  record: KeptRecord | undefined,
  lines: readonly string[],
): string {
  const { verdict, standing } = judged;
  const before = record?.before;
  const changed =
    before === undefined || before.verdict === verdict.verdict
      ? ""
      : ` (${VERDICT_WORDS[before.verdict]} on ${before.on})`;
  const head = isHeld(judged)
    ? `${describeHolds(standing)[0]}; computed: ${VERDICT_WORDS[verdict.verdict]}${changed}`
    : `${VERDICT_WORDS[standsAs(judged)]}${changed}`;
  const { sample, otherSamples = [] } = verdict;
  const otherTexts = [...(sample === undefined ? [] : [sample]), ...otherSamples].flatMap((bottle) => {
    const also = describeOtherTexts(bottle);
    return also === undefined ? [] : [`the report of sample ${bottle.sample} also says: ${also}`];
  });
  return (
    `  ${verdict.cart}, circuit ${verdict.circuit}: ${head}\n` +
    [...describeDecisions(standing), ...lines, ...describeOtherBottles(verdict), ...otherTexts]
      .map((line) => `    ${line}\n`)
      .join("")
  );
}

function describePairings({ cart, pairings, neverMeet }: JudgedCart): string[] {
  return [
    ...pairings.map(({ aircraft, systems }) => {
      const served = systems.map(
        ({ system, circuit, verdict, held }) =>
          `${system} by ${circuit === undefined ? "no circuit" : `circuit ${circuit} (${describeStands(verdict ?? "do-not-connect", held ?? false)})`}`,
      );
      return `${cart} at ${aircraft}: ${served.join(", ")}\n`;
    }),
    ...neverMeet.map(
      ([one, other]) =>
        `${cart}: the fluids of circuits ${one} and ${other} must never meet, nor their hoses\n`,
    ),
  ];
}

function describeHowToDraw(notFit: readonly JudgedCircuit[]): string {
  const steps = [...new Set(notFit.flatMap(({ circuit }) => samplingSteps(circuit)))];
  return `\nHow to draw a sample:\n${steps.map(({ text, source }) => `  - ${text} (${describeSource(source)})\n`).join("")}`;
}

function describeWhereFrom(circuits: readonly JudgedCircuit[]): string {
  const lines = new Set(
    circuits.flatMap(({ requirement }) =>
      Object.entries(requirement?.from ?? {}).map(
        ([field, source]) => `  - ${requirement?.system}, ${field}: ${describeSource(source)}\n`,
      ),
    ),
  );
  return lines.size === 0 ? "" : `\nWhere the limits are from:\n${[...lines].join("")}`;
}

function describeFile(file: LabFile, { samples, quarantine }: Judgement["collection"]): string {
  const unused =
    file.unusedColumns.length === 0 ? "" : `; columns not used: ${file.unusedColumns.join(", ")}`;
  // Held against the carts and the other files, more rows may be set aside than by reading the file alone.
  const taken = samples.filter(({ origin }) => origin.some((place) => place.file === file.file)).length;
  const aside = quarantine.filter((row) => row.file === file.file).length;
  return `${file.file}: ${formatHowMany(file.rows, "row")} read, ${formatHowMany(taken, "sample")}, ${aside} in quarantine${unused}\n`;
}
