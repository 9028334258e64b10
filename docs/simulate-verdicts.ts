// Judges 20,000 circuits whose truth is known and prints what docs/fitness.md tells: npm run risk
import { REQUIREMENT } from "../tests/support/fitness/bases.js";
import { CROWDED, MIXED, SURE_REQUIREMENT, simulate } from "../tests/support/fitness/simulation.js";

const percent = (share: number) => `${(100 * share).toFixed(1)} %`;

for (const [fleet, population] of [
  ["many near a limit", MIXED],
  ["nearly all at a limit", CROWDED],
] as const) {
  for (const [rule, requirement] of [
    ["95 % confidence", SURE_REQUIREMENT],
    ["as measured", REQUIREMENT],
  ] as const) {
    const tally = simulate(20_000, 7, requirement, population);
    process.stdout.write(
      `${fleet}, ${rule}: ${tally.trulyInside} truly inside, ${tally.fit} called fit, ` +
        `${percent(tally.falselyFit / tally.fit)} of them truly outside; of those truly inside ` +
        `${percent(tally.needlesslyResampled / tally.trulyInside)} sent to resample, ` +
        `${percent(tally.falselyOutside / tally.trulyInside)} called outside\n`,
    );
  }
}
