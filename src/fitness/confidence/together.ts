import type { Assessed, Sureness } from "../assessed.js";
import { type Reason, reason } from "../reasons.js";
import { sayPercent } from "../text.js";

/** How sure it is that every quantity conforms at once. */
export interface Together {
  readonly sureness?: Sureness;
  readonly reasons: readonly Reason[];
}

/**
 * How sure it is that all quantities conform together.
 *
 * Results of different methods err independently, so the probabilities multiply. Several quantities, each of them sure
 * enough, may together leave more doubt than the requirement allows; then the least sure one is named. Of water held
 * against two limits the stricter counts, because it is one result.
 *
 * @source JCGM-106
 */
export function togetherOf(assessed: readonly Assessed[]): Together {
  const known = assessed.flatMap(({ quantity, sureness }) =>
    sureness === undefined ? [] : [{ quantity, sureness }],
  );
  const water = known.filter(({ quantity }) => quantity.startsWith("water"));
  const counted = [
    ...known.filter(({ quantity }) => !quantity.startsWith("water")),
    ...water.sort((a, b) => a.sureness.probability - b.sureness.probability).slice(0, 1),
  ];
  const first = counted[0];
  if (first === undefined) return { reasons: [] };
  const { asked } = first.sureness;
  const probability = counted.reduce((product, { sureness }) => product * sureness.probability, 1);
  const least = counted.reduce((least, one) =>
    one.sureness.probability < least.sureness.probability ? one : least,
  );
  const sureness = { probability, asked, consumerRisk: 1 - probability, producerRisk: probability };
  const eachIsSure = counted.every((one) => one.sureness.probability >= asked);
  const allInside = assessed.every(({ outcome }) => outcome === "inside");
  if (!allInside || !eachIsSure || probability >= asked) return { sureness, reasons: [] };
  return {
    sureness,
    reasons: [
      reason(
        "together-not-sure",
        `each quantity is measured inside, but the chance that all conform together is ${sayPercent(probability)}, and ` +
          `${sayPercent(asked)} is asked for; ${least.quantity} is the least sure`,
      ),
    ],
  };
}
