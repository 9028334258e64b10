import { describe, expect, test } from "vitest";
import { Book } from "../../src/book/index.js";
import { cumulativeCounts } from "../../src/counts/index.js";
import {
  bytesInMemory,
  type CheckCode,
  collectSamples,
  meaningOfReport,
  type Report,
  readLabFile,
  versionsOf,
} from "../../src/intake/index.js";
import { cartsFileSchema, type Sample } from "../../src/samples/index.js";

const NAMED = { sample: "S-1", cart: "C-1", circuit: "1", drawnOn: "2026-03-04" };
const report = (reportedOn: string | undefined, said: Partial<Sample>): Report => ({
  sample: {
    ...NAMED,
    ...(reportedOn !== undefined && { reportedOn }),
    ...said,
    origin: [{ file: `${reportedOn ?? "undated"}.csv`, rows: [2] }],
  },
});
const water = (value: number): Partial<Sample> => ({ waterPpm: { value } });
const acid = (value: number): Partial<Sample> => ({ acidMgKohPerG: { value } });
const counts = (...pairs: [number, number][]): Partial<Sample> => ({
  counts: cumulativeCounts(
    pairs.map(([sizeUm, count]) => ({ sizeUm, count })),
    1,
  ),
});
const DAY_3 = "2026-03-06";
const DAY_5 = "2026-03-08";
const DAY_9 = "2026-03-12";

interface Case {
  readonly says: string;
  readonly known: readonly Report[];
  readonly next: Report;
  readonly accepted?: readonly CheckCode[];
  readonly kind: ReturnType<typeof meaningOfReport>["kind"];
  /** What the sample says afterwards. */
  readonly stands?: Partial<Sample>;
}

const CASES: readonly Case[] = [
  {
    says: "the colour of a patch whose class was reported before: the class stays",
    known: [report(DAY_3, { patchTest: { class: { value: 9 }, standard: "NAS 1638" } })],
    next: report(DAY_5, { patchTest: { colour: "white" } }),
    kind: "adds",
    stands: { patchTest: { class: { value: 9 }, standard: "NAS 1638", colour: "white" } },
  },
  {
    says: "the same without days of the reports",
    known: [report(undefined, { patchTest: { freeWater: true } })],
    next: report(undefined, { patchTest: { class: { value: 6 }, standard: "NAS 1638" } }),
    kind: "adds",
    stands: { patchTest: { freeWater: true, class: { value: 6 }, standard: "NAS 1638" } },
  },
  {
    says: "another class of a patch, by another standard: the standard goes with its class",
    known: [
      report(DAY_3, { patchTest: { class: { value: 5 }, standard: "NAVAIR 01-1A-17", stained: true } }),
    ],
    next: report(DAY_5, { patchTest: { class: { value: 7 } } }),
    kind: "corrects",
    stands: { patchTest: { class: { value: 7 }, stained: true } },
  },
  {
    says: "the same class of a patch by another standard, without days",
    known: [report(undefined, { patchTest: { class: { value: 5 }, standard: "NAVAIR 01-1A-17" } })],
    next: report(undefined, { patchTest: { class: { value: 5 }, standard: "NAS 1638" } }),
    kind: "contradicts",
  },
  {
    says: "a code of the patch next to its class",
    known: [report(DAY_3, { patchTest: { class: { value: 7 }, standard: "NAS 1638" } })],
    next: report(DAY_5, { patchTest: { code: "17/15/12" } }),
    kind: "adds",
    stands: { patchTest: { class: { value: 7 }, standard: "NAS 1638", code: "17/15/12" } },
  },
  {
    says: "a calibration with water alone: that of the counts stays",
    known: [report(DAY_3, { ...counts([4, 900]), calibrationDueOn: "2026-01-31" })],
    next: report(DAY_5, { ...water(120), calibrationDueOn: "2026-12-31" }),
    kind: "corrects",
    stands: { ...water(120), calibrationDueOn: "2026-01-31" },
  },
  {
    says: "a calibration with counts: it goes with them",
    known: [report(DAY_3, { ...counts([4, 900]), calibrationDueOn: "2026-01-31" })],
    next: report(DAY_5, { ...counts([4, 910]), calibrationDueOn: "2026-12-31" }),
    kind: "corrects",
    stands: { ...counts([4, 910]), calibrationDueOn: "2026-12-31" },
  },
  {
    says: "the same again",
    known: [report(DAY_5, water(120))],
    next: report(DAY_5, water(120)),
    kind: "same",
  },
  {
    says: "a part of what stands, without a day",
    known: [report(DAY_5, { ...water(120), ...acid(0.1) })],
    next: report(undefined, acid(0.1)),
    kind: "same",
  },
  {
    says: "the same time with its seconds",
    known: [report(DAY_5, { drawnTime: "10:00:00" })],
    next: report(DAY_5, { drawnTime: "10:00" }),
    kind: "same",
  },
  {
    says: "another time of the same day",
    known: [report(DAY_5, { drawnTime: "10:00" })],
    next: report(DAY_5, { drawnTime: "10:30" }),
    kind: "contradicts",
  },
  {
    says: "the same counts per 100 mL",
    known: [report(undefined, counts([4, 1300]))],
    next: report(undefined, { counts: cumulativeCounts([{ sizeUm: 4, count: 130_000 }], 100) }),
    kind: "same",
  },
  {
    says: "a result that was missing, without a day",
    known: [report(undefined, water(120))],
    next: report(undefined, acid(0.1)),
    kind: "adds",
    stands: { ...water(120), ...acid(0.1) },
  },
  {
    says: "a result that was missing, in an earlier report that came later",
    known: [report(DAY_5, water(120))],
    next: report(DAY_3, acid(0.1)),
    kind: "adds",
    stands: { ...water(120), ...acid(0.1), reportedOn: DAY_5 },
  },
  {
    says: "a class of another standard",
    known: [report(undefined, { reportedClasses: [{ standard: "ISO 4406", class: "17/15/12" }] })],
    next: report(undefined, { reportedClasses: [{ standard: "NAS 1638", class: "6" }] }),
    kind: "adds",
  },
  {
    says: "the same results in a report of a later day",
    known: [report(DAY_3, water(120))],
    next: report(DAY_5, water(120)),
    kind: "adds",
    stands: { ...water(120), reportedOn: DAY_5 },
  },
  {
    says: "another value in a report of a later day",
    known: [report(DAY_3, water(120))],
    next: report(DAY_5, water(180)),
    kind: "corrects",
    stands: { ...water(180), reportedOn: DAY_5 },
  },
  {
    says: "a word in place of a number, in a report of a later day",
    known: [report(DAY_3, counts([4, 1300], [14, 40]))],
    next: report(DAY_5, {
      wordedResults: [{ measurand: "count above 4 µm(c)", said: "too-many-to-count" }],
    }),
    kind: "corrects",
    stands: counts([14, 40]),
  },
  {
    says: "another value in a report of an earlier day",
    known: [report(DAY_5, water(180))],
    next: report(DAY_3, water(120)),
    kind: "precedes",
    stands: { ...water(180), reportedOn: DAY_5 },
  },
  {
    says: "a report between two: the first is corrected, the last stands",
    known: [report(DAY_3, { ...water(120), ...acid(0.1) }), report(DAY_9, water(180))],
    next: report(DAY_5, { ...water(150), ...acid(0.2) }),
    kind: "precedes",
    stands: { ...water(180), ...acid(0.2), reportedOn: DAY_9 },
  },
  {
    says: "what a correction replaced, with its day",
    known: [report(DAY_3, water(120)), report(DAY_5, water(180))],
    next: report(DAY_3, water(120)),
    kind: "old",
  },
  {
    says: "what a correction replaced, without a day",
    known: [report(DAY_3, water(120)), report(DAY_5, water(180))],
    next: report(undefined, water(120)),
    kind: "old",
  },
  {
    says: "what a correction replaced, in a report of a still later day: it is right after all",
    known: [report(DAY_3, water(120)), report(DAY_5, water(180))],
    next: report(DAY_9, water(120)),
    kind: "corrects",
    stands: { ...water(120), reportedOn: DAY_9 },
  },
  {
    says: "half of what stands and half of what was replaced",
    known: [report(DAY_3, { ...water(120), ...acid(0.1) }), report(DAY_5, { ...water(180), ...acid(0.2) })],
    next: report(undefined, { ...water(180), ...acid(0.1) }),
    kind: "contradicts",
  },
  {
    says: "another value, and neither report has a day",
    known: [report(undefined, water(120))],
    next: report(undefined, water(180)),
    kind: "contradicts",
  },
  {
    says: "another value without a day against a report with one",
    known: [report(DAY_5, water(120))],
    next: report(undefined, water(180)),
    kind: "contradicts",
  },
  {
    says: "another value with a day against a report without one",
    known: [report(undefined, water(120))],
    next: report(DAY_5, water(180)),
    kind: "contradicts",
  },
  {
    says: "another value in a report of the same day",
    known: [report(DAY_5, water(120))],
    next: report(DAY_5, water(180)),
    kind: "contradicts",
  },
  {
    says: "a limit value in place of a number, the same day",
    known: [report(DAY_5, water(120))],
    next: report(DAY_5, { waterPpm: { value: 120, limit: "above" } }),
    kind: "contradicts",
  },
  {
    says: "clear in one report and cloudy in the other",
    known: [report(undefined, { appearance: ["clear"] })],
    next: report(undefined, { appearance: ["cloudy"] }),
    kind: "contradicts",
  },
  {
    says: "another value without days that a person accepted",
    known: [report(undefined, water(120))],
    next: report(undefined, water(180)),
    accepted: ["differs-from-book"],
    kind: "corrects",
    stands: water(180),
  },
  {
    says: "another value, where a person accepted something else",
    known: [report(undefined, water(120))],
    next: report(undefined, water(180)),
    accepted: ["factor-of-100"],
    kind: "contradicts",
  },
  {
    says: "another drawing day, also in a report of a later day",
    known: [report(DAY_5, water(120))],
    next: report(DAY_9, { drawnOn: "2026-03-05", ...water(120) }),
    kind: "contradicts",
  },
  {
    says: "another drawing day that a person accepted",
    known: [report(DAY_5, water(120))],
    next: report(DAY_9, { drawnOn: "2026-03-05", ...water(120) }),
    accepted: ["day-differs-from-book"],
    kind: "corrects",
    stands: { drawnOn: "2026-03-05" },
  },
  {
    says: "an accepted drawing day does not accept another value",
    known: [report(undefined, water(120))],
    next: report(undefined, { drawnOn: "2026-03-05", ...water(180) }),
    accepted: ["day-differs-from-book"],
    kind: "contradicts",
  },
  {
    says: "a later report whose counts do not go with the sizes that stand",
    known: [report(DAY_3, counts([4, 1300], [6, 320]))],
    next: report(DAY_5, counts([4, 200])),
    kind: "contradicts",
  },
];

describe("what a further report of a sample means", () => {
  test.each(CASES)("$says: $kind", ({ known, next, accepted, kind, stands }) => {
    const meaning = meaningOfReport(known, next, accepted);
    expect(meaning.kind).toBe(kind);
    if (stands === undefined) return;
    expect("reports" in meaning).toBe(true);
    if ("reports" in meaning) expect(versionsOf(meaning.reports).at(-1)).toMatchObject(stands);
  });

  test("a contradiction names the column, what stands there and where", () => {
    const meaning = meaningOfReport([report(DAY_5, water(120))], report(undefined, water(180)));
    expect(meaning).toMatchObject({
      findings: [
        {
          code: "differs-from-book",
          holds: "water",
          expected: expect.stringMatching(
            /^120, as in 2026-03-08\.csv row 2 \(only a report of a later day corrects/,
          ),
        },
      ],
    });
  });
});

const HEADER =
  "sample,cart,circuit,drawn on,reported on,4 µm(c) per mL,6 µm(c) per mL,14 µm(c) per mL,water (mg/kg)";
const lab = (name: string, ...rows: string[]) =>
  bytesInMemory(name, new TextEncoder().encode([HEADER, ...rows].join("\n")));
const row = (reportedOn: string, ppm: number, four = 1300) =>
  `S-1,C-1,1,2026-03-04,${reportedOn},${four},320,40,${ppm}`;
const TODAY = { today: "2026-12-31" };
const CARTS = cartsFileSchema.parse({
  carts: [
    {
      cart: "C-1",
      circuits: [
        {
          circuit: "1",
          serves: "main system",
          fluid: "MIL-PRF-83282",
          volume: "60 L",
          flow: "45 L/min",
          element: { position: "pressure", betas: [{ sizeUmC: 4, beta: 20 }] },
        },
      ],
    },
  ],
}).carts;

/** Every order of a list. */
function orders<T>(list: readonly T[]): T[][] {
  if (list.length < 2) return [[...list]];
  return list.flatMap((first, index) =>
    orders([...list.slice(0, index), ...list.slice(index + 1)]).map((rest) => [first, ...rest]),
  );
}

describe("the order of import means nothing, in a book and with files", () => {
  const FILES = { first: row(DAY_3, 900), second: row(DAY_5, 150), third: row(DAY_9, 180) };
  const names = Object.keys(FILES) as (keyof typeof FILES)[];

  test.each(orders(names).map((order) => [order.join(", "), order] as const))(
    "%s into a book: the latest report stands, all are in the history, no row is left over",
    async (_, order) => {
      const book = Book.open(":memory:", { create: true });
      for (const name of order) {
        const taken = await book.takeIn(lab(`${name}.csv`, FILES[name]), TODAY);
        expect(taken.quarantined).toBe(0);
        expect(taken.taken + taken.amended).toBe(1);
      }
      const [history] = book.history("C-1", "1");
      expect(history?.sample).toMatchObject({ waterPpm: { value: 180 }, reportedOn: DAY_9 });
      expect(history?.source.file).toBe("third.csv");
      expect(history?.amendments.map(({ earlier }) => earlier.waterPpm?.value)).toEqual([900, 150]);
      expect(history?.amendments.map(({ by }) => by.file)).toEqual(["second.csv", "third.csv"]);
      for (const name of order) {
        expect(await book.takeIn(lab(`${name}.csv`, FILES[name]), TODAY)).toMatchObject({ known: 1 });
        const [, { fate }] = [
          ...book.rows(book.files().find(({ file }) => file === `${name}.csv`)?.sha256 ?? ""),
        ] as [unknown, { fate: string }];
        expect([name, fate]).toEqual([name, name === order[0] ? "taken" : "amended"]);
      }
      book.close();
    },
  );

  test.each(orders(names).map((order) => [order.join(", "), order] as const))(
    "%s as files: the latest report stands, and that is said",
    async (_, order) => {
      const files = await Promise.all(
        order.map((name) =>
          readLabFile(`${name}.csv`, new TextEncoder().encode(`${HEADER}\n${FILES[name]}`)),
        ),
      );
      const { samples, quarantine, assumptions } = collectSamples(files, CARTS);
      expect(quarantine).toEqual([]);
      expect(samples).toMatchObject([{ waterPpm: { value: 180 }, reportedOn: DAY_9 }]);
      expect(samples[0]?.origin).toHaveLength(3);
      expect(assumptions.map(({ message }) => message)).toEqual([
        `of several reports of sample S-1 of cart C-1, circuit 1, the one of ${DAY_9} stands and corrects the earlier ones`,
      ]);
    },
  );

  test("the reports of several days may be in one file", async () => {
    const book = Book.open(":memory:", { create: true });
    const report = await book.takeIn(
      lab("all.csv", row(DAY_9, 180), row(DAY_3, 900), row(DAY_5, 150)),
      TODAY,
    );
    expect(report).toMatchObject({ taken: 3, quarantined: 0 });
    expect([...book.samples()]).toMatchObject([{ waterPpm: { value: 180 } }]);
    const again = await book.takeIn(lab("all.csv", row(DAY_9, 180), row(DAY_3, 900), row(DAY_5, 150)), TODAY);
    expect(again).toMatchObject({ taken: 0, known: 3 });
    book.close();
  });

  test("without days two results of one number are a person's to settle, in a book and with files", async () => {
    const book = Book.open(":memory:", { create: true });
    await book.takeIn(lab("first.csv", row("", 120)), TODAY);
    const second = await book.takeIn(lab("second.csv", row("", 180, 1500)), TODAY);
    expect(second.quarantine[0]?.issues.map(({ code, column, value }) => [code, column, value])).toEqual([
      ["differs-from-book", "water (mg/kg)", "180"],
      ["differs-from-book", "4 µm(c) per mL", "1500"],
    ]);
    expect([...book.samples()]).toMatchObject([{ waterPpm: { value: 120 } }]);
    const accepted = new TextEncoder().encode(
      `${HEADER},quarantine accepted\n${row("", 180, 1500)},differs-from-book`,
    );
    expect(await book.takeIn(bytesInMemory("accepted.csv", accepted), TODAY)).toMatchObject({ amended: 1 });
    expect([...book.samples()]).toMatchObject([{ waterPpm: { value: 180 } }]);
    book.close();

    const files = await Promise.all(
      [row("", 120), row("", 180)].map((text, index) =>
        readLabFile(`${index}.csv`, new TextEncoder().encode(`${HEADER}\n${text}`)),
      ),
    );
    const { samples, quarantine } = collectSamples(files, CARTS);
    expect(samples).toEqual([]);
    expect(quarantine.map(({ issues }) => issues[0]?.code)).toEqual([
      "conflicting-results",
      "conflicting-results",
    ]);
  });

  test("a file that completes another is taken, with files as with a book", async () => {
    const split = [
      "sample,cart,circuit,drawn on,water (mg/kg)\nS-1,C-1,1,2026-03-04,120",
      "sample,cart,circuit,drawn on,acid number (mg KOH/g)\nS-1,C-1,1,2026-03-04,0.1",
    ];
    const files = await Promise.all(
      split.map((text, index) => readLabFile(`${index}.csv`, new TextEncoder().encode(text))),
    );
    expect(collectSamples(files, CARTS)).toMatchObject({
      samples: [{ waterPpm: { value: 120 }, acidMgKohPerG: { value: 0.1 } }],
      quarantine: [],
    });
  });
});
