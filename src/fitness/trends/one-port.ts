import type { Assumption } from "../../provenance/index.js";
import type { Sample } from "../../samples/index.js";
import type { JudgingDay } from "../judging-day.js";
import { isMeasured, type Measure, PARTICLE_MEASURES, type Reading, readingsOf } from "./measures.js";

/** The readings of a trend, and what is to be said of those that take no part. */
export interface Followed {
  readonly readings: readonly Reading[];
  readonly assumptions: readonly Assumption[];
}

/**
 * The readings of a measure that can be compared with each other, oldest first.
 *
 * An element lets through only a part of the particles, and a bottle from a drum shows none of the circuit. So of particles
 * those on one side of the element are followed: on that of the last bottle that says it. Bottles that do not say it take part.
 *
 * @param samples - samples of one circuit, in any order
 * @param day - the last day that counts
 */
export function followedReadings(measure: Measure, samples: readonly Sample[], day: JudgingDay): Followed {
  const drawn = samples.filter(({ drawnOn }) => day.hasCome(drawnOn));
  const all = readingsOf(measure, drawn);
  const side = isParticles(measure) ? all.findLast(({ port }) => port !== undefined)?.port : undefined;
  const readings = all.filter(({ port }) => side === undefined || port === undefined || port === side);
  const ofDrums = drawn.filter(
    (sample) => sample.samplePoint === "supply-container" && isMeasured(measure, [sample], 1),
  ).length;
  return {
    readings,
    assumptions: [
      ...(ofDrums === 0 ? [] : [fromDrums(ofDrums)]),
      ...(readings.length === all.length ? [] : [ofOtherSide(all.length - readings.length, side)]),
    ],
  };
}

function isParticles(measure: Measure): boolean {
  return PARTICLE_MEASURES.some((one) => one === measure);
}

function fromDrums(count: number): Assumption {
  const what = count === 1 ? "1 bottle that was" : `${count} bottles that were`;
  return {
    code: "trend-without-drums",
    message: `${what} filled from a drum or can take no part in the trend: they show nothing of the fluid in the circuit`,
    source: "PRACTICE",
  };
}

function ofOtherSide(count: number, side: Reading["port"]): Assumption {
  const other = side === "upstream" ? "downstream" : "upstream";
  const what = count === 1 ? "1 count of a bottle" : `${count} counts of bottles`;
  return {
    code: "trend-of-one-side",
    message:
      `${what} drawn ${other} of the element take no part in the trend of particles: the last that says where was drawn ${side} of ` +
      "it, and an element lets only a part of them through",
    source: "ISO-16889",
  };
}
