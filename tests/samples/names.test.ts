import fc from "fast-check";
import { describe, expect, test, vi } from "vitest";
import { cartsFileSchema, confusedPairs, couldBeConfused, NameIndex } from "../../src/samples/index.js";
import { NearKeys } from "../../src/samples/names/near-keys.js";

const FLEET = Array.from({ length: 14 }, (_, index) => `QB-${String(index + 1).padStart(2, "0")}`);
const of = (...numbers: number[]) => numbers.map((number) => FLEET[number - 1]);

describe("a name that is not known is taken apart once for each way of reading it, however it is compared:", () => {
  test.each([
    ["a cart like none", "TX-44"],
    ["one slip away", "QD-07"],
    ["a kind of thing before it", "rig QX-77"],
  ])("%s", (_, written) => {
    const fleet = new NameIndex(FLEET);
    fleet.meant("ZZ-99"); // The known names are taken apart when the first is met that is not one of them.
    const isOfWords = ([pattern]: unknown[]) =>
      pattern instanceof RegExp && pattern.source.includes("\\p{M}");
    const spies = (["match", "matchAll"] as const).map((method) => vi.spyOn(String.prototype, method));
    fleet.meant(written);
    const calls = spies.flatMap(({ mock }) => mock.calls as unknown[][]).filter(isOfWords);
    vi.restoreAllMocks();
    // With a word that says only what the thing is, the name without it is another text.
    expect(calls.length).toBeLessThanOrEqual(written.startsWith("rig") ? 8 : 3);
    expect(calls.length).toBeGreaterThan(0);
  });
});

describe("of the carts QB-01 to QB-14", () => {
  const fleet = new NameIndex(FLEET);

  test.each([
    ["the very name", "QB-07", of(7)],
    ["a lower case", "qb-07", of(7)],
    ["no dash", "QB07", of(7)],
    ["an en dash", "QB–07", of(7)],
    ["a minus sign", "QB−07", of(7)],
    ["a non-breaking hyphen", "QB‑07", of(7)],
    ["a soft hyphen in the word", "Q\u00adB-07", of(7)],
    ["a soft hyphen in the number", "QB-0\u00ad7", of(7)],
    ["a space without width", "QB\u200b-07", of(7)],
    ["a non-breaking space", "QB\u00a007", of(7)],
    ["an underscore", "QB_07", of(7)],
    ["a full stop", "QB.07", of(7)],
    ["a slash", "QB/07", of(7)],
    ["no leading zero", "QB-7", of(7)],
    ["more leading zeros", "QB-0007", of(7)],
    ["full-width letters and figures", "ＱＢ－０７", of(7)],
    ["a Cyrillic letter that looks like B", "QВ-07", of(7)],
    ["a Greek letter that looks like B", "QΒ-07", of(7)],
    ["the letter O for a zero", "QB-O7", of(7)],
    ["a small l for a one", "QB-0l", of(1)],
    ["a capital I for a one", "QB-I4", of(14)],
    ["a word before it", "Cart QB-07", of(7)],
    ["a word before it without a space", "CartQB-07", of(7)],
    ["a word before it and no zero", "GPU QB 7", of(7)],
    ["a word after it", "QB-07 (hangar 2)", of(7)],
    ["the circuit after it", "QB-07/fore", of(7)],
    ["two carts", "QB-07 + QB-08", of(7, 8)],
    ["its number alone", "07", of(7)],
    ["its first word alone, which is that of all", "QB", FLEET],
    ["two letters swapped", "BQ-07", of(7)],
    ["a letter replaced", "QD-07", of(7)],
    ["a letter that is a figure, so that it may be two numbers", "Q8-07", of(7, 8)],
    ["a letter left out", "Q-07", of(7)],
    ["a letter put in", "QBX-07", of(7)],
    ["a letter and a figure replaced", "QD-70", of(7, 10)],
    ["a word before it and a letter replaced", "Cart QD-07", of(7)],
    ["figures swapped, where that is another cart: that one", "QB-10", of(10)],
    ["the next number: those that one figure leads to", "QB-15", of(1, 5, 10, 11, 12, 13, 14)],
    ["another word and another number", "TX-44", []],
    ["another word and the same number", "TX-07", []],
    ["another word and the same number, with a hangar", "TX-07 (hangar 7)", []],
    ["the same word within another", "AQB-07X", of(7)],
    ["nothing that can be read", "???", []],
    ["a word for what it is, and the number", "Cart 7", of(7)],
    ["two such words", "hydraulic cart No. 7", of(7)],
    ["such a word within the name", "QB No. 7", of(7)],
    ["such a word in another language", "Wagen Nr. 14", of(14)],
    ["such a word and a number that no cart has", "Cart 77", []],
    ["such words alone", "Cart No.", []],
    ["another word and the number", "Crane 7", []],
    ["a word with the letter O, and a number", "BOX 12", []],
    ["a word with letters like figures", "Boiler 1", []],
    ["a word with the letter l", "Blank", []],
    ["a name with the letter O in another word", "QB-O7 (TOOLROOM)", of(7)],
  ])("%s means what a person would think of", (_, written, meant) => {
    expect([...fleet.meant(written)].sort()).toEqual([...meant].sort());
  });
});

test.each([
  ["one slip in two letters", ["C-1"], "C-2", ["C-1"]],
  ["one slip the other way", ["C-1"], "D-1", ["C-1"]],
  ["two slips in two letters", ["C-1"], "D-2", []],
  ["a letter put in", ["C-1"], "C-11", ["C-1"]],
  ["a longer word with the same end", ["C-1"], "ABC-1", []],
  ["one letter for another, where a letter is all there is", ["A", "B"], "D", []],
  ["a number with the same figures in other groups", ["1-11", "11-1"], "1.11", ["1-11"]],
  ["a name in another that is longer and known too", ["C-1", "C-1-2"], "Cart C-1-2", ["C-1-2"]],
  ["two slips in a long name", ["NORTH-3"], "NORHT-8", ["NORTH-3"]],
  ["a long name with another number", ["NORTH-31"], "NORTH-72", []],
  ["three slips in a long name", ["NORTH-3"], "NRTOH-8", []],
  ["a two-figure number wholly replaced", ["QB-1044"], "TX-1044", []],
])("%s: %j written as %j may mean %j", (_, known, written, meant) => {
  expect(new NameIndex(known).meant(written)).toEqual(meant);
});

describe("two names that a person could take for one another", () => {
  test.each([
    ["C-1", "C1"],
    ["C-01", "C-1"],
    ["C-1", "c.1"],
    ["C-1", "С-1"],
    ["O-1", "Ο-1"],
    ["QB-01", "QB-O1"],
    ["QB-1", "QB-l"],
    ["fore", "Fore"],
    ["left aft", "left-aft"],
    ["I", "1"],
    ["–", "-"],
  ])("%s and %s are refused in a carts file, with both", (one, other) => {
    expect(couldBeConfused(one, other)).toBe(true);
    const both = `"${one}" and "${other}" could be taken for one another`;
    expect(refusal([cart(one), cart(other)])).toContain(`the carts ${both}`);
    expect(refusal([cart("QB-01", one, other)])).toContain(`the circuits of cart "QB-01", ${both}`);
  });

  test.each([
    ["QB-01", "QB-02"],
    ["QB-01", "QB-10"],
    ["1-11", "11-1"],
    ["A", "B"],
    ["L", "1"],
    ["POOL-1", "POL-1"],
    ["P+", "P-"],
    ["fore", "aft"],
    ["C-1", "C-1 A"],
  ])("%s and %s are not, and are taken", (one, other) => {
    expect(couldBeConfused(one, other)).toBe(false);
    expect(refusal([cart(one, one, other), cart(other)])).toBe("");
  });

  test("one name on two carts is one name of a circuit and is taken", () => {
    expect(refusal([cart("QB-01", "fore"), cart("QB-02", "Fore")])).toBe("");
  });

  test("of three names each is said with the first that it could be taken for", () => {
    expect(confusedPairs(["C-1", "D-1", "C1", "c 01"])).toEqual([
      ["C-1", "C1"],
      ["C-1", "c 01"],
    ]);
  });
});

function cart(name: string, ...circuits: string[]) {
  return {
    cart: name,
    circuits: (circuits.length === 0 ? ["fore"] : circuits).map((circuit) => ({
      circuit,
      serves: "main system",
      fluid: "MIL-PRF-83282",
      volume: "60 L",
      flow: "45 L/min",
      element: { position: "pressure", betas: [{ sizeUmC: 4, beta: 20 }] },
    })),
  };
}

function refusal(carts: readonly object[]): string {
  return (
    cartsFileSchema
      .safeParse({ carts })
      .error?.issues.map(({ message }) => message)
      .join("\n") ?? ""
  );
}

/** Optimal string alignment by its definition, letter by letter. */
function distance(a: string, b: string): number {
  if (a === "" || b === "") return a.length + b.length;
  const [restA, restB] = [a.slice(1), b.slice(1)];
  const swap = a.length > 1 && a[0] === b[1] && a[1] === b[0] ? 1 + distance(a.slice(2), b.slice(2)) : 99;
  const same = distance(restA, restB) + (a[0] === b[0] ? 0 : 1);
  return Math.min(same, 1 + distance(restA, b), 1 + distance(a, restB), swap);
}

test("keys near a text are those that the definition of the distance gives, each with its own", () => {
  const word = fc.string({ unit: fc.constantFrom("q", "b", "0", "1"), maxLength: 6 });
  fc.assert(
    fc.property(fc.uniqueArray(word, { minLength: 1, maxLength: 12 }), word, (keys, text) => {
      const expected = keys.map((key) => [key, distance(text, key)] as const).filter(([, far]) => far <= 2);
      const found = new NearKeys(keys).within(text, 2);
      expect(new Map(found)).toEqual(new Map(expected));
      expect(found).toHaveLength(expected.length);
    }),
  );
});

test("a cart that is called by a word for what it is, is the one of that very name", () => {
  const fleet = new NameIndex(["Cart 1", "Cart 2", "Rig 1"]);
  expect([...fleet.meant("cart 2")]).toEqual(["Cart 2"]);
  expect([...fleet.meant("1")].sort()).toEqual(["Cart 1", "Rig 1"]);
});

describe("a carts file with a list of carts of other bases", () => {
  const fileOf = (otherCarts: unknown) => ({ ...CARTS_FILE, otherCarts });
  test.each([
    ["taken: none of them is ours", ["QB-15", "TX-1"], true],
    ["taken: an empty one", [], true],
    ["refused: one of ours", ["QB-01"], false],
    ["refused: one that could be taken for ours", ["QB 1"], false],
    ["refused: one twice", ["TX-1", "TX-1"], false],
    ["refused: two that could be taken for one another", ["TX-1", "TX-01"], false],
    ["refused: a name without a letter", [""], false],
    ["refused: a number", [7], false],
  ])("%s", (_, others, isTaken) => {
    expect(cartsFileSchema.safeParse(fileOf(others)).success).toBe(isTaken);
  });
});

const CARTS_FILE = {
  carts: [
    {
      cart: "QB-01",
      circuits: [
        {
          circuit: "fore",
          serves: "main system",
          fluid: "MIL-PRF-83282",
          volume: "60 L",
          flow: "45 L/min",
          element: { position: "pressure", betas: [{ sizeUmC: 4, beta: 20 }] },
        },
      ],
    },
  ],
};
