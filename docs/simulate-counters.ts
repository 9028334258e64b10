// Follows simulated counters in the line and prints the table of docs/online.md: npm run counters -- 2000
import { CLEANING, OUTSIDE, type Stream, stopsOf } from "../tests/support/online/simulated-counter.js";

const cases = Number(process.argv[2] ?? 2000);
const percent = (share: number) => `${(100 * share).toFixed(1)} %`;

/** The first minute in which the circuit is inside. */
function firstInside({ shareAt, minutes }: Stream): string {
  const minute = Array.from({ length: minutes }, (_, one) => one).find((one) => shareAt(one) <= 1);
  return minute === undefined ? "never" : String(minute);
}

process.stdout.write(
  "| the circuit | called clean while it is outside | called clean at all | inside from minute | called clean in minute, in the middle |\n|---|---|---|---|---|\n",
);
for (const [name, stream] of [...OUTSIDE, ...CLEANING]) {
  const { wrong, stopped, median } = stopsOf(cases, stream);
  const cells = [
    name,
    percent(wrong),
    percent(stopped),
    firstInside(stream),
    stopped < 0.5 ? "" : String(median),
  ];
  process.stdout.write(`| ${cells.join(" | ")} |\n`);
}
