/**
 * One observation: any unit on either axis.
 *
 * With `limit` the value is only known to lie below or above y, as "< 50" says. Pairs are compared only within a block,
 * so that a known step between two blocks is never taken for a slope.
 */
export interface Observation {
  readonly x: number;
  readonly y: number;
  readonly limit?: "below" | "above";
  /** Observations with the same block are compared with each other; all are one block when absent. */
  readonly block?: number;
}

/** What is known of a value: it lies between `low` and `high`, which are equal for a measured one. */
export interface Known {
  readonly x: number;
  readonly low: number;
  readonly high: number;
}

/**
 * Refuses coordinates that are not finite numbers.
 *
 * @throws RangeError naming the observation
 */
export function mustBeFinite(observations: readonly Observation[]): void {
  for (const { x, y } of observations) {
    if (!(Number.isFinite(x) && Number.isFinite(y))) {
      throw new RangeError(`a point must be two finite numbers, not (${x}, ${y})`);
    }
  }
}

/** The blocks, each sorted by x, in order of their first x. */
export function blocksOf(observations: readonly Observation[]): Observation[][] {
  const blocks = new Map<number, Observation[]>();
  for (const entry of sortedByX(observations)) {
    const block = entry.block ?? 0;
    const members = blocks.get(block);
    if (members === undefined) blocks.set(block, [entry]);
    else members.push(entry);
  }
  return [...blocks.values()];
}

function sortedByX(observations: readonly Observation[]): readonly Observation[] {
  // Histories come in the order of their days, and the same history is wanted often.
  const falls = observations.some(({ x }, index) => x < (observations[index - 1]?.x ?? x));
  return falls ? [...observations].sort((a, b) => a.x - b.x) : observations;
}

/** What is known of y − slope · x. */
export function knownResidual(observation: Observation, slope: number): Known {
  const { x, y, limit } = observation;
  const key = y - slope * x;
  return {
    x,
    low: limit === "below" ? Number.NEGATIVE_INFINITY : key,
    high: limit === "above" ? Number.POSITIVE_INFINITY : key,
  };
}

/** All members of some blocks. It is quicker than to flatten them, which looks for gaps at every place. */
export function membersOf<T>(blocks: readonly (readonly T[])[]): readonly T[] {
  const [first = []] = blocks;
  if (blocks.length <= 1) return first;
  const all: T[] = [];
  for (const block of blocks) for (const member of block) all.push(member);
  return all;
}

/** One number of each thing in a column; quicker than mapping, which matters for long histories of large fleets. */
export function columnOf<T>(things: ArrayLike<T>, numberOf: (thing: T) => number): Float64Array {
  const column = new Float64Array(things.length);
  for (let index = 0; index < column.length; index += 1) column[index] = numberOf(things[index] as T);
  return column;
}
