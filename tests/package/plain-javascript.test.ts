import { readdir, readFile } from "node:fs/promises";
import { describe, expect, test } from "vitest";

const paths = (await readdir("src", { recursive: true })).filter((name) => /\.tsx?$/.test(name));
const places = paths.filter((path) => path !== "cli/main.ts");
const modules = await Promise.all(places.map((path) => import(`../../src/${path}`)));
const imported: Record<string, unknown> = Object.assign(
  {},
  ...modules.filter((_, place) => places[place]?.startsWith("public/")),
);

/** What a caller without a compiler gives in place of a number. */
const NO_NUMBERS = ["true", "null", "new Date(0)", "NaN", "Infinity", "-Infinity", '"5"'];

/** Calls of public functions that have numbers: those of the examples, and some of functions that have none. */
const MORE: readonly (readonly [string, string])[] = [
  ["viscosityAt", "viscosityAt({ a: 9, b: 3.7, fromC: 40, toC: 100 }, 60)"],
  ["temperatureAt", "temperatureAt({ a: 9.2, b: 3.7, fromC: 40, toC: 100 }, 9)"],
  ["shareOfSaturation", "shareOfSaturation({ a: 7, b: 1500 }, 50, 20)"],
  ["waterFromShare", "waterFromShare({ a: 7, b: 1500 }, 0.5, 20)"],
  ["compareResults", 'compareResults(1, 1.3, "ASTM D664 used", "different")'],
  ["formatPasses", "formatPasses(2.5)"],
  [
    "countBetween",
    "countBetween(cumulativeCounts([{ sizeUm: 4, count: 90 }, { sizeUm: 6, count: 9 }], 1), 4, 6)",
  ],
  [
    "withEstimates",
    "withEstimates(cumulativeCounts([{ sizeUm: 5, count: 900 }, { sizeUm: 25, count: 78 }], 1), [15])",
  ],
  ["alarmLevels", "alarmLevels([10, 12, 11, 13, 10, 12, 11, 14])"],
  ["findSteps", "findSteps([{ x: 1, y: 2 }, { x: 2, y: 3 }, { x: 3, y: 2.5 }])"],
  ["trendTest", "trendTest([{ x: 1, y: 2 }, { x: 2, y: 3 }, { x: 3, y: 2.5 }, { x: 4, y: 5 }])"],
];

interface Call {
  readonly name: string;
  readonly code: string;
}

async function callsOf(path: string): Promise<Call[]> {
  const text = await readFile(`src/${path}`, "utf8");
  const blocks = text.matchAll(
    /@example\n((?: *\* ?(?!@|\/).*\n)+)(?: *\* ?@.*\n)* *\*\/\n(?:.*?\b(?:function|const|class) (\w+))?/g,
  );
  return [...blocks].flatMap(([, lines = "", name = ""]) => {
    const code = lines.replace(/^ *\* ?/gm, "");
    let before = "";
    return [...code.matchAll(/([\s\S]*?);?[ ]*\/\/ => (.*)\n/g)].map(([, statements = ""]) => {
      const parts = statements.trim().split(/;\n(?=\S)/);
      const expression = (parts.pop() ?? "").replace(/;$/, "");
      before += parts.map((part) => `${part};\n`).join("");
      return { name, code: `${before}return (${expression});` };
    });
  });
}

const calls = [
  ...(await Promise.all(paths.map(callsOf))).flat().filter(({ name }) => Object.hasOwn(imported, name)),
  ...MORE.map(([name, expression]) => ({ name, code: `return (${expression});` })),
];

function run(code: string): unknown {
  return new Function(...Object.keys(imported), code)(...Object.values(imported));
}

/** Each number of a call that is an argument, a field or an entry of a list, with the call around it. */
function numbersIn({ code }: Call): { before: string; number: string; after: string }[] {
  return [...code.matchAll(/(?<=[(,:[]\s*)-?\d+(?:\.\d+)?(?:e\d+)?(?=\s*[),}\]])/g)].flatMap((found) => {
    const before = code.slice(0, found.index);
    const isInText = (before.match(/"/g) ?? []).length % 2 === 1;
    const isPlaceInList = /[\w)\]]\[$/.test(before);
    return isInText || isPlaceInList
      ? []
      : [{ before, number: found[0], after: code.slice(found.index + found[0].length) }];
  });
}

const NOT_FINITE = ["NaN", "Infinity", "-Infinity"];

/** What is let through, and why that is no other result. */
const LET_THROUGH: Readonly<Record<string, readonly string[]>> = {
  // Its probability is NaN or 0, which reaches no confidence.
  conformanceProbability: NOT_FINITE,
  // A limit of any size has a probability.
  levelOf: NOT_FINITE,
  // A value that is no number is out of its limits.
  judgeCircuit: NOT_FINITE,
};

/** They show what judgeCircuit says of each circuit: that it cannot be judged with such a number. */
const SHOW_VERDICTS = ["judgeCarts", "fleetRows", "standsAs", "cartsTogether", "traceAircraft", "traceCart"];

function isRefused(code: string): boolean {
  try {
    return run(code) === "do-not-connect";
  } catch (error) {
    return error instanceof RangeError && / not | finite | follows /.test(error.message);
  }
}

describe("in place of a number, anything else is refused with its name or value, or cannot be judged with:", () => {
  const places = calls.flatMap((call) =>
    numbersIn(call).map(({ before, number, after }) => ({
      name: call.name,
      where: `${before.slice(-40).replaceAll("\n", " ")}${number}${after.slice(0, 20).replaceAll("\n", " ")}`,
      tried: NO_NUMBERS.map((value) => [value, `${before}${value}${after}`] as const),
    })),
  );

  test("there are a hundred places or more", () => {
    expect(places.length).toBeGreaterThanOrEqual(100);
  });

  test.each(places.filter(({ name }) => !SHOW_VERDICTS.includes(name)))(
    "$name: $where",
    ({ name, tried }) => {
      const taken = tried.filter(([, code]) => !isRefused(code)).map(([value]) => value);
      expect(taken.filter((value) => !LET_THROUGH[name]?.includes(value))).toEqual([]);
    },
  );
});
