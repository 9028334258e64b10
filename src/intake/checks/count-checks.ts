import { countsAtMost, type StatedClass } from "../../cleanliness/index.js";
import { sampleSeenMl, sizeOfBreakOff, USUAL_COUNTED_ML } from "../../counts/index.js";
import type { Sample } from "../../samples/index.js";
import type { CheckCode } from "./issue.js";

/**
 * Fewer particles per mL than this above 4 or 6 µm(c) are not those of a bottle of fluid: the cleanest class of AS4059, 000,
 * allows forty times as many above 4 µm(c). Common practice, no source.
 */
export const MIN_PER_ML = 0.05;
/** Above larger sizes clean fluid may well show nothing. */
const FINE_UM = 6;

/** Counts that are nearly the same above one size and above another twice as large leave next to nothing between the two. */
const FLAT_SHARE = 0.9;
const FLAT_SIZES = 2;
/** With fewer particles, counted and as they are written, counts may be equal by chance or by rounding. */
const MIN_EQUAL = 5;
const MIN_FLAT = 20;
type Counts = NonNullable<Sample["counts"]>;

/**
 * Whether cumulative counts can be those of a bottle of fluid, whatever the circuit.
 *
 * @returns the check they do not stand, and what was expected
 */
export function doubtOfCounts({
  counts,
}: Sample): { readonly code: CheckCode; readonly expected: string } | undefined {
  if (counts === undefined) return undefined;
  const expected = hasNone(counts);
  if (expected !== undefined) return { code: "counts-all-zero", expected };
  if (isFlat(counts)) return { code: "counts-all-equal", expected: "counts that fall with size" };
  const breakOff = breaksOff(counts);
  return breakOff === undefined ? undefined : { code: "counts-break-off", expected: breakOff };
}

/**
 * Whether a code, reported without counts, allows fewer particles than any bottle of fluid has.
 *
 * @returns what was expected
 */
export function doubtOfClass(reported: StatedClass): string | undefined {
  const most = countsAtMost(reported, { standard: "ISO 4406" });
  return most?.form === "cumulative" ? hasNone(most) : undefined;
}

function hasNone({ counts, volumeMl }: Counts): string | undefined {
  const [smallest] = counts;
  if (smallest === undefined || smallest.sizeUm > FINE_UM) return undefined;
  if (smallest.count / volumeMl >= MIN_PER_ML) return undefined;
  return `particles above ${smallest.sizeUm} µm(c), at least ${MIN_PER_ML * 100} in 100 mL`;
}

function isFlat(set: Counts): boolean {
  const [smallest, ...larger] = set.counts;
  if (smallest === undefined || larger.length === 0) return false;
  const fewer = surelyCounted(smallest.count, set);
  if (fewer >= MIN_EQUAL && larger.every(({ count }) => count === smallest.count)) return true;
  return (
    fewer >= MIN_FLAT &&
    larger.some(
      ({ sizeUm, count }) => sizeUm >= smallest.sizeUm * FLAT_SIZES && count > smallest.count * FLAT_SHARE,
    )
  );
}

function breaksOff(set: Counts): string | undefined {
  const size = sizeOfBreakOff(set.counts, (count) => surelyCounted(count, set));
  if (size === undefined) return undefined;
  return `particles above ${size} µm(c), or that size left blank if it was not counted`;
}

/** A report in whole particles per mL rounds more than counting does, one per 100 mL less. */
function surelyCounted(count: number, set: Counts): number {
  return Math.min((count / set.volumeMl) * (sampleSeenMl(set) ?? USUAL_COUNTED_ML), count);
}
