import { sayMinutes } from "../circulation/index.js";
import { formatIso4406 } from "../cleanliness/index.js";
import { type JudgedCart, type JudgedCircuit, SAMPLING_STEPS, type Verdict } from "../fitness/index.js";
import { type LabFile, sayIssue } from "../intake/index.js";
import { CART_CAUTIONS, joinAssumptions, saySource } from "../provenance/index.js";
import { sayMeasured } from "../samples/index.js";
import type { Judgement, KeptRecord } from "./judgement.js";
import { drawTable, sayAssumptions, sayCautions, sayHowMany } from "./text.js";

/** A judgement as text: the table, what is not fit and why, what could not be read. */
export function sayJudgement(judgement: Judgement): string {
  const { on, requirements, files, collection, circuits, carts, kept } = judgement;
  const told = circuits.map((judged, index) => ({ judged, kept: kept[index] }));
  const notFit = told.filter(({ judged }) => judged.verdict.verdict !== "fit");
  const fit = told.filter(({ judged }) => judged.verdict.verdict === "fit");
  const assumptions = joinAssumptions(
    ...files.map((file) => file.assumptions),
    collection.assumptions,
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
    ...notFit.map(({ judged, kept: record }) => sayNotFit(judged, record)),
    fit.length === 0 ? "" : "\nFit, and what would change it:\n",
    ...fit.map(({ judged, kept: record }) => sayFit(judged, record)),
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

function sayNotFit({ verdict }: JudgedCircuit, record: KeptRecord | undefined): string {
  const { circulation } = verdict;
  const reasons = verdict.reasons.filter((reason) => reason.callsFor !== "fit");
  const plan =
    circulation?.reachable === true
      ? [
          `circulate ${circulation.passes.toFixed(1)} passes, ${sayMinutes(circulation.minutes)}; channel ${circulation.governing} decides`,
        ]
      : [];
  return sayLines(verdict, record, [
    ...reasons.map((reason) => reason.message),
    ...plan,
    ...ownSteps(verdict),
    ...verdict.changes.map(({ verdict: then, when }) => `${when}, the other data call for ${then}`),
    ...crossingsOf(verdict),
  ]);
}

function sayFit({ verdict }: JudgedCircuit, record: KeptRecord | undefined): string {
  return sayLines(verdict, record, [
    ...verdict.changes.map(({ verdict: then, when }) => `${then} ${when}`),
    ...crossingsOf(verdict),
  ]);
}

function sayLines(verdict: Verdict, record: KeptRecord | undefined, lines: readonly string[]): string {
  const before = record?.before;
  const changed =
    before === undefined || before.verdict === verdict.verdict ? "" : ` (${before.verdict} on ${before.on})`;
  const overrides = (record?.verdict.overrides ?? []).map(
    ({ person, decision, reason, at }) =>
      `overridden to ${decision} by ${person} on ${at.slice(0, 10)}: ${reason}; the verdict stays as computed`,
  );
  return (
    `  ${verdict.cart}, circuit ${verdict.circuit}: ${verdict.verdict}${changed}\n` +
    [...lines, ...overrides].map((line) => `    ${line}\n`).join("")
  );
}

/** The steps that belong to this circuit alone: how much to exchange, and what would settle a doubt. */
function ownSteps({ next }: Verdict): string[] {
  return next.steps.filter(({ source }) => source === "FIRST-ORDER").map(({ text }) => text);
}

function crossingsOf({ outlook, on: judgedOn }: Verdict): string[] {
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
        ({ system, circuit, verdict }) =>
          `${system} by ${circuit === undefined ? "no circuit" : `circuit ${circuit} (${verdict})`}`,
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
