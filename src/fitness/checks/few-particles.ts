import { compareWithLimits, type ParticleLimit } from "../../cleanliness/index.js";
import { USUAL_COUNTED_ML } from "../../counts/index.js";
import type { Sample } from "../../samples/index.js";
import { inFourDigits } from "../../units/index.js";
import { countsToHold } from "./counted.js";

/** With fewer particles at the limit, a fluid well beyond it may show none. Common practice, no source. */
const HANDFUL = 5;
/** Counts are given for 1 mL or 100 mL whatever was counted; nobody gives them for less without having counted less. */
const MIN_BASIS_ML = 1;
/** Above larger sizes even the usual volume holds a handful of dirty fluid only. */
const COARSEST_UM = 14;

/**
 * Whether so little of a sample went through the counter that fluid exactly at a limit would show less than a handful of
 * particles there.
 *
 * Looked at up to 14 µm(c), the sizes of an ISO 4406 code, and only below the usual 10 mL: at 10 mL every class of AS4059
 * and NAS 1638 from 1 on has its handful, and above larger sizes few have. Fluid that is outside in some channel has shown it.
 *
 * @param seenMl - what went through the counter; where that is not stated, counts that are given for less than 1 mL were
 *   counted in no more
 * @returns what to say about it
 */
export function tooFewToTell(
  sample: Sample,
  limits: readonly ParticleLimit[],
  seenMl: number | undefined,
): string | undefined {
  if (sample.counts === undefined) return undefined;
  const { volumeMl } = sample.counts;
  const countedMl = seenMl ?? (volumeMl < MIN_BASIS_ML ? volumeMl : USUAL_COUNTED_ML);
  if (countedMl >= USUAL_COUNTED_ML) return undefined;
  const held = compareWithLimits(countsToHold(sample, sample.counts), limits);
  if (held.some(({ outcome }) => outcome === "outside")) return undefined;
  const [fewest] = held
    .filter(({ limit: { fromUm }, outcome }) => fromUm <= COARSEST_UM && outcome === "inside")
    .map(({ limit }) => ({ limit, particles: (limit.limit / limit.volumeMl) * countedMl }))
    .filter(({ particles }) => particles < HANDFUL)
    .sort((a, b) => a.particles - b.particles);
  if (fewest === undefined) return undefined;
  const { limit, particles } = fewest;
  return (
    `${inFourDigits(countedMl)} mL of sample ${sample.sample} were counted: fluid at the limit of channel ${limit.channel} would show ` +
    `${inFourDigits(particles)} particles in that, and ${HANDFUL} are the least to tell it from dirtier fluid; ` +
    `have the usual ${USUAL_COUNTED_ML} mL counted`
  );
}
