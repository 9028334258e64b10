import { describe, expect, test } from "vitest";
import { ENTRIES } from "./entries/index.js";
import { fuzz, PARSERS_SHARE, SEED } from "./fuzzing.js";
import { NOT_FUZZED } from "./not-fuzzed.js";
import { openDoors } from "./surface.js";

describe("everything public that takes texts, bytes, cells or JSON is fuzzed, or it is said why not", () => {
  const doors = openDoors();
  const fuzzed = ENTRIES.flatMap((entry) => entry.doors);

  test("the reports of docs/api are read", () => {
    expect(doors.length).toBeGreaterThan(70);
    expect(doors).toContain("siltbook parseIso4406");
    expect(doors).toContain("siltbook/book Book.override");
    expect(doors).not.toContain("siltbook circulationFloor");
  });

  test("no open door is left out", () => {
    expect(doors.filter((door) => !fuzzed.includes(door) && !Object.hasOwn(NOT_FUZZED, door))).toEqual([]);
  });

  test("nothing is named that is no door any more", () => {
    const named = [...fuzzed.filter((door) => !door.startsWith("src/")), ...Object.keys(NOT_FUZZED)];
    expect(named.filter((door) => !doors.includes(door))).toEqual([]);
    expect(Object.keys(NOT_FUZZED).filter((door) => fuzzed.includes(door))).toEqual([]);
  });
});

describe(`whatever a parser is given, it reads it or refuses it with a documented error (seed ${SEED})`, () => {
  test.each(ENTRIES.map((entry) => [entry.doors.join(", "), entry] as const))("%s", async (_, entry) => {
    await fuzz(entry, PARSERS_SHARE / ENTRIES.length);
  });
});
