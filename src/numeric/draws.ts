import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus";

/** Gives a number from 0 to less than 1, another one each time it is called. */
export type RandomSource = () => number;

/**
 * A source of random numbers that gives the same numbers for the same seed, on every machine: whole multiples of 2⁻³².
 *
 * Twice as many digits would take twice as long, and a million cases show nothing of them.
 *
 * @param seed - a whole number
 * @throws RangeError for anything else
 * @example
 * seededRandom(1)() === seededRandom(1)(); // => true
 */
export function seededRandom(seed: number): RandomSource {
  if (!Number.isInteger(seed)) throw new RangeError(`seed must be a whole number, not ${seed}`);
  const generator = xoroshiro128plus(seed);
  return () => (generator.next() >>> 0) / 2 ** 32;
}

/** Layers that the bell curve is cut into. */
const LAYERS = 128;
/** Where its tail begins, and the area of each layer, for 128 of them, as printed. */
const TAIL = 3.442619855899;
const AREA = 9.91256303526217e-3;

/** Right ends of the layers, the lowest first; that one counts as wide as if the tail lay in it. */
const ends = new Float64Array(LAYERS + 1);
/** Part of each layer that lies under the curve whatever the height. */
const under = new Float64Array(LAYERS);

/** The bell curve without its constant. */
function bell(x: number): number {
  return Math.exp(-0.5 * x * x);
}

ends[0] = AREA / bell(TAIL);
ends[1] = TAIL;
for (let layer = 2; layer < LAYERS; layer += 1) {
  const end = ends[layer - 1] as number;
  ends[layer] = Math.sqrt(-2 * Math.log(AREA / end + bell(end)));
}
for (let layer = 0; layer < LAYERS; layer += 1) {
  under[layer] = (ends[layer + 1] as number) / (ends[layer] as number);
}

/**
 * A draw from the standard normal distribution, by the ziggurat method of Marsaglia and Tsang: nearly always by one random
 * number and no logarithm.
 *
 * Written here because one answer takes a million draws.
 *
 * @source MARSAGLIA-TSANG-ZIGGURAT
 */
export function drawNormal(random: RandomSource): number {
  for (;;) {
    // The layer is taken from the first digits of a random number, the place in it from the others.
    const scaled = random() * LAYERS;
    const layer = Math.floor(scaled);
    const place = 2 * (scaled - layer) - 1;
    if (Math.abs(place) < (under[layer] as number)) return place * (ends[layer] as number);
    const atEdge = drawAtEdge(layer, place, random);
    if (atEdge !== 0) return atEdge;
  }
}

/** The draw at a place of a layer that the curve runs through, or beyond the lowest one; 0 when it is refused. */
function drawAtEdge(layer: number, place: number, random: RandomSource): number {
  if (layer === 0) return Math.sign(place) * drawTail(random);
  const end = ends[layer] as number;
  const low = bell(end);
  const high = bell(ends[layer + 1] as number);
  return low + random() * (high - low) < bell(place * end) ? place * end : 0;
}

function drawTail(random: RandomSource): number {
  for (;;) {
    const x = -Math.log(1 - random()) / TAIL;
    const y = -Math.log(1 - random());
    if (2 * y > x * x) return TAIL + x;
  }
}

/** Fills a column with draws from the standard normal distribution. */
export function drawNormals(random: RandomSource, column: Float64Array): void {
  for (let index = 0; index < column.length; index += 1) column[index] = drawNormal(random);
}

/**
 * Fills a column with draws from a gamma distribution with scale 1, by the method of Marsaglia and Tsang.
 *
 * Written here because one answer takes a million draws; the tests hold it against a library, draw by draw.
 *
 * @param shape - more than 0
 * @param normal - draws from the standard normal distribution
 * @source MARSAGLIA-TSANG
 */
export function drawGammas(
  shape: number,
  random: RandomSource,
  column: Float64Array,
  normal: (random: RandomSource) => number = drawNormal,
): void {
  const d = (shape < 1 ? shape + 1 : shape) - 1 / 3;
  const c = 1 / (3 * Math.sqrt(d));
  for (let index = 0; index < column.length; ) {
    const x = normal(random);
    const root = 1 + c * x;
    if (root <= 0) continue;
    const v = root * root * root;
    const u = 1 - random();
    if (u >= 1 - 0.0331 * x * x * x * x && Math.log(u) >= 0.5 * x * x + d * (1 - v + Math.log(v))) continue;
    column[index] = shape < 1 ? d * v * random() ** (1 / shape) : d * v;
    index += 1;
  }
}
