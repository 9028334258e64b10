import { describe, expect, test } from "vitest";
import { Book } from "../../src/book/index.js";
import { bytesInMemory, readLabFile } from "../../src/intake/index.js";
import type { Description } from "../../src/intake/layout/meaning.js";
import { gatherDescriptions } from "../../src/intake/words/described.js";
import { blockFile, longFile, oneCircuit, wideFile } from "../support/one-circuit.js";

const one = oneCircuit();

const TITLE: Record<Description, string> = {
  colour: "Colour",
  appearance: "Appearance",
  "sample-point": "Sampling point",
  flowing: "Flowing when drawn",
};

/** What one cell becomes, and the parts of it that a person has to read. */
function readCell(holds: Description, cell: string) {
  const result = { measurand: { holds }, cell, row: 2, column: TITLE[holds] };
  const { wordsNotUnderstood = [], ...known } = gatherDescriptions(
    [{ result, meaning: { holds } }],
    [],
    new Map(),
  ).results;
  return { known, left: wordsNotUnderstood.map(({ text }) => text) };
}

describe("of a phrase with an unknown part the known finding is kept and the rest is quoted", () => {
  test.each([
    ["cloudy, weird smell", ["cloudy"], ["weird smell"]],
    ["weird smell; cloudy", ["cloudy"], ["weird smell"]],
    // Without a comma nobody can tell what belongs together: the whole is read by a person, and it is cloudy still.
    ["Cloudy weird smell", ["cloudy"], ["Cloudy weird smell"]],
    ["water at bottom, oily rag", ["free-water"], ["oily rag"]],
    ["metal flakes (gold coloured?)", ["particles-seen"], ["metal flakes (gold coloured?)"]],
    ["clear when warm", ["clear"], ["clear when warm"]],
    ["almost clear", ["clear"], ["almost clear"]],
    ["clear?", ["clear"], ["clear?"]],
    ["clear, dark", ["clear"], ["dark"]],
    ["clear black", ["clear"], ["clear black"]],
    ["clear but foaming", ["clear"], ["foaming"]],
    ["clear, burnt smell", ["clear"], ["burnt smell"]],
    ["dissolved water", ["free-water"], ["dissolved water"]],
    ["abnormal", undefined, ["abnormal"]],
    ["not OK", undefined, ["not OK"]],
    ["✗", undefined, ["✗"]],
    ["visible", undefined, ["visible"]],
  ])("%j", (cell, appearance, left) => {
    const read = readCell("appearance", cell);
    expect(read.known.appearance).toEqual(appearance);
    expect(read.left).toEqual(left);
  });
});

describe("the usual words of other languages, under titles of theirs", () => {
  test.each([
    ["Aussehen", "klar und hell", []],
    ["Aussehen", "klar, kein Wasser", []],
    ["Aussehen", "rot, klar", []],
    ["Aussehen", "leicht trüb", ["cloudy-seen"]],
    ["Aussehen", "Wasser am Boden", ["free-water-seen"]],
    ["Aussehen", "Späne sichtbar", ["particles-seen"]],
    ["Aussehen", "dunkel", ["words-not-understood"]],
    ["Aspect", "limpide, sans eau", []],
    ["Aspect", "trouble", ["cloudy-seen"]],
    ["Aspecto", "claro y brillante", []],
    ["Aspecto", "agua libre", ["free-water-seen"]],
    ["Aspetto", "limpido", []],
    ["Aspetto", "torbido", ["cloudy-seen"]],
    ["Uiterlijk", "troebel", ["cloudy-seen"]],
    ["Farbe", "rot", []],
    ["Colour", "rouge", []],
    ["Colour", "violett", ["colour-of-another-fluid"]],
    ["Colour", "schwarz", ["words-not-understood"]],
    ["Flowing", "ja", []],
    ["Flowing", "nein", ["drawn-without-flow"]],
    ["Probenahmestelle", "Druckleitung", []],
    ["Probenahmestelle", "Fass", ["sample-point-unsuited"]],
    ["Esito", "scarto", ["laboratory-rejects"]],
    // A sampler with its tag says more of the line that is named beside it.
    ["Sample point", "main line, sampling valve SV-1", []],
    ["Sample point", "pressure line upstream of filter", []],
    ["Sample point", "tank drain, sampling valve SV-1", ["sample-point-unsuited"]],
  ])("%s: %j", async (title, text, codes) => {
    expect(await one.judge(wideFile({ [title]: text }))).toMatchObject({ codes, quarantine: [] });
  });
});

describe("titles that people give to what is said of a bottle and its fluid", () => {
  test.each([
    ["Appearance and colour", "purple, clear", ["colour-of-another-fluid"]],
    ["Colour (visual)", "purple", ["colour-of-another-fluid"]],
    ["Dye", "red", []],
    ["Appearance of the oil", "cloudy", ["cloudy-seen"]],
    ["Water visible", "yes", ["free-water-seen"]],
    ["Water visible", "no", []],
    ["Sample source", "new oil drum", ["sample-point-unsuited"]],
    ["Sample taken from", "pressure line", []],
    ["Was fluid flowing?", "no", ["drawn-without-flow"]],
    ["Pump on?", "yes", []],
    ["Crackle test", "positive", ["free-water-seen"]],
    ["Crackle test", "negative", []],
    ["Odour", "burnt", ["smell-unusual"]],
    ["Odour", "normal", []],
    ["Odour", "typical", []],
    ["Fluid identification", "not confirmed", ["laboratory-rejects"]],
    ["Fluid identification", "mineral oil", ["laboratory-doubts"]],
    ["IR spectrum", "matches reference", []],
    ["FTIR", "unknown fluid", ["laboratory-doubts"]],
    // A fluid that the report names in any column about the fluid.
    ["FTIR match", "MIL-PRF-5606H", ["identity-in-doubt"]],
    ["Label", "AS1241 Type IV, class 1", ["identity-in-doubt"]],
    ["Fluid name", "mil prf 5606", ["identity-in-doubt"]],
    ["Remarks", "contains phosphate ester", ["identity-in-doubt"]],
    ["Remarks", "no phosphate ester", []],
    ["Label", "MIL-PRF-83282D", []],
    ["Fluid of other circuit", "AS1241 Type IV", []],
    ["Approved fluids", "MIL-PRF-5606", []],
    ["Previous fluid", "MIL-PRF-5606", []],
  ])("%s: %j", async (title, text, codes) => {
    expect(await one.judge(wideFile({ [title]: text }))).toMatchObject({ codes, quarantine: [] });
  });

  test("a density without its temperature is shown, a number under any other unknown title is not", async () => {
    const words = await one.judgeInWords(wideFile({ "Density (kg/m³)": "990", Shelf: "12" }));
    expect(words).toContain('also says: Density (kg/m³) "990"\n');
  });
});

describe("what is seen in a bottle, as people write it", () => {
  test.each([
    ["water at bottom", ["free-water"]],
    ["Water droplets", ["free-water"]],
    ["trace of water", ["free-water"]],
    ["metal flakes", ["particles-seen"]],
    ["shiny particles", ["particles-seen"]],
    ["black specks", ["particles-seen"]],
    ["Sediment.", ["particles-seen"]],
    ["fibres / rust", ["fibres-seen", "particles-seen"]],
    ["clear with a few specks", ["clear", "particles-seen"]],
    ["clear w/ particles", ["clear", "particles-seen"]],
    ["MILKY", ["cloudy"]],
    ["slightly hazy", ["cloudy"]],
    ["very cloudy!", ["cloudy"]],
    ["clear, slight haze", ["clear", "cloudy"]],
    ["two distinct layers", ["two-layers"]],
    ["phase separation", ["two-layers"]],
    ["c&b", ["clear"]],
    ["Clear/Bright", ["clear"]],
    ["clear – bright", ["clear"]],
    ["normal", ["nothing-seen"]],
    ["OK", ["nothing-seen"]],
  ])("%j", (cell, appearance) => {
    expect(readCell("appearance", cell)).toEqual({ known: { appearance }, left: [] });
  });
});

describe("a denial turns round what it stands before, and no more", () => {
  test.each([
    ["no free water", ["nothing-seen"]],
    ["free of water", ["nothing-seen"]],
    ["water-free", ["nothing-seen"]],
    ["water: none", ["nothing-seen"]],
    ["particles - none", ["nothing-seen"]],
    ["particles not visible", ["nothing-seen"]],
    ["clear, no particles", ["clear"]],
    ["clear, no odour, no foam", ["clear"]],
    ["not cloudy or hazy", ["nothing-seen"]],
    ["no water, sediment or particles", ["nothing-seen"]],
    ["no water/sediment", ["nothing-seen"]],
    ["clear, free of visible water and particulates", ["clear"]],
    // What is denied first says nothing of what is said after it.
    ["no visible water but cloudy", ["cloudy"]],
    ["No water, cloudy", ["cloudy"]],
    ["no water cloudy", ["cloudy"]],
    ["free of water and cloudy", ["cloudy"]],
    ["no water, cloudy or hazy", ["cloudy"]],
    ["not clear", ["cloudy"]],
    ["never clear", ["cloudy"]],
    ["isn't clear", ["cloudy"]],
    ["not free of water", ["free-water"]],
  ])("%j", (cell, appearance) => {
    expect(readCell("appearance", cell)).toEqual({ known: { appearance }, left: [] });
  });
});

describe("where the bottle was filled", () => {
  test.each([
    ["Return-line sampling valve", "main-flow-line", []],
    ["pressure line, port 3", "main-flow-line", []],
    ["reservoir", "reservoir", []],
    ["tank bottom", "drain", []],
    ["bottom of the tank", "drain", []],
    ["drum", "supply-container", []],
    ["from can", "supply-container", []],
    ["new fluid, sealed drum", "supply-container", []],
    // Of two places the one that says less of the fluid that is delivered.
    ["reservoir and drain", "drain", []],
    ["return line; QD panel left", "main-flow-line", ["QD panel left"]],
    ["port 3", undefined, ["port 3"]],
    ["SP-2", undefined, ["SP-2"]],
    ["sampling valve", undefined, ["sampling valve"]],
    ["not return line", undefined, ["not return line"]],
  ])("%j", (cell, samplePoint, left) => {
    const read = readCell("sample-point", cell);
    expect(read).toEqual({ known: samplePoint === undefined ? {} : { samplePoint }, left });
  });

  test("a place that says that nothing flowed says so of the sample", () => {
    expect(readCell("sample-point", "Return line (static)").known).toEqual({
      samplePoint: "main-flow-line",
      flowing: false,
    });
  });
});

describe("whether the fluid was flowing", () => {
  test.each([
    ["off", false, []],
    ["pump off", false, []],
    ["not flowing", false, []],
    ["No flow.", false, []],
    ["shut down", false, []],
    ["Pump stopped", false, []],
    ["STATIC", false, []],
    ["no pump running", false, []],
    ["0 L/min", false, []],
    ["yes/no", false, []],
    ["yes, then pump off", false, ["then pump off"]],
    ["yes", true, []],
    ["not stopped", true, []],
    ["45 L/min", true, []],
    ["yes, 12 gpm", true, []],
    ["flowing (10 min)", true, []],
    ["perhaps", undefined, ["perhaps"]],
    ["?", undefined, ["?"]],
  ])("%j", (cell, flowing, left) => {
    expect(readCell("flowing", cell)).toEqual({ known: flowing === undefined ? {} : { flowing }, left });
  });
});

describe("colours", () => {
  test.each([
    // The text is kept whole: what it says of the fluid is decided later.
    ["red/purple", { colour: "red/purple" }, []],
    ["amber (ASTM 2.5)", { colour: "amber (ASTM 2.5)" }, []],
    ["Water white", { colour: "Water white" }, []],
    ["dark red", { colour: "dark red" }, []],
    ["milky red", { colour: "milky red", appearance: ["cloudy"] }, []],
    ["red with purple layer", { colour: "red with purple layer", appearance: ["two-layers"] }, []],
    ["not red", { colour: "not red" }, ["not red"]],
    ["dark", {}, ["dark"]],
    ["black", {}, ["black"]],
    ["see below", {}, ["see below"]],
  ])("%j", (cell, known, left) => {
    expect(readCell("colour", cell)).toEqual({ known, left });
  });

  test("a colour that stands under appearance is a colour", () => {
    expect(readCell("appearance", "Clear, red, no particles")).toEqual({
      known: { appearance: ["clear"], colour: "red" },
      left: [],
    });
  });
});

test.each(["", " - ", "--", "N/A", "n.a.", "not reported", "NOT STATED", "none recorded", "unknown", "nr"])(
  "%j says nothing, under any title",
  (cell) => {
    for (const holds of Object.keys(TITLE) as Description[])
      expect(readCell(holds, cell)).toEqual({ known: {}, left: [] });
  },
);

describe("a circuit waits for a person who reads what is not understood", () => {
  const held = [
    ["Appearance", "cloudy, weird smell", ["cloudy-seen", "words-not-understood"], '"weird smell"'],
    ["Sampling point", "port 3", ["words-not-understood"], '"port 3"'],
    ["Flowing when drawn", "perhaps", ["words-not-understood"], '"perhaps"'],
    ["Colour", "see below", ["words-not-understood"], '"see below"'],
  ] as const;
  const shapes = [
    ["a row for each sample", wideFile],
    ["a row for each measurand", longFile],
    ["a block", blockFile],
  ] as const;

  test.each(held.flatMap((each) => shapes.map((shape) => [...each, ...shape] as const)))(
    "%s %j",
    async (title, cell, codes, quote, _shape, file) => {
      const verdict = await one.judge(file({ [title]: cell }));
      expect(verdict.quarantine).toEqual([]);
      expect([...verdict.codes].sort()).toEqual(codes);
      expect(verdict.verdict).toBe("resample");
      const reason = verdict.reasons.find(({ code }: { code: string }) => code === "words-not-understood");
      expect(reason.message).toContain(quote);
      expect(reason.message).toContain("sample S-1");
    },
  );

  // Nothing of this is required by the requirement; it was reported, and counts.
  test.each([
    ["Appearance", "water at bottom", "exchange-fluid", "free-water-seen"],
    ["Appearance", "not clear", "resample", "cloudy-seen"],
    ["Appearance", "clear with a few specks", "resample", "particles-seen"],
    ["Sampling point", "drum", "resample", "sample-point-unsuited"],
    ["Sampling point", "tank bottom", "resample", "sample-point-unsuited"],
    ["Flowing when drawn", "off", "resample", "drawn-without-flow"],
    ["Colour", "cloudy red", "resample", "cloudy-seen"],
  ])("%s %j calls for %s", async (title, cell, verdict, code) => {
    const judged = await one.judge(wideFile({ [title]: cell }));
    expect(judged.verdict).toBe(verdict);
    expect(judged.codes).toContain(code);
  });

  test.each([
    ["Appearance", "Clear, bright; no free water"],
    ["Appearance", "clear red liquid"],
    ["Appearance", "normal"],
    ["Appearance", "n/a"],
    ["Sampling point", "Return line, port 2"],
    ["Flowing when drawn", "yes (45 L/min)"],
    ["Colour", "1.5"],
    ["Colour", "L0.5 ASTM D1500"],
    ["Colour", "bright red"],
  ])("%s %j sends nobody away", async (title, cell) => {
    expect(await one.judge(wideFile({ [title]: cell }))).toMatchObject({ verdict: "fit", codes: [] });
  });
});

describe("a column map says what the words of a laboratory mean", () => {
  const map = (words: object) =>
    one.write("lab.map.json", JSON.stringify({ siltbookColumnMap: 1, name: "our laboratory", words }));

  test.each([
    ["Sampling point", "Port 3", { "port 3": "main-flow-line" }, "fit", []],
    ["Sampling point", "port 3", { "port 3": "drain" }, "resample", ["sample-point-unsuited"]],
    ["Appearance", "clear, weird smell", { "weird smell": "nothing" }, "fit", []],
    ["Appearance", "trüb", { trüb: "cloudy" }, "resample", ["cloudy-seen"]],
    ["Flowing when drawn", "läuft", { läuft: "flowing" }, "fit", []],
    // A place is no appearance: what was settled for one kind of cell settles no other.
    ["Appearance", "port 3", { "port 3": "main-flow-line" }, "resample", ["words-not-understood"]],
  ])("%s %j by %j", async (title, cell, words, verdict, codes) => {
    expect(await one.judge(wideFile({ [title]: cell }), "--map", map(words))).toMatchObject({
      verdict,
      codes,
    });
  });

  test("a meaning that is none is refused by name", async () => {
    const result = await one.run(
      ...["judge", "--carts", one.at("carts.json"), "--requirement", one.at("requirement.json")],
      ...[
        "--on",
        "2026-03-14",
        "--map",
        map({ "port 3": "pressure port" }),
        one.write("x.csv", wideFile({})),
      ],
    );
    expect(result.code).toBe(2);
    expect(result.err).toContain("lab.map.json: words.port 3");
  });
});

describe("in a book", () => {
  test("words that are not understood hold the circuit until the corrected cell arrives", async () => {
    const first = await one.judgeBook("corrected.siltbook", wideFile({ "Sampling point": "port 3" }));
    expect(first.codes).toEqual(["words-not-understood"]);
    const then = await one.judgeBook("corrected.siltbook", wideFile({ "Sampling point": "return line" }));
    expect(then).toMatchObject({ verdict: "fit", codes: [] });
    expect(then.sample).not.toHaveProperty("wordsNotUnderstood");
  });

  test("an export carries them, and what is read back holds the circuit as well", async () => {
    const book = Book.open(":memory:", { create: true });
    const text = wideFile({
      Colour: "red, odd",
      Appearance: "clear, weird smell",
      "Sampling point": "drain; port x",
      "Flowing when drawn": "perhaps",
    });
    await book.takeIn(bytesInMemory("lab.csv", new TextEncoder().encode(text)), { today: "2026-03-14" });
    const [sample] = [...book.samples()];
    expect(sample?.wordsNotUnderstood).toEqual([
      { about: "colour", text: "odd" },
      { about: "appearance", text: "weird smell" },
      { about: "sample point", text: "port x" },
      { about: "flow", text: "perhaps" },
    ]);
    const back = await readLabFile("export.csv", new TextEncoder().encode([...book.csv()].join("")));
    expect({ ...back.samples[0], origin: [] }).toEqual({ ...sample, origin: [] });
  });
});
