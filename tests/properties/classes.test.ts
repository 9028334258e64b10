import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  AS4059_CUMULATIVE,
  AS4059_DIFFERENTIAL,
  classifyByTable,
  continuousCode,
  countOfContinuousCode,
  countsOfAs4059,
  countsOfIso4406,
  crossRead,
  formatAs4059,
  formatIso4406,
  formatTarget,
  ISO_4406,
  ISO_4406_LAST,
  type Iso4406Code,
  NAVY_CLASSES,
  parseAs4059,
  parseIso4406,
  parseTarget,
  parseTwoNumberCode,
  type ScaleNumber,
  scaleNumberOf,
} from "../../src/cleanliness/index.js";
import { cumulativeCounts, intervalCounts } from "../../src/counts/index.js";
import {
  fallingCounts,
  LIMITS_PER_100_ML,
  nearLimit,
  particlesByRange,
  SIZES_UM,
  TABLES,
} from "../support/counts-near-limits.js";

const setOf = (counts: readonly number[], volumeMl = 100) =>
  cumulativeCounts(
    SIZES_UM.map((sizeUm, index) => ({ sizeUm, count: counts[index] as number })),
    volumeMl,
  );

const placeIn = (names: readonly string[], name: string) => {
  const place = names.indexOf(name);
  return place === -1 ? names.length : place;
};

describe.each(TABLES)("$standard, $edition", (table) => {
  const names = table.rows.map(([name]) => name);

  test("adding particles of any size never lowers the class of a channel or of the sample", () => {
    fc.assert(
      fc.property(
        fallingCounts,
        fc.nat({ max: SIZES_UM.length - 1 }),
        fc.oneof(fc.constant(1), fc.nat({ max: 100_000 })),
        (counts, upTo, added) => {
          const before = classifyByTable(table, setOf(counts));
          const after = classifyByTable(
            table,
            setOf(counts.map((count, index) => (index <= upTo ? count + added : count))),
          );
          if (before === undefined || after === undefined) throw new Error("every table serves these sizes");
          expect(placeIn(names, after.class)).toBeGreaterThanOrEqual(placeIn(names, before.class));
          before.channels.forEach((channel, index) => {
            const same = after.channels[index];
            expect(placeIn(names, same?.class ?? "")).toBeGreaterThanOrEqual(placeIn(names, channel.class));
          });
        },
      ),
      { numRuns: 500 },
    );
  });

  test("the class is that of the governing channel, and no channel in it uses more of its limit", () => {
    fc.assert(
      fc.property(fallingCounts, (counts) => {
        const result = classifyByTable(table, setOf(counts));
        const governing = result?.channels.find((channel) => channel.channel === result.governing);
        expect(governing?.class).toBe(result?.class);
        for (const channel of result?.channels ?? []) {
          expect(placeIn(names, channel.class)).toBeLessThanOrEqual(placeIn(names, result?.class ?? ""));
          if (channel.class === result?.class) {
            expect(channel.share).toBeLessThanOrEqual(governing?.share ?? Number.NaN);
          }
        }
      }),
      { numRuns: 500 },
    );
  });

  test("as many particles as the margin keep the channel in its class, one more does not", () => {
    fc.assert(
      fc.property(nearLimit, fc.nat({ max: table.channels.length - 1 }), (count, place) => {
        const { name: _name, ...range } = table.channels[place] as (typeof table.channels)[number];
        const classOf = (particles: number) =>
          classifyByTable(table, intervalCounts([{ ...range, count: particles }], 100))?.channels[0];
        const found = classOf(count);
        if (found === undefined || found.class === table.beyond) return;
        const least = Math.floor(found.margin);
        expect(classOf(count + least)?.class).toBe(found.class);
        expect(classOf(count + least + 1)?.class).not.toBe(found.class);
      }),
      { numRuns: 1000 },
    );
  });
});

test("the counts these properties run on lie on a printed limit a third of the time, and on most limits", () => {
  const drawn = fc.sample(nearLimit, { numRuns: 3000, seed: 7 });
  const onLimit = drawn.filter((count) => LIMITS_PER_100_ML.includes(count));
  expect(onLimit.length).toBeGreaterThan(1000);
  expect(new Set(onLimit).size).toBeGreaterThan(LIMITS_PER_100_ML.length * 0.9);
});

test("a count per mL and the same count per 100 mL have one class", () => {
  fc.assert(
    fc.property(particlesByRange, (perMl) => {
      const falling = [...perMl].sort((a, b) => b - a);
      const asPerMl = classifyByTable(AS4059_DIFFERENTIAL, setOf(falling, 1));
      const asPer100 = classifyByTable(
        AS4059_DIFFERENTIAL,
        setOf(
          falling.map((count) => count * 100),
          100,
        ),
      );
      expect(asPerMl?.channels.map((entry) => entry.class)).toEqual(
        asPer100?.channels.map((entry) => entry.class),
      );
    }),
  );
});

describe("what is written is read back", () => {
  const number = fc.record({
    kind: fc.constant("number" as const),
    scaleNumber: fc.nat({ max: ISO_4406_LAST }),
    atLeast: fc.boolean(),
  });
  const sign = fc.constantFrom<ScaleNumber>(
    { kind: "beyond" },
    { kind: "not-counted" },
    { kind: "too-many" },
  );
  const height = (place: ScaleNumber) =>
    place.kind === "number" ? place.scaleNumber : place.kind === "beyond" ? ISO_4406_LAST + 1 : undefined;
  const code = fc
    .tuple(fc.oneof(number, sign), fc.oneof(number, sign), fc.oneof(number, sign))
    .filter((places) => {
      const heights = places.map(height).filter((entry) => entry !== undefined);
      return heights.every((entry, index) => index === 0 || entry <= (heights[index - 1] as number));
    });
  const sized = fc
    .uniqueArray(
      fc.record({
        size: fc.constantFrom(...("ABCDEF".split("") as ("A" | "B" | "C" | "D" | "E" | "F")[])),
        class: fc.constantFrom("000", "00", "0", "1", "6", "6", "7", "12" as const),
      }),
      { selector: (part) => part.size, minLength: 1 },
    )
    .map((parts) => parts.sort((a, b) => a.size.localeCompare(b.size)));

  test("ISO 4406 codes with every sign", () => {
    fc.assert(
      fc.property(code, (places) => {
        expect(parseIso4406(formatIso4406(places))).toEqual(places);
      }),
    );
  });

  test("two-number codes", () => {
    fc.assert(
      fc.property(code, ([, at6, at14]) => {
        const two: Iso4406Code = [{ kind: "not-counted" }, at6, at14];
        expect(parseTwoNumberCode(formatIso4406(two))).toEqual(two);
      }),
    );
  });

  test("AS4059 classes with size codes, with neighbours drawn together", () => {
    fc.assert(
      fc.property(sized, (bySize) => {
        const as = { kind: "by-size", bySize } as Parameters<typeof formatAs4059>[0];
        expect(parseAs4059(formatAs4059(as)).code).toEqual(as);
      }),
    );
  });

  test("AS4059 classes without a letter, together with revision F", () => {
    fc.assert(
      fc.property(fc.constantFrom("00", "0", "1", "5", "12" as const), (name) => {
        const as = { kind: "differential", class: name } as const;
        expect(parseAs4059(formatAs4059(as), "F").code).toEqual(as);
      }),
    );
  });

  test("targets of every standard", () => {
    const numbers = fc.tuple(number, number, number).map((places) => {
      const falling = places.map((place) => place.scaleNumber).sort((a, b) => b - a);
      return falling.map((scaleNumber) => ({ kind: "number" as const, scaleNumber, atLeast: false }));
    });
    const target = fc.oneof(
      numbers.map((places) => ({ standard: "ISO 4406", code: places })),
      sized.map((bySize) => ({ standard: "AS4059 cumulative", bySize })),
      fc.constantFrom("AS4059 differential", "NAS 1638").map((standard) => ({ standard, class: "7" })),
    ) as fc.Arbitrary<ReturnType<typeof parseTarget>>;
    fc.assert(
      fc.property(target, (required) => {
        expect(parseTarget(formatTarget(required))).toEqual(required);
      }),
    );
  });
});

test("the continuous code, rounded up, is the scale number, and leads back to the count", () => {
  fc.assert(
    fc.property(nearLimit, (count) => {
      const place = scaleNumberOf(count, 100);
      const code = continuousCode(count, 100);
      if (code.kind !== "code") {
        expect([code.kind, place.kind]).toEqual(
          count === 0 ? ["below-scale", "number"] : ["beyond-scale", "beyond"],
        );
        return;
      }
      expect(place).toEqual({ kind: "number", scaleNumber: Math.ceil(code.value), atLeast: false });
      expect(countOfContinuousCode(code.value) / (count / 100)).toBeCloseTo(1, 12);
    }),
  );
});

describe("cross-reading never leaves out the class a fluid really has", () => {
  test.each([AS4059_CUMULATIVE, AS4059_DIFFERENTIAL, NAVY_CLASSES])(
    "from an ISO 4406 code to $standard",
    (table) => {
      const wide = table as unknown as (typeof TABLES)[number];
      const names = [...wide.rows.map(([name]) => name), wide.beyond];
      fc.assert(
        fc.property(fallingCounts, (counts) => {
          const set = setOf(counts);
          const own = classifyByTable(wide, set);
          const iso = classifyByTable(ISO_4406, set)?.channels.map((entry) => entry.class) ?? [];
          const reading = crossRead(wide, countsOfIso4406(parseIso4406(iso.join("/"))));
          const place = placeIn(names, own?.class ?? "");
          expect(place).toBeGreaterThanOrEqual(names.indexOf(reading.cleanest));
          expect(place).toBeLessThanOrEqual(names.indexOf(reading.dirtiest));
          own?.channels.forEach((channel, index) => {
            const possible = reading.channels[index];
            const found = placeIn(names, channel.class);
            expect(found).toBeGreaterThanOrEqual(names.indexOf(possible?.cleanest ?? ""));
            expect(found).toBeLessThanOrEqual(names.indexOf(possible?.dirtiest ?? ""));
          });
        }),
        { numRuns: 1000 },
      );
    },
  );

  test("from AS4059 cumulative classes to ISO 4406", () => {
    const names = [...ISO_4406.rows.map(([name]) => name), ISO_4406.beyond];
    fc.assert(
      fc.property(fallingCounts, (counts) => {
        const set = setOf(counts);
        const bySize = classifyByTable(AS4059_CUMULATIVE, set)?.channels ?? [];
        const printed = bySize.filter((entry) => entry.class !== "beyond 12");
        const reading = crossRead(
          ISO_4406,
          countsOfAs4059(printed.map((entry) => ({ size: entry.channel, class: entry.class })) as never),
        );
        classifyByTable(ISO_4406, set)?.channels.forEach((channel, index) => {
          const found = names.indexOf(channel.class);
          expect(found).toBeGreaterThanOrEqual(names.indexOf(reading.channels[index]?.cleanest ?? ""));
          expect(found).toBeLessThanOrEqual(names.indexOf(reading.channels[index]?.dirtiest ?? ""));
        });
      }),
      { numRuns: 1000 },
    );
  });
});
