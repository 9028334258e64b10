import { studentProbability } from "../../numeric/index.js";
import { huberLevel } from "../level/huber.js";
import { theilSen } from "../slope/theil-sen.js";
import { blocksOf, mustBeFinite, type Observation } from "./observation.js";

/** A step that no event explains. */
export interface Step {
  /** The step lies between these two x. */
  readonly after: number;
  readonly before: number;
  /** Level after it less level before it, with the common slope taken off. */
  readonly size: number;
  /** The chance of a step this clear in a straight line with scatter is at most this. */
  readonly pAtMost: number;
}

/** A step is only looked for with this many observations on either side. */
const MIN_ON_A_SIDE = 3;

/** A step changes what the slope means, so it needs a smaller chance than a trend. */
const ALPHA = 0.01;

/**
 * Finds steps in values that may rise or fall besides.
 *
 * Every place between two observations is tried: the straight line with a step there against the straight line alone, the
 * slope being the same on both sides. The clearest one counts when its chance, times the number of places tried
 * (Bonferroni), is at most 0.01; then each side is searched again. Limit values take no part.
 *
 * @param observations - in any order; steps between blocks are known and are not looked for
 * @returns the steps by x; none when there are fewer than six measured values in a block
 * @source LUND-REEVES
 * @source WANG
 */
export function findSteps(observations: readonly Observation[]): Step[] {
  mustBeFinite(observations);
  const measured = observations.filter((entry) => entry.limit === undefined);
  return blocksOf(measured)
    .flatMap((block) => search(block))
    .sort((a, b) => a.after - b.after);
}

function search(block: readonly Observation[]): Step[] {
  const clearest = clearestStep(block);
  if (clearest === undefined || !(clearest.pAtMost <= ALPHA)) return [];
  const left = block.slice(0, clearest.place);
  const right = block.slice(clearest.place);
  const { place: _place, ...step } = clearest;
  return [...search(left), { ...step, size: sizeOf(left, right) }, ...search(right)];
}

/** A place for a step; its size is measured once it counts. */
interface Candidate extends Omit<Step, "size"> {
  /** Index of the first observation after it. */
  readonly place: number;
}

/**
 * The place where a step fits best, by the t of its height.
 *
 * The residuals of the straight line tell it: a step of height d there takes d² · spread off their sum of squares.
 */
function clearestStep(block: readonly Observation[]): Candidate | undefined {
  const n = block.length;
  const meanX = average(block.map((entry) => entry.x));
  const meanY = average(block.map((entry) => entry.y));
  const spreadX = block.reduce((sum, { x }) => sum + (x - meanX) ** 2, 0);
  if (n < 2 * MIN_ON_A_SIDE || spreadX === 0) return undefined;
  const slope = block.reduce((sum, { x, y }) => sum + (x - meanX) * (y - meanY), 0) / spreadX;
  const residuals = block.map(({ x, y }) => y - meanY - slope * (x - meanX));
  const squares = residuals.reduce((sum, r) => sum + r * r, 0);
  // Adding up n values takes the last digits off each residual: a sum of n of their squares below this says nothing.
  const largest = block.reduce((most, { y }) => Math.max(most, Math.abs(y)), 0);
  const rounding = n * (n * Number.EPSILON * largest) ** 2;
  if (squares <= rounding) return undefined;

  let [residualsAfter, xAfter, tried] = [0, 0, 0];
  let best: { place: number; t: number } | undefined;
  for (let place = n - 1; place >= MIN_ON_A_SIDE; place -= 1) {
    residualsAfter += residuals[place] as number;
    xAfter += (block[place] as Observation).x - meanX;
    const after = n - place;
    if (after < MIN_ON_A_SIDE || block[place]?.x === block[place - 1]?.x) continue;
    tried += 1;
    const spread = after - (after * after) / n - (xAfter * xAfter) / spreadX;
    const explained = (residualsAfter * residualsAfter) / spread;
    const t = Math.sqrt(explained / (Math.max(rounding, squares - explained) / (n - 3)));
    if (best === undefined || t > best.t) best = { place, t };
  }
  if (best === undefined) return undefined;
  return {
    place: best.place,
    after: (block[best.place - 1] as Observation).x,
    before: (block[best.place] as Observation).x,
    pAtMost: Math.min(1, 2 * tried * studentProbability(-best.t, n - 3)),
  };
}

/** Height of a step by robust levels, with the slope that both sides share. */
function sizeOf(left: readonly Observation[], right: readonly Observation[]): number {
  const fit = theilSen([
    ...left.map((entry) => ({ ...entry, block: 0 })),
    ...right.map((entry) => ({ ...entry, block: 1 })),
  ]);
  const slope = fit.kind === "slope" ? fit.slope : 0;
  const levelOf = (side: readonly Observation[]) => huberLevel(side.map(({ x, y }) => y - slope * x)).level;
  return levelOf(right) - levelOf(left);
}

function average(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
