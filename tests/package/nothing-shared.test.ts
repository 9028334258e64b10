import { beforeAll, describe, expect, test } from "vitest";
import { answerTo } from "../../src/cli/commands/circulate/answer-to.js";
import { readQuestion } from "../../src/cli/commands/circulate/circulate-options.js";
import { judgeCircuit, recordOf } from "../../src/fitness/index.js";
import { publicFunctions } from "../fuzz/surface.js";
import { GIVEN_CALLS, newlyGiven } from "../support/given-calls.js";
import { CALLS, PUBLIC, runCall } from "../support/public-calls.js";

type Callable = (...args: readonly unknown[]) => unknown;

/** A call as it was made, with what came back. */
interface Made {
  readonly name: string;
  readonly result: unknown;
  /** Whether the arguments were left as they were. */
  readonly leavesArguments: boolean;
}

/** The public functions, with a note of each call; a class is handed through. */
function noting(into: Made[]): Record<string, Callable> {
  const noted = ([name, value]: [string, unknown]): [string, Callable] => {
    if (typeof value !== "function" || String(value).startsWith("class")) return [name, value as Callable];
    const call = (...args: readonly unknown[]) => {
      const before = written(args);
      const result = (value as Callable)(...args);
      const note = (came: unknown) => {
        into.push({ name, result: came, leavesArguments: written(args) === before });
        return came;
      };
      return result instanceof Promise ? result.then(note) : note(result);
    };
    return [name, call];
  };
  return Object.fromEntries(Object.entries(PUBLIC).map(noted));
}

function written(value: unknown): string {
  return JSON.stringify(plain(value)) ?? "";
}

/** What a value holds, in forms that JSON keeps; of a book or a frame only what a caller can see change. */
function plain(value: unknown): unknown {
  if (typeof value === "number") return String(value);
  if (typeof value !== "object" || value === null) return value;
  if (value instanceof Map || value instanceof Set || value instanceof Uint8Array)
    return [...value].map(plain);
  if (Array.isArray(value)) return value.map(plain);
  if (!isPlain(value)) return "values" in value && typeof value.values !== "function" ? value.values : "";
  return Object.fromEntries(Object.entries(value).map(([name, part]) => [name, plain(part)]));
}

/** Everything that `circulate` can be asked. */
const QUESTION = {
  ...{ volume: "60 L", flow: "15 L/min", beta: ["4=20 6=100 14=1000"], start: "4=20000 6=5000 14=640" },
  ...{ target: "17/15/12", ingress: "4=1e6 6=2e5 14=1e4", after: "10 min", within: "3 min", draws: "50" },
  ...{ element: "capacity=80 g held=10 g", hoses: ["25 mm x 8 m x 2"], fluid: "MIL-PRF-83282" },
  indicator: "drop=1 bar viscosity=14 mm2/s trips=5 bar at=5 °C fluid=MIL-PRF-83282",
  heat: "drop=200 bar efficiency=85 % cooling=2 kW start=20 °C limit=70 °C fluid=MIL-PRF-83282",
  interim: ["4 min: 4=7800 6=1900 14=240", "8 min: 4=3000 6=700 14=88"],
};

/** The examples of all functions, and calls of the others with the demonstration data; everything is made new. */
async function callEverything(): Promise<Made[]> {
  const made: Made[] = [];
  const names = noting(made);
  for (const { code } of CALLS) {
    try {
      runCall(code, names);
    } catch {
      // An example may show an error.
    }
  }
  const given = await newlyGiven();
  for (const [name, code] of Object.entries(GIVEN_CALLS)) {
    const result = await runCall(`return (${code});`, { ...names, given });
    // A method is no name of its own.
    if (name.includes(".")) made.push({ name, result, leavesArguments: true });
  }
  const counted = given.fleet.samples.flatMap(({ counts }) => (counts === undefined ? [] : [counts]));
  for (const counts of counted.slice(0, 10)) for (const name of OF_COUNTS) (names[name] as Callable)(counts);
  made.push({ name: "circulate", result: answerTo(readQuestion(QUESTION)), leavesArguments: true });
  return made;
}

/** Functions of counts alone. */
const OF_COUNTS = ["classify", "classifyAll", "classifyIso4406", "iso4406Channels", "compareWithNewFluid"];

/** Every object that a value holds, with where it lies in it. */
function* objectsIn(
  value: unknown,
  path: string,
  seen: Set<unknown>,
): Generator<[object: object, path: string]> {
  if (typeof value !== "object" || value === null || seen.has(value)) return;
  seen.add(value);
  yield [value, path];
  if (value instanceof Map || value instanceof Set) {
    for (const part of [...value].flat()) yield* objectsIn(part, `${path}.get()`, seen);
  } else if (isPlain(value)) {
    for (const [name, part] of Object.entries(value)) yield* objectsIn(part, `${path}.${name}`, seen);
  }
}

function isPlain(value: object): boolean {
  return Array.isArray(value) || Object.getPrototypeOf(value) === Object.prototype;
}

function changeableIn(made: readonly Made[]): Map<object, string> {
  const seen = new Set<unknown>();
  const found = made.flatMap(({ name, result }) => [...objectsIn(result, name, seen)]);
  return new Map(found.filter(([part]) => !Object.isFrozen(part)));
}

/** Errors and objects are made by others of the calls; what is shown goes to the kernel of a notebook. */
const NOT_CALLED = /\.constructor$|Schema$|^show$/;

/** Methods of a book that change nothing in it. */
const READS_A_BOOK =
  /^Book\.(?!keep|takeIn|bringIn|override|lift|decideRows|withdraw$|backup|open|close)|^readFleet(?:OfBook|Outline)$|^laboratorySamplesOf$/;

let first: Made[];
let second: Made[];

beforeAll(async () => {
  first = await callEverything();
  second = await callEverything();
});

describe("what a caller does to a result changes nothing for the next", () => {
  test("every public function and method is called, and their results hold thousands of objects", () => {
    const called = new Set(first.map(({ name }) => name));
    const names = publicFunctions("all").map(
      (of) => of.split(" ")[1]?.replace("BookContents.", "Book.") ?? "",
    );
    const missing = names.filter(
      (name) => typeof (PUBLIC[name] ?? (() => {})) === "function" && !called.has(name),
    );
    expect(missing.filter((name) => !NOT_CALLED.test(name))).toEqual([]);
    expect(changeableIn(first).size).toBeGreaterThan(10_000);
  });

  test("two calls with arguments of their own share no object that can be changed", () => {
    const before = changeableIn(first);
    const shared = [...changeableIn(second)].filter(([part]) => before.has(part)).map(([, path]) => path);
    expect(shared).toEqual([]);
  });

  test("a book that is asked twice gives nothing out that it keeps", async () => {
    const given = await newlyGiven();
    const names = { ...PUBLIC, given };
    given.book.keepVerdicts([
      recordOf(given.circuitCase, judgeCircuit(given.circuitCase), given.fleet.document),
    ]);
    const readers = Object.entries(GIVEN_CALLS).filter(([name]) => READS_A_BOOK.test(name));
    expect(readers.length).toBeGreaterThan(18);
    const ask = async () => {
      const made: Made[] = [];
      for (const [name, code] of readers)
        made.push({ name, result: await runCall(`return (${code});`, names), leavesArguments: true });
      return changeableIn(made);
    };
    const before = await ask();
    const shared = [...(await ask())].filter(([part]) => before.has(part)).map(([, path]) => path);
    expect(shared).toEqual([]);
  });

  test("every call leaves its arguments as they were", () => {
    const changing = [...first, ...second].flatMap(({ name, leavesArguments }) =>
      leavesArguments ? [] : [name],
    );
    expect(changing).toEqual([]);
  });

  const tables = Object.entries(PUBLIC).filter(
    ([, value]) => typeof value === "object" && value !== null && isPlain(value),
  );
  test.each(tables)("the table %s cannot be changed, to its last part", (name, table) => {
    const open = [...objectsIn(table, name, new Set())].filter(([part]) => !Object.isFrozen(part));
    expect(open.map(([, path]) => path)).toEqual([]);
  });
});

describe("a count set is checked when it is made, and stays so", () => {
  const counts = runCall(
    "return (cumulativeCounts([{ sizeUm: 4, count: 15000 }, { sizeUm: 6, count: 1200 }], 1))",
  );
  const ranges = runCall(
    "return (intervalCounts([{ fromUm: 4, toUm: 6, count: 9 }], 100, undefined, { countedMl: 5 }))",
  );

  test.each([
    [
      "a count",
      () => Object.assign((counts as never as { counts: object[] }).counts[1] as object, { count: 0 }),
    ],
    ["a further size", () => (counts as never as { counts: object[] }).counts.push({ sizeUm: 14, count: 1 })],
    ["its volume", () => Object.assign(counts as object, { volumeMl: 100 })],
    [
      "a range",
      () => Object.assign((ranges as never as { counts: object[] }).counts[0] as object, { toUm: 9 }),
    ],
    [
      "the counted volume",
      () => Object.assign((ranges as never as { counting: object }).counting, { countedMl: 1 }),
    ],
  ])("%s cannot be changed", (_, change) => {
    expect(change).toThrow(TypeError);
  });

  test("what was given stays the caller's, and changing it changes no count set", () => {
    const [given, counting] = [[{ sizeUm: 4, count: 150 }], { countedMl: 5 }];
    const set = (PUBLIC.cumulativeCounts as Callable)(given, 1, "um(c)", counting);
    Object.assign(given[0] as object, { count: 1 });
    counting.countedMl = 500;
    expect(set).toMatchObject({ counts: [{ sizeUm: 4, count: 150 }], counting: { countedMl: 5 } });
  });
});
