import type { CheckCode, Finding } from "../intake/index.js";
import { CHECKS } from "../intake/index.js";
import { upperMedian } from "../numeric/index.js";
import type { Sample } from "../samples/index.js";
import type { Connection } from "./database.js";

/** As many samples of a circuit are looked back at. */
const LOOK_BACK = 12;
/** With fewer there is nothing that is usual yet. */
const FEWEST = 3;
/** A ratio between these is "about a hundred"; a factor of ten either way may be a real change. */
const LEAST_RATIO = 30;
const MOST_RATIO = 300;
/** Below this many particles per mL a ratio is chance. */
const LEAST_PER_ML = 0.5;

/** Cumulative counts of one sample for each mL. */
export interface CountsPerMl {
  readonly sizesUm: readonly number[];
  readonly perMl: ArrayLike<number>;
}

/** The counts of a sample; no sizes when it was not counted. */
export function perMlOf({ counts }: Sample): CountsPerMl {
  const all = counts?.counts ?? [];
  return {
    sizesUm: all.map(({ sizeUm }) => sizeUm),
    perMl: all.map(({ count }) => count / (counts?.volumeMl ?? Number.NaN)),
  };
}

/** What the counts of each circuit usually are, for telling per mL from per 100 mL. Common practice, no source. */
export class UsualCounts {
  readonly #bySize = new Map<number, Map<number, number[]>>();

  readonly #select;

  constructor(db: Connection) {
    this.#select = db.prepare(
      `SELECT size_um_c, per_ml FROM particle_count WHERE sample_id IN (
         SELECT id FROM sample WHERE circuit_id = ? AND counts IS NOT NULL ORDER BY drawn_on DESC LIMIT ${LOOK_BACK})`,
    );
  }

  /**
   * Whether all counts of a sample are about a hundred times, or about a hundredth of, what its circuit has shown.
   *
   * @returns a finding, or undefined when they are not or when too little is known of the circuit
   */
  check(circuitId: number, counts: CountsPerMl): Finding | undefined {
    const usual = this.#usual(circuitId);
    let high = false;
    let low = false;
    for (let place = 0; place < counts.sizesUm.length; place += 1) {
      const earlier = usual.get(counts.sizesUm[place] as number);
      if (earlier === undefined || earlier.length < FEWEST) continue;
      const perMl = counts.perMl[place] as number;
      // Most counts are near all the earlier ones, and then it does not matter which of them is the middle.
      if (isNearAll(perMl, earlier)) return undefined;
      const middle = upperMedian(earlier);
      if (Math.max(middle, perMl) < LEAST_PER_ML * LEAST_RATIO) continue;
      const ratio = perMl / middle;
      if (ratio >= LEAST_RATIO && ratio <= MOST_RATIO) high = true;
      else if (1 / ratio >= LEAST_RATIO && 1 / ratio <= MOST_RATIO) low = true;
      else return undefined;
    }
    if (high === low) return undefined;
    const code: CheckCode = "factor-of-100";
    return {
      code,
      holds: "count",
      expected: `counts like the earlier ones of this circuit, which are about ${high ? "a hundredth" : "a hundred times"} of these (${CHECKS[code]})`,
    };
  }

  /** Looks up what is usual for a circuit, before samples are put into the book that are not part of it. */
  lookUp(circuitId: number): void {
    this.#usual(circuitId);
  }

  /** Adds the counts of a sample that was taken. */
  add(circuitId: number, { sizesUm, perMl }: CountsPerMl): void {
    const usual = this.#usual(circuitId);
    for (let place = 0; place < sizesUm.length; place += 1) {
      const sizeUm = sizesUm[place] as number;
      const earlier = usual.get(sizeUm);
      if (earlier === undefined) usual.set(sizeUm, [perMl[place] as number]);
      else {
        earlier.push(perMl[place] as number);
        if (earlier.length > LOOK_BACK) earlier.shift();
      }
    }
  }

  #usual(circuitId: number): Map<number, number[]> {
    const known = this.#bySize.get(circuitId);
    if (known !== undefined) return known;
    const rows = this.#select.all(circuitId) as { size_um_c: number; per_ml: number }[];
    const bySize = new Map<number, number[]>();
    for (const { size_um_c, per_ml } of rows)
      bySize.set(size_um_c, [...(bySize.get(size_um_c) ?? []), per_ml]);
    this.#bySize.set(circuitId, bySize);
    return bySize;
  }
}

/** Whether a count is neither 30 times nor a thirtieth of any earlier one, and enough to compare. */
function isNearAll(perMl: number, earlier: readonly number[]): boolean {
  if (perMl < LEAST_PER_ML * LEAST_RATIO) return false;
  for (const other of earlier) {
    if (!(perMl < other * LEAST_RATIO && other < perMl * LEAST_RATIO)) return false;
  }
  return true;
}
