import { isDeepStrictEqual } from "node:util";
import { CountError, type CountSet, cumulativeCounts } from "../../counts/index.js";
import { FIELD_OF_QUANTITY, nameOfCount, type Sample } from "../../samples/index.js";
import { mergeWords } from "./merge-words.js";
import { keyOfWord, statementsOf, wholeFields } from "./statements.js";

/** Two reports of a sample put together, or why they cannot be. */
export type Merge =
  | { readonly kind: "merged"; readonly sample: Sample }
  | { readonly kind: "refused"; readonly expected: string };

type Merged = { -readonly [K in keyof Sample]: Sample[K] };

/**
 * Puts a report of a sample on top of an earlier one: what it says replaces what was said, what it does not mention stays.
 *
 * @param earlier - the sample by the reports before
 * @param later - a further report of the same sample
 */
export function mergeReports(earlier: Sample, later: Sample): Merge {
  const counts = mergeCounts(earlier.counts, later.counts);
  if (counts.kind === "refused") return counts;
  const merged: Merged = { ...earlier, origin: later.origin };
  for (const field of wholeFields(later)) Object.assign(merged, { [field]: later[field] });
  if (later.metalsPpm !== undefined) merged.metalsPpm = { ...earlier.metalsPpm, ...later.metalsPpm };
  if (later.patchTest !== undefined) merged.patchTest = mergePatch(earlier.patchTest, later.patchTest);
  // The calibration of a counter goes with counts: a report of water says nothing of it.
  if (earlier.calibrationDueOn !== undefined && !isOfParticles(later))
    merged.calibrationDueOn = earlier.calibrationDueOn;
  if (later.reportedClasses !== undefined) {
    merged.reportedClasses = mergeClasses(earlier.reportedClasses, later.reportedClasses);
  }
  if (counts.counts !== undefined) merged.counts = counts.counts;
  dropReplaced(merged, earlier, later);
  mergeWords(merged, earlier, later);
  mergeAccepted(merged, earlier, later);
  return { kind: "merged", sample: merged };
}

type Patch = NonNullable<Sample["patchTest"]>;

/** A class comes with its own standard, or with none. */
function mergePatch({ standard, ...earlier }: Patch = {}, later: Patch): Patch {
  return { ...earlier, ...(standard !== undefined && later.class === undefined && { standard }), ...later };
}

function isOfParticles({ counts, limitedCounts, otherScaleCounts, reportedClasses }: Sample): boolean {
  return (counts ?? limitedCounts ?? otherScaleCounts ?? reportedClasses) !== undefined;
}

/** What a person accepted of counts holds for those counts and for no others. */
function mergeAccepted(merged: Merged, earlier: Sample, later: Sample): void {
  const before = isDeepStrictEqual(merged.counts, earlier.counts) ? (earlier.acceptedChecks ?? []) : [];
  const accepted = [...new Set([...before, ...(later.acceptedChecks ?? [])])];
  if (accepted.length > 0) merged.acceptedChecks = accepted;
  else delete merged.acceptedChecks;
}

type Classes = NonNullable<Sample["reportedClasses"]>;

/** A class of another standard is next to the earlier one. */
function mergeClasses(earlier: Classes = [], later: Classes): Classes {
  const now = new Set(later.map(({ standard }) => standard));
  return [...earlier.filter(({ standard }) => !now.has(standard)), ...later];
}

type MergedCounts =
  | { readonly kind: "merged"; readonly counts: CountSet | undefined }
  | { readonly kind: "refused"; readonly expected: string };

function mergeCounts(earlier: CountSet | undefined, later: CountSet | undefined): MergedCounts {
  if (earlier === undefined || later === undefined) return { kind: "merged", counts: later ?? earlier };
  const before = new Map(earlier.counts.map(({ sizeUm, count }) => [sizeUm, count / earlier.volumeMl]));
  const after = new Map(later.counts.map(({ sizeUm, count }) => [sizeUm, count / later.volumeMl]));
  const changes = [...after].some(([size, perMl]) => before.has(size) && before.get(size) !== perMl);
  const onlyBefore = earlier.counts.filter(({ sizeUm }) => !after.has(sizeUm));
  if (onlyBefore.length === 0) {
    const tellsMore = after.size > before.size || later.counting !== undefined;
    return { kind: "merged", counts: changes || tellsMore ? later : earlier };
  }
  if (!changes && after.size + onlyBefore.length === before.size) return { kind: "merged", counts: earlier };
  if (earlier.volumeMl !== later.volumeMl) {
    return {
      kind: "refused",
      expected: `counts for ${earlier.volumeMl} mL, as in the earlier report, or all of its sizes`,
    };
  }
  // Sizes that were counted in two volumes have none in common.
  const counting = isDeepStrictEqual(earlier.counting, later.counting) ? later.counting : undefined;
  try {
    const all = [...onlyBefore, ...later.counts];
    return { kind: "merged", counts: cumulativeCounts(all, later.volumeMl, "um(c)", counting) };
  } catch (error) {
    if (!(error instanceof CountError)) throw error;
    return { kind: "refused", expected: `counts that go with the earlier report (${error.message})` };
  }
}

/** A number, a limit value and a word about one measurand take each other's place. */
function dropReplaced(merged: Merged, earlier: Sample, later: Sample): void {
  const now = statementsOf(later);
  const notNow = (key: string) => !now.has(key);
  setList(merged, "limitedCounts", [
    ...(earlier.limitedCounts ?? []).filter(({ sizeUm }) => notNow(nameOfCount(sizeUm))),
    ...(later.limitedCounts ?? []),
  ]);
  setList(merged, "wordedResults", [
    ...(earlier.wordedResults ?? []).filter(({ measurand }) => notNow(keyOfWord(measurand))),
    ...(later.wordedResults ?? []),
  ]);
  const words = new Set((later.wordedResults ?? []).map(({ measurand }) => keyOfWord(measurand)));
  for (const field of Object.values(FIELD_OF_QUANTITY)) if (words.has(field)) delete merged[field];
  const metals = Object.entries(merged.metalsPpm ?? {}).filter(([metal]) => !words.has(metal));
  if (metals.length > 0) merged.metalsPpm = Object.fromEntries(metals);
  else delete merged.metalsPpm;
  const noNumber = new Set([
    ...words,
    ...(later.limitedCounts ?? []).map(({ sizeUm }) => nameOfCount(sizeUm)),
  ]);
  const counted = merged.counts?.counts.filter(({ sizeUm }) => !noNumber.has(nameOfCount(sizeUm))) ?? [];
  if (merged.counts === undefined || counted.length === merged.counts.counts.length) return;
  if (counted.length > 0) merged.counts = { ...merged.counts, counts: counted };
  else delete merged.counts;
}

function setList<K extends "limitedCounts" | "wordedResults">(
  merged: Merged,
  field: K,
  list: NonNullable<Merged[K]>,
): void {
  if (list.length > 0) merged[field] = list;
  else delete merged[field];
}
