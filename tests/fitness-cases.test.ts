import { describe, expect, test } from "vitest";
import { judgeCircuit, REASONS, type ReasonCode, VERDICTS } from "../src/fitness/index.js";
import { type Case, caseOf } from "./support/fitness/bases.js";
import { CART_CASES, PRECEDENCE_CASES } from "./support/fitness/cart-cases.js";
import { IDENTITY_CASES } from "./support/fitness/identity-cases.js";
import { LIMIT_CASES } from "./support/fitness/limit-cases.js";
import { PARTICLE_CASES } from "./support/fitness/particle-cases.js";
import { SAMPLE_CASES } from "./support/fitness/sample-cases.js";
import { SURENESS_CASES } from "./support/fitness/sureness-cases.js";

const TABLES: readonly (readonly [string, readonly Case[]])[] = [
  ["particles", PARTICLE_CASES],
  ["other limits", LIMIT_CASES],
  ["the sample", SAMPLE_CASES],
  ["identity", IDENTITY_CASES],
  ["the cart", CART_CASES],
  ["under uncertainty", SURENESS_CASES],
  ["two things wrong at once", PRECEDENCE_CASES],
];
const ALL = TABLES.flatMap(([, cases]) => cases);

describe.each(TABLES)("hand-reasoned cases, %s", (_table, cases) => {
  test.each(cases)("%s", (_name, change, verdict, decisive) => {
    const result = judgeCircuit(caseOf(change));
    const deciding = result.reasons.filter(({ callsFor }) => callsFor === verdict).map(({ code }) => code);
    expect([result.verdict, deciding]).toEqual([verdict, expect.arrayContaining([decisive])]);
    expect(result.cautions.map(({ topic }) => topic)).toContain("authority");
  });
});

describe("the hand-reasoned cases", () => {
  test("there are at least 120, each with a name of its own", () => {
    expect(ALL.length).toBeGreaterThanOrEqual(120);
    expect(new Set(ALL.map(([name]) => name)).size).toBe(ALL.length);
  });

  test("every reason decides in one of them, but for the two that need another cart or no requirement", () => {
    const deciding = new Set<ReasonCode>(ALL.map(([, , , decisive]) => decisive));
    const missing = (Object.keys(REASONS) as ReasonCode[]).filter((code) => !deciding.has(code));
    expect(missing).toEqual(["no-requirement", "circuits-may-mix"]);
  });

  test("every pair of verdicts meets in one of them, and the stricter stands", () => {
    for (const [index, mild] of VERDICTS.entries()) {
      for (const strict of VERDICTS.slice(index + 1)) {
        const pair = PRECEDENCE_CASES.find(([name]) => name === `${mild} and ${strict}`);
        expect(pair?.[2], `${mild} and ${strict}`).toBe(strict);
        const reasons = judgeCircuit(caseOf(pair?.[1] ?? {})).reasons.map(({ callsFor }) => callsFor);
        expect(reasons).toEqual(expect.arrayContaining([mild, strict]));
      }
    }
  });
});
