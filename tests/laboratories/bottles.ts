import { cumulativeCounts } from "../../src/counts/index.js";
import type { LaboratorySample } from "../../src/laboratories/index.js";
import type { Sample } from "../../src/samples/index.js";

/** What a bottle is made of; the rest is the same for all. */
export interface BottleParts extends Partial<Omit<Sample, "counts" | "replicates">> {
  readonly laboratory?: string;
  readonly counter?: string;
  /** Particles above 4 µm(c) per mL. */
  readonly perMl?: number;
  readonly countedMl?: number;
  /** Runs of the same bottle, above 4 µm(c) per mL. */
  readonly runsPerMl?: readonly number[];
}

let made = 0;

/** A bottle of cart C-1, drawn at 08:00 on the day that is given. */
export function bottle({
  laboratory,
  counter,
  perMl,
  countedMl = 10,
  runsPerMl,
  ...parts
}: BottleParts): LaboratorySample {
  made += 1;
  const texts = [
    ...(laboratory === undefined ? [] : [{ column: "Laboratory", text: laboratory }]),
    ...(counter === undefined ? [] : [{ column: "Particle counter S/N", text: counter }]),
  ];
  const countsOf = (count: number) => cumulativeCounts([{ sizeUm: 4, count }], 1, "um(c)", { countedMl });
  const sample: Sample = {
    sample: `S-${made}`,
    cart: "C-1",
    circuit: "fore",
    drawnOn: "2026-03-01",
    drawnTime: "08:00",
    fluid: "MIL-PRF-83282",
    origin: [{ file: "pairs.csv", rows: [made] }],
    ...(perMl !== undefined && { counts: countsOf(perMl) }),
    ...(runsPerMl && { replicates: runsPerMl.map(countsOf) }),
    ...(texts.length > 0 && { otherTexts: texts }),
    ...parts,
  };
  return { sample };
}

/** Days of March 2026, one after another. */
export function day(index: number): string {
  return `2026-03-${String(index + 1).padStart(2, "0")}`;
}
