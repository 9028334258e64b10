import { sayMinutes } from "../../../circulation/index.js";
import { formatIso4406 } from "../../../cleanliness/index.js";
import {
  isHeld,
  type JudgedCart,
  type JudgedCircuit,
  SAMPLING_STEPS,
  sayAllHolds,
  sayBesideFit,
  sayDecisions,
  sayHolds,
  sayOtherTexts,
  sayStands,
  standsAs,
  type UnreadResult,
} from "../../../fitness/index.js";
import { type LabFile, sayIssue } from "../../../intake/index.js";
import { CART_CAUTIONS, joinAssumptions, saySource } from "../../../provenance/index.js";
import { sayMeasured } from "../../../samples/index.js";
import { drawTable, sayAssumptions, sayCautions, sayHowMany } from "../../text.js";
import { sayHeld } from "./decisions.js";
import type { Judgement, KeptRecord } from "./judgement.js";
import { sayRowsOfNoCart } from "./rows-of-no-cart.js";

/** A judgement as text: the table, what is not fit and why, what could not be read. */
export function sayJudgement(judgement: Judgement): string {
  const { on, requirements, files, collection, circuits, carts, kept, heldElsewhere, rowsOfNoCart } =
    judgement;
  const told = circuits.map((judged, index) => ({ judged, kept: kept[index] }));
  const fit = told.filter(({ judged }) => standsAs(judged) === "fit");
  const notFit = told
    .filter(({ judged }) => standsAs(judged) !== "fit")
    .sort((a, b) => Number(isHeld(b.judged)) - Number(isHeld(a.judged)));
  const assumptions = joinAssumptions(
    ...files.map((file) => file.assumptions),
    collection.assumptions,
    ...circuits.map(({ verdict }) => verdict.assumptions),
  );
  return [
    sayHeld(
      sayAllHolds(
        circuits.map(({ verdict, standing }) => ({ ...verdict, standing })),
        heldElsewhere,
      ),
    ),
    `Judged on ${on} by "${requirements.document}", revision ${requirements.revision}.\n`,
    sayRowsOfNoCart(rowsOfNoCart),
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
    sayWhetherAll(notFit.length, heldElsewhere.length + rowsOfNoCart.length),
    ...notFit.map(({ judged, kept: record }) => sayNotFit(judged, record)),
    fit.length === 0 ? "" : "\nFit, and what would change it:\n",
    ...fit.map(({ judged, kept: record }) => sayFit(judged, record, rowsOfNoCart)),
    ...carts.flatMap(sayPairings),
    notFit.length === 0 ? "" : sayHowToDraw(),
    sayWhereFrom(circuits),
    `\n${files.map((file) => sayFile(file, collection)).join("")}`,
    collection.quarantine.length === 0 ? "" : "\nIn quarantine:\n",
    ...collection.quarantine.flatMap((row) => row.issues.map((issue) => `  ${sayIssue(issue)}\n`)),
    sayAssumptions(assumptions),
    sayCautions(CART_CAUTIONS),
  ].join("");
}

/** Of all circuits together nothing is said while a person holds one, or a row may belong to any of them. */
function sayWhetherAll(notFit: number, open: number): string {
  if (notFit > 0) return "\nNot fit to connect, and why:\n";
  return open > 0 ? "" : "\nEvery circuit is fit to connect.\n";
}

function rowOf(judged: JudgedCircuit): string[] {
  const { verdict } = judged;
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
    sayStands(standsAs(judged), isHeld(judged)),
    circulation === undefined ? "" : circulation.reachable ? sayMinutes(circulation.minutes) : "cannot",
  ];
}

function sayNotFit(judged: JudgedCircuit, record: KeptRecord | undefined): string {
  const { verdict } = judged;
  const { circulation } = verdict;
  const reasons = verdict.reasons.filter((reason) => reason.callsFor !== "fit");
  const plan =
    circulation?.reachable === true
      ? [
          `circulate ${circulation.passes.toFixed(1)} passes, ${sayMinutes(circulation.minutes)}; channel ${circulation.governing} decides`,
        ]
      : [];
  return sayLines(judged, record, [
    ...reasons.map((reason) => reason.message),
    ...plan,
    ...ownSteps(verdict),
    ...(verdict.verdict === "fit" ? [] : verdict.changes).map(
      ({ verdict: then, when }) => `${when}, the other data call for ${then}`,
    ),
    ...crossingsOf(verdict),
  ]);
}

function sayFit(
  judged: JudgedCircuit,
  record: KeptRecord | undefined,
  rowsOfNoCart: readonly UnreadResult[],
): string {
  const { verdict } = judged;
  return sayLines(judged, record, [
    ...sayBesideFit(verdict, rowsOfNoCart),
    ...verdict.changes.map(({ verdict: then, when }) => `${then} ${when}`),
    ...crossingsOf(verdict),
  ]);
}

function sayLines(judged: JudgedCircuit, record: KeptRecord | undefined, lines: readonly string[]): string {
  const { verdict, standing } = judged;
  const before = record?.before;
  const changed =
    before === undefined || before.verdict === verdict.verdict ? "" : ` (${before.verdict} on ${before.on})`;
  const head = isHeld(judged)
    ? `${sayHolds(standing)[0]}; computed: ${verdict.verdict}${changed}`
    : `${verdict.verdict}${changed}`;
  const also = verdict.sample && sayOtherTexts(verdict.sample);
  const otherTexts =
    also === undefined ? [] : [`the report of sample ${verdict.sample?.sample} also says: ${also}`];
  return (
    `  ${verdict.cart}, circuit ${verdict.circuit}: ${head}\n` +
    [...sayDecisions(standing), ...lines, ...otherTexts].map((line) => `    ${line}\n`).join("")
  );
}

/** The steps that belong to this circuit alone: how much to exchange, and what would settle a doubt. */
function ownSteps({ next }: JudgedCircuit["verdict"]): string[] {
  return next.steps.filter(({ source }) => source === "FIRST-ORDER").map(({ text }) => text);
}

function crossingsOf({ outlook, on: judgedOn }: JudgedCircuit["verdict"]): string[] {
  return (outlook?.crossings ?? []).flatMap(({ measure, on, earliest, latest, beforeNextSample }) => {
    if (beforeNextSample === "no") return [];
    const until = latest === undefined ? "with no end that can be told" : `at the latest ${latest}`;
    const when = `about ${on}, at the earliest ${earliest}, ${until}`;
    if (on <= judgedOn) return [`by its trend ${measure} has crossed its limit: ${when}`];
    return [
      `by its trend ${measure} is ${beforeNextSample} to cross its limit before the next sample: ${when}`,
    ];
  });
}

function sayPairings({ cart, pairings, neverMeet }: JudgedCart): string[] {
  return [
    ...pairings.map(({ aircraft, systems }) => {
      const served = systems.map(
        ({ system, circuit, verdict, held }) =>
          `${system} by ${circuit === undefined ? "no circuit" : `circuit ${circuit} (${sayStands(verdict ?? "do-not-connect", held ?? false)})`}`,
      );
      return `${cart} at ${aircraft}: ${served.join(", ")}\n`;
    }),
    ...neverMeet.map(
      ([one, other]) =>
        `${cart}: the fluids of circuits ${one} and ${other} must never meet, nor their hoses\n`,
    ),
  ];
}

function sayHowToDraw(): string {
  return `\nHow to draw a sample:\n${SAMPLING_STEPS.map(({ text, source }) => `  - ${text} (${saySource(source)})\n`).join("")}`;
}

function sayWhereFrom(circuits: readonly JudgedCircuit[]): string {
  const lines = new Set(
    circuits.flatMap(({ requirement }) =>
      Object.entries(requirement?.from ?? {}).map(
        ([field, source]) => `  - ${requirement?.system}, ${field}: ${saySource(source)}\n`,
      ),
    ),
  );
  return lines.size === 0 ? "" : `\nWhere the limits are from:\n${[...lines].join("")}`;
}

function sayFile(file: LabFile, { samples, quarantine }: Judgement["collection"]): string {
  const unused =
    file.unusedColumns.length === 0 ? "" : `; columns not used: ${file.unusedColumns.join(", ")}`;
  // Held against the carts and the other files, more rows may be set aside than by reading the file alone.
  const taken = samples.filter(({ origin }) => origin.some((place) => place.file === file.file)).length;
  const aside = quarantine.filter((row) => row.file === file.file).length;
  return `${file.file}: ${sayHowMany(file.rows, "row")} read, ${sayHowMany(taken, "sample")}, ${aside} in quarantine${unused}\n`;
}
