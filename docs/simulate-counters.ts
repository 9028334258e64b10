// Follows simulated counters in the line and prints the tables of docs/online.md: npm run counters -- 2000 25
import {
  CLEANING,
  EVENTS,
  FAULTY,
  firstSaid,
  many,
  OUTSIDE,
  SOUND,
  type Stream,
  stopsOf,
} from "../tests/support/online/simulated-counter.js";

const cases = Number(process.argv[2] ?? 2000);
/** Of circuits that are held against their elements, which takes longer. */
const circuits = Number(process.argv[3] ?? 25);
const percent = (share: number) => `${(100 * share).toFixed(1)} %`;
const print = (rows: readonly (readonly string[])[]) => {
  const [head = []] = rows;
  const lines = rows.map((cells) => `| ${cells.join(" | ")} |`);
  process.stdout.write(`${[lines[0], `|${"---|".repeat(head.length)}`, ...lines.slice(1)].join("\n")}\n\n`);
};

/** The first minute in which the circuit is inside. */
function firstInside({ shareAt, minutes }: Stream): string {
  const minute = Array.from({ length: minutes }, (_, one) => one).find((one) => shareAt(one) <= 1);
  return minute === undefined ? "never" : String(minute);
}

const ofStops = (stream: Stream) => {
  const { wrong, stopped, median } = stopsOf(cases, stream);
  return [percent(wrong), percent(stopped), firstInside(stream), stopped < 0.5 ? "" : String(median)];
};
const STOPS = [
  "called clean while it is outside",
  "called clean at all",
  "inside from minute",
  "called clean in minute, in the middle",
];
print([
  ["the circuit", ...STOPS],
  ...[...OUTSIDE, ...CLEANING].map(([name, stream]) => [name, ...ofStops(stream)]),
]);
print([
  ["the circuit or its counter", "said", "in", "first in minute, in the middle", ...STOPS],
  ...EVENTS.map(([name, code, stream]) => {
    const said = code === "" ? [] : firstSaid(cases, stream, code);
    const when = said.length === 0 ? "" : String(said[Math.floor(said.length / 2)]);
    return [name, code, code === "" ? "" : percent(said.length / cases), when, ...ofStops(stream)];
  }),
]);
print([
  [
    "the circuit",
    "said to be slower than expected",
    "first in minute, in the middle",
    "called clean in minute",
  ],
  ...[...SOUND, ...FAULTY].map(([name, stream]) => {
    const all = many(circuits, stream);
    const middle = (minutes: readonly number[]) =>
      minutes.length < circuits / 2
        ? ""
        : String([...minutes].sort((a, b) => a - b)[Math.floor(minutes.length / 2)]);
    const slower = all.flatMap(({ courses }) => courses.get("slower-than-rated") ?? []);
    const clean = all.flatMap(({ stoppedAt }) => stoppedAt ?? []);
    return [name, `${slower.length} of ${circuits}`, middle(slower), middle(clean)];
  }),
]);
