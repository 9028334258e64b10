import fc from "fast-check";

/** Pieces that readers of text have stumbled over: marks, numbers at edges, names of the language, odd letters. */
export const ODD_TEXTS = [
  ..."\"',;|\t\n\r\0/\\-*<>≥≤=:%()[]{}+.&#@~`$ ",
  ..."\u001b\u007f\u0085\u00a0\u200b\u202e\u2028\ufeff\ufffd\ud800\udfff",
  ..."µμ°²³½١ＡéßİΣ\u0301",
  ...["\r\n", "\n\n", '""', "//", "--", "..", "🜁", "👩‍🔧", "é".normalize("NFD")],
  ...["0", "-0", "+1", "-1", "00", "007", "1e5", "1E-5", "1e308", "1e309", "-1e309", "1e-400", "5e-324"],
  ...["1,5", "1.5e3", "1.500,5", "1,500.5", "1'500", "0x10", "0b1", "1_000", "Infinity", "NaN", ".5", "5."],
  ...[
    "9007199254740993",
    "123456789012345678901234567890",
    "1/2",
    "100 %",
    "< 5",
    ">28",
    "≥19",
    "2026-02-30",
  ],
  ...["null", "true", "__proto__", "constructor", "toString", "=1+1", "AND", "' OR 1=1 --", "%s%n", "$(x)"],
  ...["31.12.2026", "2026-13-01", "0000-00-00", "24:61", "1900-02-29", "T", "Z", "+25:00"],
] as const;

type Edit =
  | { readonly kind: "delete" | "duplicate" | "swap"; readonly at: number; readonly length: number }
  | { readonly kind: "number"; readonly at: number; readonly text: string }
  | {
      readonly kind: "insert" | "replace";
      readonly at: number;
      readonly length: number;
      readonly text: string;
    };

/** Anywhere with the same chance: a generator's liking for small numbers would edit nothing but beginnings. */
const place = fc.noBias(fc.nat(999_999)).map((millionths) => millionths / 1_000_000);
const oddText = fc.oneof(
  { weight: 6, arbitrary: fc.constantFrom(...ODD_TEXTS) },
  { weight: 1, arbitrary: fc.string({ unit: "binary", maxLength: 6 }) },
  // Long enough to show what grows with the square of the length, short enough to be quick when nothing does.
  {
    weight: 1,
    arbitrary: fc
      .tuple(fc.constantFrom(...ODD_TEXTS), fc.constantFrom(50, 300, 5000))
      .map(([text, times]) => text.repeat(times)),
  },
);
const NUMBERS = [
  ...[
    "0",
    "-0",
    "-1",
    "1",
    "0.1",
    "1e309",
    "1e308",
    "1e-320",
    "1e-9",
    "1e12",
    "0x10",
    "1,5",
    "1.5e3",
    "007",
    "+5",
  ],
  ...[
    "NaN",
    "Infinity",
    "99999999999999999999",
    "2147483648",
    "4294967296",
    "9007199254740993",
    "0.999999999999",
  ],
];
const edit: fc.Arbitrary<Edit> = fc.oneof(
  fc.record({ kind: fc.constant("number" as const), at: place, text: fc.constantFrom(...NUMBERS) }),
  fc.record({
    kind: fc.constantFrom("delete" as const, "duplicate" as const, "swap" as const),
    at: place,
    length: fc.integer({ min: 1, max: 12 }),
  }),
  fc.record({
    kind: fc.constantFrom("insert" as const, "replace" as const),
    at: place,
    length: fc.integer({ min: 1, max: 4 }),
    text: oddText,
  }),
);

function edited(text: string, change: Edit): string {
  if (change.kind === "number") return withNumber(text, change.at, change.text);
  const at = Math.floor(change.at * (text.length + 1));
  const piece = text.slice(at, at + change.length);
  const [before, after] = [text.slice(0, at), text.slice(at + change.length)];
  switch (change.kind) {
    case "delete":
      return before + after;
    case "duplicate":
      return before + piece + piece + after;
    case "swap":
      return before + after.slice(0, change.length) + piece + after.slice(change.length);
    case "insert":
      return before + change.text + piece + after;
    default:
      return before + change.text + after;
  }
}

/** Another number in the place of one that is in a text. */
function withNumber(text: string, at: number, number: string): string {
  const numbers = [...text.matchAll(/\d+(?:\.\d+)?/g)];
  const found = numbers[Math.floor(at * numbers.length)];
  if (found === undefined) return text + number;
  return text.slice(0, found.index) + number + text.slice(found.index + found[0].length);
}

/** A text that was right before one to five edits; now and then one that is right, or nothing but noise. */
export function editedText(right: readonly string[]): fc.Arbitrary<string> {
  return fc.oneof(
    { weight: 1, arbitrary: fc.constantFrom(...right) },
    { weight: 1, arbitrary: fc.string({ unit: "binary", maxLength: 40 }) },
    {
      weight: 10,
      arbitrary: fc
        .tuple(fc.constantFrom(...right), fc.array(edit, { minLength: 1, maxLength: 5 }))
        .map(([text, edits]) => edits.reduce(edited, text)),
    },
  );
}

/** A name as a person or a file could bring it along. */
export const oddName = fc.oneof(
  fc.constantFrom("C-1", "fore"),
  editedText(["QB-03", "fore", "S 1/26"]),
  oddText,
);
