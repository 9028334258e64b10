import {
  briefOf,
  describeAllHolds,
  describeBesideFit,
  describeSpreadUsed,
  type JudgedCircuit,
  standsAs,
  type UnreadResult,
  VERDICT_WORDS,
} from "../../../fitness/index.js";
import { describeDays } from "../../day.js";
import { describeMore, drawLines, drawList, formatHowMany } from "../../text.js";
import { describeHeld } from "./decisions.js";
import { describeHead } from "./head.js";
import { assumptionsOf } from "./judge-words.js";
import type { Judgement, KeptRecord } from "./judgement.js";
import { describeRowsOfNoCart } from "./rows-of-no-cart.js";

/** How many circuits are fit, and what is not settled. */
export function describeFindings(judgement: Judgement): string {
  return describeHeadline(judgement, []);
}

function describeHeadline(judgement: Judgement, notes: readonly string[]): string {
  const { requirements, circuits, heldElsewhere, rowsOfNoCart, collection } = judgement;
  const fit = circuits.filter((judged) => standsAs(judged) === "fit").length;
  const { quarantine } = collection;
  const files = [...new Set(quarantine.map(({ file }) => file))].join(", ");
  return (
    describeHeld(
      describeAllHolds(
        circuits.map(({ verdict, standing }) => ({ ...verdict, standing })),
        heldElsewhere,
      ),
    ) +
    describeRowsOfNoCart(rowsOfNoCart) +
    drawLines([
      `${fit} of ${formatHowMany(circuits.length, "circuit")} fit to connect on ${describeDays(judgement)}, by "${requirements.document}", ` +
        `revision ${requirements.revision}.`,
      ...notes,
      ...(files === "" ? [] : [`${formatHowMany(quarantine.length, "row")} in quarantine: ${files}.`]),
    ])
  );
}

/** A judgement in a screenful: what to do with each circuit, and why. */
export function describeJudgementInBrief(judgement: Judgement): string {
  const { circuits, kept, rowsOfNoCart, requirements } = judgement;
  return [
    describeHeadline(judgement, requirements.note === undefined ? [] : [requirements.note]),
    "\n",
    drawList(circuits.map((judged, index) => entryOf(judged, kept[index], rowsOfNoCart))),
    "\n",
    describeHead(judgement),
    drawLines(describeSpreadUsed(circuits.flatMap(({ verdict }) => verdict.assumptions))),
    describeMore("every reason, sources, how to sample", assumptionsOf(judgement)),
  ].join("");
}

function entryOf(
  judged: JudgedCircuit,
  record: KeptRecord | undefined,
  rowsOfNoCart: readonly UnreadResult[],
): readonly [string, readonly string[]] {
  const { action, why } = briefOf(judged);
  const { verdict } = judged;
  const before = record?.before;
  const changed =
    before === undefined || before.verdict === verdict.verdict
      ? ""
      : ` (${before.on}: ${VERDICT_WORDS[before.verdict]})`;
  const doubts = verdict.verdict === "fit" ? describeBesideFit(verdict, rowsOfNoCart) : [];
  return [`${verdict.cart} ${verdict.circuit}`, [`${action}${changed}`, ...why, ...doubts]];
}
