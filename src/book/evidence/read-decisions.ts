import { type CircuitDecision, type NamedCircuit, plainCircuit } from "../../fitness/index.js";
import { asDecision, type DecisionRow } from "../judging/decisions.js";
import { linesOf, rowOf, writtenVerdict } from "./read-lines.js";
import type { ChainPart } from "./written-lines.js";

/** A decision as entries wrote it. */
export interface WrittenDecision {
  readonly decision: CircuitDecision;
  /** The entry that wrote the decision. */
  readonly entry: number;
  /** The entry that wrote its lifting. */
  readonly liftedIn?: number;
}

type OverrideLine = Omit<DecisionRow, `lifted_${string}`> & { readonly verdict_id: number | null };
/** What the chain hashes for the lifting of a decision that was not lifted. */
const NOT_LIFTED: readonly [of: null | number, at: string | null, by: string, because: string] = [
  null,
  null,
  "",
  "",
];

/**
 * The decisions about one circuit, oldest first, as the entries that are here wrote them.
 *
 * @throws RangeError when they are not what siltbook writes
 */
export function writtenDecisions(part: ChainPart, about: NamedCircuit): WrittenDecision[] {
  const liftings = new Map(linesOf(part, "lifting").map((line) => [line.values[0], line]));
  return linesOf(part, "override")
    .map(({ entry, values }) => ({ entry, row: rowOf<OverrideLine>("override", values) }))
    .filter(({ row }) => plainCircuit(row) === plainCircuit(about))
    .sort((a, b) => a.row.id - b.row.id)
    .map(({ entry, row }) => {
      const madeOn = row.verdict_id === null ? undefined : writtenVerdict(part, row.verdict_id).result;
      const lifting = liftings.get(row.id);
      const [, lifted_at, lifted_by, lifted_because] = (lifting?.values ?? NOT_LIFTED) as typeof NOT_LIFTED;
      return {
        decision: asDecision({ ...row, lifted_at, lifted_by, lifted_because }, madeOn),
        entry,
        ...(lifting !== undefined && { liftedIn: lifting.entry }),
      };
    });
}
