import { describeTargets, isHeld, type JudgedCircuit, nextUnder, standsAs } from "../../../fitness/index.js";
import { describeIssue } from "../../../intake/index.js";
import { CART_CAUTIONS, describeSource, joinAssumptions } from "../../../provenance/index.js";
import { goByAsJson, planAsJson } from "../circulate/plan-json.js";
import { classesAsJson } from "../classify/classify.js";
import { circuitDecisionAsJson, decisionsAsJson } from "./decisions.js";
import type { Judgement, KeptRecord } from "./judgement.js";
import { rowsOfNoCartAsJson } from "./rows-of-no-cart.js";

/** A judgement as the command line prints it: what is absent is null. */
export function judgementAsJson(judgement: Judgement) {
  const { on, asOf, requirements, files, collection, circuits, carts, kept, heldElsewhere, rowsOfNoCart } =
    judgement;
  return {
    on,
    asOf: asOf ?? null,
    requirement: {
      document: requirements.document,
      revision: requirements.revision,
      note: requirements.note ?? null,
    },
    circuits: circuits.map((judged, index) => circuitAsJson(judged, kept[index])),
    head: judgement.head ?? null,
    notKept: judgement.notKept ?? null,
    carts: carts.map(({ cart, verdict, pairings, neverMeet }) => ({ cart, verdict, pairings, neverMeet })),
    heldElsewhere: heldElsewhere.map(circuitDecisionAsJson),
    rowsOfNoCart: rowsOfNoCartAsJson(rowsOfNoCart),
    files: files.map((file) => ({
      file: file.file,
      shape: file.shape,
      rows: file.rows,
      samples: file.samples.length,
      quarantined: file.quarantine.length,
      unusedColumns: file.unusedColumns,
    })),
    repeatedSamples: collection.repeated,
    quarantine: collection.quarantine.flatMap(({ text, issues }) =>
      issues.map((issue) => Object.assign({}, issue, { message: describeIssue(issue), text })),
    ),
    assumptions: joinAssumptions(...files.map((file) => file.assumptions), collection.assumptions),
    cautions: CART_CAUTIONS,
  };
}

function circuitAsJson(judged: JudgedCircuit, kept: KeptRecord | undefined) {
  const { verdict, trends, requirement } = judged;
  const from = Object.entries(requirement?.from ?? {});
  return {
    cart: verdict.cart,
    circuit: verdict.circuit,
    serves: verdict.serves,
    verdict: verdict.verdict,
    stands: standsAs(judged),
    held: isHeld(judged),
    ...decisionsAsJson(judged.standing),
    reasons: verdict.reasons,
    target: requirement === undefined ? null : describeTargets(requirement),
    sample: verdict.sample ?? null,
    otherSamples: verdict.otherSamples ?? [],
    classes: verdict.classification === undefined ? null : classesAsJson(verdict.classification),
    circulation:
      verdict.circulation === undefined
        ? null
        : { ...planAsJson(verdict.circulation), quoted: goByAsJson(verdict.goBy) },
    assessed: verdict.assessed,
    together: verdict.together ?? null,
    next: nextUnder(judged),
    changes: verdict.changes,
    outlook: verdict.outlook ?? null,
    limitsFrom: from.map(([field, source]) => ({ field, source, says: describeSource(source) })),
    before: kept?.before === undefined ? null : { on: kept.before.on, verdict: kept.before.verdict },
    overrides: kept?.verdict?.overrides ?? [],
    record:
      kept?.verdict === undefined
        ? null
        : { number: kept.verdict.id, resultSha256: kept.verdict.resultSha256, inputs: kept.verdict.inputs },
    trends,
    assumptions: verdict.assumptions,
  };
}
