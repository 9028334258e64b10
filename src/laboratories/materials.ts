import type { MeasuredBy, Sample } from "../samples/index.js";
import type { Placed } from "./results.js";

/** A sample with who measured it. */
export interface Attributed {
  readonly sample: Sample;
  readonly by: MeasuredBy;
}

/** Samples with the fluid that each is of, and how many are not compared because their report does not say enough. */
export interface Materials {
  readonly placed: readonly Placed[];
  /** Bottles with no time of drawing that the caller's word puts with others of their day. */
  readonly takenTogether: number;
  /** Bottles with no time of drawing on a day that has others of the circuit: a circulation may lie between them. */
  readonly withoutTime: number;
  /** Bottles left out because the same moment has bottles of two places of the circuit and theirs is not stated. */
  readonly withoutPlace: number;
}

/**
 * Says which bottles hold the same fluid: drawn from one place of one circuit at one time of one day.
 *
 * A bottle without a time is of the same fluid as others of its day only where the caller says so, and only where those are
 * of one time. Where bottles of a moment state different places, those of each place are by themselves: an element lies
 * between them.
 *
 * @param sameDay - bottles of one circuit and day without a time were filled together with the others
 */
export function sortByMaterial(samples: readonly Attributed[], sameDay: boolean): Materials {
  const placed: Placed[] = [];
  let withoutTime = 0;
  let withoutPlace = 0;
  let takenTogether = 0;
  const put = (bottles: readonly Attributed[], name: string) => {
    const places = new Set(bottles.flatMap(({ sample }) => sample.samplePoint ?? []));
    for (const { sample, by } of bottles) {
      if (places.size > 1 && sample.samplePoint === undefined) withoutPlace += 1;
      else placed.push({ sample, by, material: places.size > 1 ? `${name}, ${sample.samplePoint}` : name });
    }
  };
  for (const [day, bottles] of groupedBy(samples, dayOf)) {
    const moments = groupedBy(bottles, ({ sample }) => sample.drawnTime ?? "");
    const untimed = moments.get("") ?? [];
    moments.delete("");
    if (sameDay && moments.size < 2) {
      if (bottles.length > 1) takenTogether += untimed.length;
      put(bottles, day);
      continue;
    }
    for (const [time, ofMoment] of moments) put(ofMoment, `${day} ${time}`);
    for (const [index, bottle] of untimed.entries()) put([bottle], `${day}, bottle ${index + 1}`);
    if (bottles.length > 1) withoutTime += untimed.length;
  }
  return { placed, takenTogether, withoutTime, withoutPlace };
}

function groupedBy(
  bottles: readonly Attributed[],
  keyOf: (bottle: Attributed) => string,
): Map<string, Attributed[]> {
  const groups = new Map<string, Attributed[]>();
  for (const bottle of bottles) {
    const key = keyOf(bottle);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [bottle]);
    else group.push(bottle);
  }
  return groups;
}

/** Two names can join to the same text in two ways, so each is quoted. */
function dayOf({ sample: { cart, circuit, drawnOn } }: Attributed): string {
  return `${JSON.stringify(cart)} ${JSON.stringify(circuit)}, ${drawnOn}`;
}
