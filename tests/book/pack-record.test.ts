import { expect, test } from "vitest";
import { packRecords } from "../../src/book/judging/pack-record.js";
import { judgeCircuit, recordOf } from "../../src/fitness/index.js";
import { CLEAN, caseOf } from "../support/fitness/bases.js";

const BY = { document: "limits", revision: "1" };
/** A history of two pieces, one of which the other circuit of the cart does not have. */
const HISTORY = Array.from({ length: 40 }, (_, index) => ({ ...CLEAN, sample: `S-${index}` }));
const records = ["fore", "aft"].map((circuit) => {
  const base = caseOf({});
  const input = { ...base, circuit: { ...base.circuit, circuit }, samples: HISTORY };
  return recordOf(input, judgeCircuit(input), BY);
});

test("the book is asked once for the inputs of all records, and what it has or another record brings is not brought", () => {
  const asked: (readonly string[])[] = [];
  const pack = (kept: (hashes: readonly string[]) => readonly string[]) =>
    packRecords(records, (hashes) => {
      asked.push(hashes);
      return new Set(kept(hashes));
    }).map(({ bodies }) => bodies.map(({ sha256 }) => sha256));

  const [first = [], second = []] = pack(() => []);
  expect(asked).toHaveLength(1);
  expect(asked[0]).toEqual([...first, ...second]);
  // Case, circuit, requirement and two pieces of history; of the other circuit only itself.
  expect([first.length, second.length]).toEqual([5, 1]);

  const requirement = first[2] as string;
  expect(pack(() => [requirement])).toEqual([first.filter((sha256) => sha256 !== requirement), second]);
  expect(pack((hashes) => hashes)).toEqual([[], []]);
  expect(asked).toHaveLength(3);
});
