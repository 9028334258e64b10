// Judges the demo every week over 21 months with each habit of real bases alone: npm run habits
import { AS_DELIVERED, HABITS, type Tally, tallyOf, textsOf } from "../tests/support/fit/habits.js";

const percent = (share: number) => `${(100 * share).toFixed(1)} %`;
const sum = (counts: Iterable<number>) => [...counts].reduce((total, count) => total + count, 0);

function say(name: string, { judged, fit, resample, falselyFit, reasons }: Tally, base: Tally): string {
  const lost = base.fit / base.judged - fit / judged;
  const most = [...reasons].sort((a, b) => b[1] - a[1])[0]?.[0] ?? "";
  const more = [...falselyFit].filter(([circuit, count]) => count > (base.falselyFit.get(circuit) ?? 0));
  const cells = [
    name,
    percent(fit / judged),
    percent(resample / judged),
    `${(100 * lost).toFixed(1)}`,
    `${sum(falselyFit.values())}`,
    more.length === 0 ? "none" : more.map(([circuit]) => circuit).join(", "),
    most,
  ];
  return `| ${cells.join(" | ")} |\n`;
}

const base = await tallyOf(textsOf(AS_DELIVERED), 7);
process.stdout.write(
  `${base.judged} verdicts on each base\n\n` +
    "| habit | fit | resample | fit lost, points | truly outside called fit | circuits where that is more often | most frequent reason to resample |\n" +
    `|---|---|---|---|---|---|---|\n${say(AS_DELIVERED.name, base, base)}`,
);
for (const habit of HABITS) {
  process.stdout.write(
    await tallyOf(textsOf(habit), 7).then(
      (tally) => say(habit.name, tally, base),
      (error: Error) => `| ${habit.name} | refused: ${error.message.split("\n")[0]} |\n`,
    ),
  );
}
