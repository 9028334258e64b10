import { describe, expect, test } from "vitest";
import { GIVEN_CALLS, newlyGiven } from "../support/given-calls.js";
import { CALLS, type Call, PUBLIC, runCall } from "../support/public-calls.js";

const names = { ...PUBLIC, given: await newlyGiven() };

/** The calls of examples, and those with the demonstration data. */
const ALL_CALLS: readonly Call[] = [
  ...CALLS,
  ...Object.entries(GIVEN_CALLS).map(([name, expression]) => ({ name, code: `return (${expression});` })),
];

/** What a caller without a compiler gives in place of a number. */
const NO_NUMBERS = ["true", "null", "new Date(0)", "NaN", "Infinity", "-Infinity", '"5"'];

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
  // The number of an entry is a name: nothing is computed with it.
  standingOf: NO_NUMBERS,
  // A line is a text: what is no reading is answered as one that could not be read.
  "OnlineStream.take": NO_NUMBERS,
  "SensorLines.read": NO_NUMBERS,
};

/** They show what judgeCircuit says of each circuit: that it cannot be judged with such a number. */
const SHOW_VERDICTS = ["judgeCarts", "fleetRows", "standsAs", "cartsTogether", "traceAircraft", "traceCart"];

/** Errors of siltbook that say what was expected. */
const NAMED_ERRORS = new Set(["BookError", "IntakeError"]);

async function isRefused(code: string): Promise<boolean> {
  try {
    return (await runCall(code, names)) === "do-not-connect";
  } catch (error) {
    return (
      (error instanceof RangeError && / not | finite | follows |, found /.test(error.message)) ||
      (error instanceof Error && NAMED_ERRORS.has(error.name))
    );
  }
}

describe("in place of a number, anything else is refused with its name or value, or cannot be judged with:", () => {
  const places = ALL_CALLS.flatMap((call) =>
    numbersIn(call).map(({ before, number, after }) => ({
      name: call.name,
      where: `${before.slice(-40).replaceAll("\n", " ")}${number}${after.slice(0, 20).replaceAll("\n", " ")}`,
      tried: NO_NUMBERS.map((value) => [value, `${before}${value}${after}`] as const),
    })),
  );

  test("there are a hundred places or more", () => {
    expect(places.length).toBeGreaterThanOrEqual(100);
  });

  // What describes shows the numbers of a result as they are.
  test.each(places.filter(({ name }) => !SHOW_VERDICTS.includes(name) && !name.startsWith("describe")))(
    "$name: $where",
    async ({ name, tried }) => {
      const taken: string[] = [];
      for (const [value, code] of tried) if (!(await isRefused(code))) taken.push(value);
      expect(taken.filter((value) => !LET_THROUGH[name]?.includes(value))).toEqual([]);
    },
  );
});
