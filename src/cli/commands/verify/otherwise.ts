import type { VerdictComputedOtherwise } from "../../../book/index.js";
import { VERDICT_WORDS } from "../../../fitness/index.js";
import { grouped } from "../../../numeric/index.js";
import { VERSION } from "../../../provenance/index.js";
import { drawLines, formatHowMany } from "../../text.js";
import { indented } from "../../waiting-rows.js";

/** How many lines of one kind are shown; `--json` has all. */
export const MAX_SHOWN = 20;

/** Verdicts that another version computed otherwise, and what to make of them. */
export function describeOtherwise(verdicts: readonly VerdictComputedOtherwise[]): string[] {
  if (verdicts.length === 0) return [];
  const lists = [...grouped(verdicts, ({ version }) => version)].map(([version, all]) =>
    [
      `Made by siltbook ${version}, computed otherwise by ${VERSION}: ${formatHowMany(all.length, "verdict")}\n`,
      indented([
        ...all.slice(0, MAX_SHOWN).map(describeVerdict),
        ...(all.length > MAX_SHOWN ? [`and ${all.length - MAX_SHOWN} more; --json lists all`] : []),
      ]),
    ].join(""),
  );
  return [...lists, drawLines(WHAT_TO_MAKE_OF_IT)];
}

const WHAT_TO_MAKE_OF_IT = [
  "The chain has these verdicts as they were written, so this alone is no sign of a forgery: a rule of siltbook has changed " +
    "between the versions, and its changelog says which. The version that made a verdict can compute it again.",
  "Compare the head with a page that was printed then: who owns the book can write another version into it and make a new chain.",
  "Judge the circuits again before anybody goes by one of these verdicts.",
];

function describeVerdict({ number, entry, cart, circuit, on, recorded, today }: VerdictComputedOtherwise) {
  const then = VERDICT_WORDS[recorded];
  const what =
    today === null
      ? `"${then}" then, and cannot be computed now`
      : today === recorded
        ? `"${then}" then and now, with other reasons or figures`
        : `"${then}" then, "${VERDICT_WORDS[today]}" now`;
  return `verdict ${number} of cart ${cart}, circuit ${circuit}, judged for ${on} (entry ${entry}): ${what}`;
}
