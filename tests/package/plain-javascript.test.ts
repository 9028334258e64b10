import { describe, expect, test } from "vitest";
import { CALLS, type Call, runCall } from "../support/public-calls.js";

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
};

/** They show what judgeCircuit says of each circuit: that it cannot be judged with such a number. */
const SHOW_VERDICTS = ["judgeCarts", "fleetRows", "standsAs", "cartsTogether", "traceAircraft", "traceCart"];

function isRefused(code: string): boolean {
  try {
    return runCall(code) === "do-not-connect";
  } catch (error) {
    return error instanceof RangeError && / not | finite | follows /.test(error.message);
  }
}

describe("in place of a number, anything else is refused with its name or value, or cannot be judged with:", () => {
  const places = CALLS.flatMap((call) =>
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
