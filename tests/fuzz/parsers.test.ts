import { describe, expect, test } from "vitest";
import { ENTRIES } from "./entries/index.js";
import { fuzz, PARSERS_SHARE, SEED } from "./fuzzing.js";
import { NOT_FUZZED } from "./not-fuzzed.js";
import { publicFunctions } from "./surface.js";

describe("everything public that takes texts, bytes, cells or JSON is fuzzed, or it is said why not", () => {
  const functions = publicFunctions();
  const fuzzed = ENTRIES.flatMap((entry) => entry.functions);

  test("the reports of docs/api are read", () => {
    expect(functions.length).toBeGreaterThan(70);
    expect(functions).toContain("siltbook parseIso4406");
    expect(functions).toContain("siltbook/book Book.override");
    expect(functions).not.toContain("siltbook circulationFloor");
  });

  test("no public function is left out", () => {
    expect(functions.filter((name) => !fuzzed.includes(name) && !Object.hasOwn(NOT_FUZZED, name))).toEqual(
      [],
    );
  });

  test("nothing is named that is no public function any more", () => {
    const named = [...fuzzed.filter((name) => !name.startsWith("src/")), ...Object.keys(NOT_FUZZED)];
    expect(named.filter((name) => !functions.includes(name))).toEqual([]);
    expect(Object.keys(NOT_FUZZED).filter((name) => fuzzed.includes(name))).toEqual([]);
  });
});

describe(`whatever a parser is given, it reads it or refuses it with a documented error (seed ${SEED})`, () => {
  test.each(ENTRIES.map((entry) => [entry.functions.join(", "), entry] as const))("%s", async (_, entry) => {
    await fuzz(entry, PARSERS_SHARE / ENTRIES.length);
  });
});
