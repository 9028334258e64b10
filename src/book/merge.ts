import { isDeepStrictEqual } from "node:util";
import { CountError, type CountSet, cumulativeCounts } from "../counts/index.js";
import { resultsOf, type Sample } from "../samples/index.js";
import { mergeWords } from "./merge-words.js";

/** What a second report of a sample does to the first. */
export type Merge =
  | { readonly kind: "same" }
  /** Nothing that was reported is contradicted; some results are new. */
  | { readonly kind: "adds"; readonly sample: Sample }
  /** Some results are others now. */
  | { readonly kind: "changes"; readonly sample: Sample }
  | { readonly kind: "refused"; readonly expected: string };

type Merged = { -readonly [K in keyof Sample]: Sample[K] };

const WHOLE_FIELDS = [
  "drawnOn",
  "drawnTime",
  "receivedOn",
  "reportedOn",
  "fluid",
  "fluidTemperatureC",
  "waterPpm",
  "acidMgKohPerG",
  "viscosity40Mm2PerS",
  "density15KgPerM3",
  "chlorinePpm",
  "replicates",
  "blank",
  "samplePoint",
  "flowing",
  "appearance",
  "colour",
  "reportedClasses",
  "otherScaleCounts",
] as const satisfies readonly (keyof Sample)[];

/**
 * Puts a second report of a sample together with the first. What the second does not mention stays.
 *
 * @param earlier - the sample as it stands
 * @param later - another report of the same sample
 */
export function mergeSamples(earlier: Sample, later: Sample): Merge {
  const counts = mergeCounts(earlier.counts, later.counts);
  if (counts.kind === "refused") return counts;
  const changed = WHOLE_FIELDS.filter(
    (field) => later[field] !== undefined && !isDeepStrictEqual(later[field], earlier[field]),
  );
  const merged: Merged = { ...earlier };
  for (const field of changed) Object.assign(merged, { [field]: later[field] });
  if (later.metalsPpm !== undefined) merged.metalsPpm = { ...earlier.metalsPpm, ...later.metalsPpm };
  if (counts.counts !== undefined) merged.counts = counts.counts;
  mergeLimited(merged, earlier, later);
  const saysLess = mergeWords(merged, earlier, later);
  const accepted = acceptedAfter(merged, earlier, later);
  if (accepted.length > 0) merged.acceptedChecks = accepted;
  else delete merged.acceptedChecks;
  if (isDeepStrictEqual(resultsOf(merged), resultsOf(earlier))) {
    if (accepted.length === (earlier.acceptedChecks ?? []).length) return { kind: "same" };
    return { kind: "adds", sample: { ...merged, origin: later.origin } };
  }
  const adds =
    !counts.changes &&
    !saysLess &&
    changed.every((field) => earlier[field] === undefined) &&
    // What was said of a metal stands there still.
    isDeepStrictEqual({ ...merged.metalsPpm, ...earlier.metalsPpm }, { ...merged.metalsPpm }) &&
    earlier.limitedCounts === undefined &&
    earlier.wordedResults === undefined;
  return { kind: adds ? "adds" : "changes", sample: { ...merged, origin: later.origin } };
}

/** What a person accepted of counts holds for those counts and for no others. */
function acceptedAfter(merged: Sample, earlier: Sample, later: Sample): string[] {
  const before = isDeepStrictEqual(merged.counts, earlier.counts) ? (earlier.acceptedChecks ?? []) : [];
  return [...new Set([...before, ...(later.acceptedChecks ?? [])])];
}

type MergedCounts =
  | { readonly kind: "merged"; readonly counts: CountSet | undefined; readonly changes: boolean }
  | { readonly kind: "refused"; readonly expected: string };

function mergeCounts(earlier: CountSet | undefined, later: CountSet | undefined): MergedCounts {
  if (earlier === undefined || later === undefined) {
    return { kind: "merged", counts: later ?? earlier, changes: false };
  }
  const before = new Map(earlier.counts.map(({ sizeUm, count }) => [sizeUm, count / earlier.volumeMl]));
  const after = new Map(later.counts.map(({ sizeUm, count }) => [sizeUm, count / later.volumeMl]));
  const changes = [...after].some(([size, perMl]) => before.has(size) && before.get(size) !== perMl);
  const onlyBefore = earlier.counts.filter(({ sizeUm }) => !after.has(sizeUm));
  if (onlyBefore.length === 0) {
    const tellsMore =
      after.size > before.size || (later.counting !== undefined && earlier.counting === undefined);
    return { kind: "merged", counts: changes || tellsMore ? later : earlier, changes };
  }
  if (!changes && after.size + onlyBefore.length === before.size)
    return { kind: "merged", counts: earlier, changes };
  if (earlier.volumeMl !== later.volumeMl) {
    return {
      kind: "refused",
      expected: `counts for ${earlier.volumeMl} mL, as in the earlier report, or all of its sizes`,
    };
  }
  try {
    return {
      kind: "merged",
      counts: cumulativeCounts([...onlyBefore, ...later.counts], later.volumeMl),
      changes,
    };
  } catch (error) {
    if (!(error instanceof CountError)) throw error;
    return { kind: "refused", expected: `counts that go with the earlier report (${error.message})` };
  }
}

/** The fields of the measurands that a report may also give in words. */
const FIELD_OF_WORD = {
  water: "waterPpm",
  "acid number": "acidMgKohPerG",
  "viscosity at 40 °C": "viscosity40Mm2PerS",
  "density at 15 °C": "density15KgPerM3",
  chlorine: "chlorinePpm",
} as const satisfies Record<string, keyof Sample>;

/** The measurands that a report gives as numbers, by the words of a report in words. */
function measurandsOf(sample: Sample): string[] {
  return [
    ...Object.entries(FIELD_OF_WORD).flatMap(([word, field]) => (sample[field] === undefined ? [] : [word])),
    ...Object.keys(sample.metalsPpm ?? {}),
    ...(sample.counts?.counts.map(({ sizeUm }) => `count above ${sizeUm} µm(c)`) ?? []),
  ];
}

/** Takes out the number of a measurand that a later report gives in words. */
function dropNumber(merged: Merged, measurand: string): void {
  if (Object.hasOwn(FIELD_OF_WORD, measurand)) {
    delete merged[FIELD_OF_WORD[measurand as keyof typeof FIELD_OF_WORD]];
    return;
  }
  const left = Object.entries(merged.metalsPpm ?? {}).filter(([metal]) => metal !== measurand);
  if (left.length > 0) merged.metalsPpm = Object.fromEntries(left);
  else delete merged.metalsPpm;
}

/** A number takes the place of a limit or a word at the same size, and the other way round. */
function mergeLimited(merged: Merged, earlier: Sample, later: Sample): void {
  const counted = new Set(later.counts?.counts.map(({ sizeUm }) => sizeUm));
  const limitedNow = later.limitedCounts ?? [];
  const limited = [
    ...(earlier.limitedCounts ?? []).filter(
      ({ sizeUm }) => !counted.has(sizeUm) && !limitedNow.some((entry) => entry.sizeUm === sizeUm),
    ),
    ...limitedNow,
  ];
  if (limited.length > 0) merged.limitedCounts = limited;
  else delete merged.limitedCounts;
  if (limitedNow.length > 0 && merged.counts !== undefined) {
    const left = merged.counts.counts.filter(
      ({ sizeUm }) => !limitedNow.some((entry) => entry.sizeUm === sizeUm),
    );
    if (left.length === 0) delete merged.counts;
    else merged.counts = { ...merged.counts, counts: left };
  }
  for (const { measurand } of later.wordedResults ?? []) dropNumber(merged, measurand);
  const numbersNow = measurandsOf(later);
  const worded = [
    ...(earlier.wordedResults ?? []).filter(
      ({ measurand }) =>
        !numbersNow.includes(measurand) &&
        !later.wordedResults?.some((entry) => entry.measurand === measurand),
    ),
    ...(later.wordedResults ?? []),
  ];
  if (worded.length > 0) merged.wordedResults = worded;
  else delete merged.wordedResults;
}
