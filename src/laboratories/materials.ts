import type { MeasuredBy, Sample } from "../samples/index.js";
import type { Placed } from "./results.js";

/** A sample with who measured it. */
export interface Attributed {
  readonly sample: Sample;
  readonly by: MeasuredBy;
}

/** Samples with the fluid that each is of, and those that no other bottle is known to be of the same fluid as. */
export interface Materials {
  readonly placed: readonly Placed[];
  /** Bottles of one circuit and day with no time of drawing: they may be of before and after a circulation. */
  readonly withoutTime: number;
  /** Bottles left out because the same moment has bottles of two places of the circuit and theirs is not stated. */
  readonly withoutPlace: number;
}

/**
 * Says which bottles hold the same fluid: drawn from one place of one circuit at one time of one day.
 *
 * Bottles without a time are of the same fluid only where the caller says so. Where bottles of a moment state different places, those of each
 * place are by themselves: an element lies between them.
 *
 * @param sameDay - bottles of one circuit and day without a time were filled together
 */
export function sortByMaterial(samples: readonly Attributed[], sameDay: boolean): Materials {
  const moments = new Map<string, Attributed[]>();
  for (const entry of samples) {
    const { cart, circuit, drawnOn, drawnTime = "" } = entry.sample;
    const key = JSON.stringify([cart, circuit, drawnOn, drawnTime]);
    moments.set(key, [...(moments.get(key) ?? []), entry]);
  }
  const placed: Placed[] = [];
  let withoutTime = 0;
  let withoutPlace = 0;
  for (const bottles of moments.values()) {
    const isTimed = bottles.every(({ sample }) => sample.drawnTime !== undefined);
    const places = new Set(bottles.flatMap(({ sample }) => sample.samplePoint ?? []));
    const isTogether = isTimed || sameDay;
    if (!isTogether && bottles.length > 1) withoutTime += bottles.length;
    for (const [index, { sample, by }] of bottles.entries()) {
      if (isTogether && places.size > 1 && sample.samplePoint === undefined) {
        withoutPlace += 1;
        continue;
      }
      const place = places.size > 1 ? `, ${sample.samplePoint}` : "";
      const alone = isTogether ? "" : `, bottle ${index + 1}`;
      placed.push({ sample, by, material: `${nameOf(sample)}${place}${alone}` });
    }
  }
  return { placed, withoutTime, withoutPlace };
}

function nameOf({ cart, circuit, drawnOn, drawnTime }: Sample): string {
  return `${cart} ${circuit}, ${[drawnOn, drawnTime].filter(Boolean).join(" ")}`;
}
