import type { SourceKey } from "./sources.js";

/** Something a result rests on that the input did not say. It travels with the result. */
export interface Assumption {
  /** Stable short name, for machines. */
  readonly code: string;
  /** One sentence for a person. */
  readonly message: string;
  readonly source?: SourceKey;
}

/**
 * Joins lists of assumptions and keeps each sentence once, in order of first appearance.
 *
 * @param lists - assumptions of the parts of a result
 * @returns one list without repeats
 */
export function joinAssumptions(...lists: readonly (readonly Assumption[])[]): Assumption[] {
  const seen = new Map<string, Assumption>();
  for (const assumption of lists.flat()) {
    if (!seen.has(assumption.message)) seen.set(assumption.message, assumption);
  }
  return [...seen.values()];
}
