// Crews that circulate for the time to go by and draw a verifying bottle then, by the numbers: `npm run crews`, or with a
// number of carts after it. docs/circulation.md shows what it prints.
import { tallyCrews } from "../tests/support/circulation-crews.js";
import { REQUIREMENT } from "../tests/support/fitness/bases.js";

const carts = Number(process.argv[2] ?? 20_000);
const counts = { reproducibility: { kind: "relative", rsd: 0.15 } } as const;
const percent = (share: number) => `${(100 * share).toFixed(1)} %`;

for (const [name, requirement, seed] of [
  ["counts as measured", REQUIREMENT, 11],
  ["95 % required, laboratory of 15 %", { ...REQUIREMENT, confidence: { probability: 0.95, counts } }, 12],
] as const) {
  const tally = tallyCrews(carts, seed, requirement);
  console.log(
    `${name}, ${carts} carts: no time ${percent(tally.withoutTime / carts)}, bottle fit ${percent(tally.accepted / tally.carts)}, ` +
      `truly inside of those ${percent(tally.trulyInside / tally.accepted)}, two rounds at the most ${percent(tally.withinTwoRounds / carts)}, ` +
      `median time ${tally.medianRatio.toFixed(2)} of the ideal one`,
  );
}
