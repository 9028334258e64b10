import { drawsFrom } from "./random.js";
import { CARTS } from "./scenario.js";
import { type DemoSample, historyOf, measure, samplingDays } from "./simulate.js";

/** Seed of all draws of the demo. */
export const SEED = 20261120;

/** Every circuit of the base, its story and what it truly holds on every day. */
export const CIRCUITS = CARTS.flatMap(({ cart, circuits }) =>
  circuits.map((story) => ({ cart, story, history: historyOf(story) })),
);

/** All samples, numbered in the order they were drawn: "25-0042". */
export function drawAll(): DemoSample[] {
  // A stream for each circuit, so that a change to one circuit's story leaves the others as they were.
  const drawn = CIRCUITS.flatMap(({ cart, story, history }, index) => {
    const draws = drawsFrom(SEED, index + 1);
    const days = samplingDays(story, draws);
    return days.map((drawnOn) => {
      const fluid = drawnOn === days.at(-1) ? (story.lastLabel ?? story.label) : story.label;
      const naming = { sample: "", cart, circuit: story.circuit, drawnOn, fluid };
      return measure(naming, story, stateOn(history, drawnOn), draws);
    });
  });
  const ordered = drawn.sort((a, b) => compare(sortKey(a), sortKey(b)));
  return ordered.map((sample, index) => ({
    ...sample,
    sample: `${sample.drawnOn.slice(2, 4)}-${String(index + 1).padStart(4, "0")}`,
  }));
}

/** What a circuit holds on a day of its history. */
export function stateOn<T>(history: ReadonlyMap<string, T>, day: string): T {
  const state = history.get(day);
  if (state === undefined) throw new RangeError(`${day} is outside the history`);
  return state;
}

function sortKey(sample: DemoSample): string {
  return `${sample.drawnOn} ${sample.cart} ${sample.circuit}`;
}

/** By code unit, so that the order does not hang on the machine's language. */
function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
