import { grouped } from "../../numeric/index.js";
import { type Assumption, frozen } from "../../provenance/index.js";
import {
  type Appearance,
  type DescribedPart,
  FILLED_FROM,
  formatMeasured,
  type PatchTest,
  type ReportText,
  type Sample,
  type SamplePoint,
} from "../../samples/index.js";
import { isNotReported } from "../cells/cells.js";
import { visible } from "../checks/issue.js";
import {
  DESCRIPTIONS,
  type Description,
  isDescribed,
  type Meaning,
  TESTS,
  type TestMeaning,
} from "../layout/meaning.js";
import { rememberingBy } from "../rows/remembering.js";
import { textOf } from "../rows/row.js";
import { ONCE, type RefusedResult, type ReportedResult } from "../samples/entry.js";
import { plainWords } from "./bottle-parts.js";
import type { BottleFinding } from "./bottle-terms.js";
import { readBottleTest, type TestFinding } from "./bottle-tests.js";
import { readBottleWords, type SettledWord } from "./read-bottle-words.js";

/** What a report says in words about the bottle and how it was filled. */
export type Described = Partial<
  Pick<
    Sample,
    | "colour"
    | "appearance"
    | "samplePoint"
    | "flowing"
    | "patchTest"
    | "crackle"
    | "smell"
    | "wordsNotUnderstood"
    | "otherTexts"
  >
>;

type DescribedMeaning = Extract<Meaning, { holds: Description }>;
type What = DescribedMeaning["holds"] | TestMeaning["holds"];

/** One thing that a report says in words. */
export interface ReportedDescription {
  readonly result: ReportedResult;
  readonly meaning: DescribedMeaning | TestMeaning;
}

/** What a report says of one bottle in words. */
export interface GatheredDescriptions {
  readonly results: Described;
  readonly refused: readonly RefusedResult[];
  readonly assumptions: readonly Assumption[];
}

/** What one cell says of a bottle. */
interface ReadCell {
  readonly description: What;
  readonly result: ReportedResult;
  readonly findings: readonly (BottleFinding | TestFinding)[];
  readonly notUnderstood: readonly string[];
}

const NOTHING_SAID: GatheredDescriptions = frozen({ results: {}, refused: [], assumptions: [] });

/**
 * Puts together what a report says of one bottle in words.
 *
 * What is known is kept. Words without a reading are kept as they stand, for a person to read; a row is not set aside for
 * them. Two different cells of one title contradict each other, and both are refused.
 *
 * @param blanks - texts that mean "not reported"
 * @param settled - what a column map says that words mean
 */
export function gatherDescriptions(
  reported: readonly ReportedDescription[],
  blanks: readonly string[],
  settled: ReadonlyMap<string, SettledWord>,
): GatheredDescriptions {
  if (reported.length === 0) return NOTHING_SAID;
  const cells: ReadCell[] = [];
  const assumptions: Assumption[] = [];
  const read = readerOf(settled);
  for (const { result, meaning } of reported) {
    const description = meaning.holds;
    const text = visible(textOf(result.cell).replace(/\s+/g, " "));
    if (blanks.includes(text) || isNotReported(text)) continue;
    if (description !== "flowing" && isDescribed(meaning) && /^none\.?$/i.test(text)) continue;
    const { findings, notUnderstood, readAs } = isDescribed(meaning)
      ? read({ description: meaning.holds, text })
      : readTest(meaning, text, settled);
    cells.push({ description, result, findings, notUnderstood });
    assumptions.push(...readAs.map(({ words, value }) => wordReadAs(description, words, value)));
    if (notUnderstood.length > 0) assumptions.push(notAllUnderstood(description));
  }
  // Two columns may each say a part; what stands twice under one title must be the same.
  const byTitle = grouped(cells, ({ description, result }) => JSON.stringify([description, result.column]));
  const contradicting = new Set(
    [...byTitle.values()].filter((own) => new Set(own.map(saysOf)).size > 1).flat(),
  );
  return {
    results: described(cells.filter((cell) => !contradicting.has(cell))),
    refused: cells
      .filter((cell) => contradicting.has(cell))
      .map(({ result }) => ({ result, code: "repeated-measurand", expected: ONCE })),
    assumptions,
  };
}

function saysOf({ findings, notUnderstood }: ReadCell): string {
  return JSON.stringify([findings, notUnderstood]);
}

/** Said where the word of a report is not the one that is kept. There are no more of these than words that are known. */
function wordReadAs(description: What, words: string, value: string): Assumption {
  const says = value === "nothing-seen" ? "nothing seen" : value;
  return { code: "word-read-as", message: `${SAYS[description]}: "${words}" was read as ${says}` };
}

/** The words themselves are in the sample; a file could have a million different ones. */
function notAllUnderstood(description: What): Assumption {
  return {
    code: "words-not-understood",
    message: `${SAYS[description]}: some words are not understood; their circuits wait for a person who reads them`,
  };
}

const SAYS: Record<What, string> = { ...DESCRIPTIONS, ...TESTS };

const ABOUT: Record<What, DescribedPart> = {
  colour: "colour",
  appearance: "appearance",
  "sample-point": "sample point",
  flowing: "flow",
  "clear-and-bright": "appearance",
  fibres: "appearance",
  crackle: "crackle test",
  smell: "smell",
  "patch-class": "patch test",
  "patch-colour": "patch test",
  "patch-stain": "patch test",
  "patch-free-water": "patch test",
  "patch-volume": "patch test",
  "patch-pore": "patch test",
};

/** A number of fibres is shown: there is no limit to hold it against. */
const A_NUMBER = /^[<>≤≥~]? ?\d+(?:[.,]\d+)?(?: ?(?:\/|per) ?[\d\s]*m[lL])?$/;
/** What is shown where it is not understood: a requirement that asks for it then finds it not stated. */
const SHOWN: readonly What[] = ["patch-volume", "patch-pore"];

/** Reads one cell about a simple test; what is no answer to "clear and bright" is read as what the bottle looks like. */
function readTest(meaning: TestMeaning, text: string, settled: ReadonlyMap<string, SettledWord>): ReadTest {
  if (text.length > MAX_DESCRIPTION_LENGTH) return readDescription("appearance", text, settled);
  const findings = settled.get(plainWords(text)) === "nothing" ? [] : readBottleTest(meaning, text);
  if (findings !== undefined) return { findings, notUnderstood: [], readAs: [] };
  if (meaning.holds === "clear-and-bright") return readDescription("appearance", text, settled);
  const isShown = (meaning.holds === "fibres" && A_NUMBER.test(text)) || SHOWN.includes(meaning.holds);
  return { findings: [], notUnderstood: isShown ? [] : [text], readAs: [] };
}

type Reading = ReturnType<typeof readBottleWords>;
type ReadTest = Pick<ReadCell, "findings" | "notUnderstood"> & Pick<Reading, "readAs">;

/** What reads descriptions, by what a column map has settled. */
const READERS = new WeakMap<ReadonlyMap<string, SettledWord>, (cell: WrittenWords) => Reading>();

interface WrittenWords {
  readonly description: Description;
  readonly text: string;
}

function readerOf(settled: ReadonlyMap<string, SettledWord>): (cell: WrittenWords) => Reading {
  const known = READERS.get(settled);
  if (known !== undefined) return known;
  const reader = rememberingBy(
    ({ description, text }: WrittenWords) => readDescription(description, text, settled),
    ({ description, text }) => `${description}\n${text}`,
  );
  READERS.set(settled, reader);
  return reader;
}

/** No description of a bottle is longer; it would not be read word by word. */
const MAX_DESCRIPTION_LENGTH = 500;

/** Reads one cell; a colour is kept with all of its words. */
export function readDescription(
  description: Description,
  text: string,
  settled: ReadonlyMap<string, SettledWord> = new Map(),
): Reading {
  if (text.length > MAX_DESCRIPTION_LENGTH)
    return { findings: [], notUnderstood: [`${text.slice(0, MAX_DESCRIPTION_LENGTH - 2)} …`], readAs: [] };
  const reading = readBottleWords(description, text, settled);
  if (description !== "colour") return reading;
  const hasColour = reading.findings.some(({ is }) => is === "colour");
  // "Clear" says what the fluid looks like only where the column has no other topic; as a colour it says little.
  const seen = reading.findings.filter(
    (finding) => finding.is === "appearance" && finding.value !== "clear" && finding.value !== "nothing-seen",
  );
  const colour: BottleFinding[] = hasColour ? [{ is: "colour", value: text }] : [];
  return { ...reading, findings: [...seen, ...colour] };
}

function described(cells: readonly ReadCell[]): Described {
  const findings = cells.flatMap((cell) => cell.findings);
  const looks = [
    ...new Set(findings.flatMap((one): Appearance[] => (one.is === "appearance" ? [one.value] : []))),
  ];
  const seen = looks.filter((look) => look !== "nothing-seen");
  const appearance = seen.length > 0 ? seen : looks;
  const colours = new Map(
    findings.flatMap((one) => (one.is === "colour" ? [[one.value.toLowerCase(), one.value] as const] : [])),
  );
  const points = findings.flatMap((one) => (one.is === "sample-point" ? [one.value] : []));
  const flow = findings.flatMap((one) => (one.is === "flowing" ? [one.value] : []));
  const tests = testsOf(findings);
  const words = [
    ...cells.flatMap(({ description, notUnderstood }) =>
      notUnderstood.map((text) => ({ about: ABOUT[description], text })),
    ),
    ...tests.twice.map((text) => ({ about: "patch test" as const, text })),
  ];
  const shown = cells.flatMap(({ description, result, findings: found, notUnderstood }): ReportText[] =>
    ["colour", "fibres", ...SHOWN].includes(description) && found.length + notUnderstood.length === 0
      ? [{ column: result.column, text: visible(textOf(result.cell)) }]
      : [],
  );
  return {
    ...(colours.size > 0 && { colour: [...colours.values()].join("; ") }),
    ...(appearance.length > 0 && { appearance }),
    ...(points.length > 0 && { samplePoint: worstOf(points) }),
    ...(flow.length > 0 && { flowing: !flow.includes("no") }),
    ...tests.results,
    ...(words.length > 0 && { wordsNotUnderstood: words.slice(0, MAX_WORDS_KEPT) }),
    ...(shown.length > 0 && { otherTexts: shown }),
  };
}

const MAX_WORDS_KEPT = 20;

interface FoundByTests {
  readonly results: Pick<Described, "patchTest" | "crackle" | "smell">;
  /** What the patch was said to be in two ways, for a person to read. */
  readonly twice: readonly string[];
}

/** What the simple tests found, the worst of two. */
function testsOf(findings: ReadCell["findings"]): FoundByTests {
  const crackles = findings.flatMap((one) => (one.is === "crackle" ? [one.value] : []));
  const smells = findings.flatMap((one) => (one.is === "smell" ? [one.value] : []));
  const patches = findings.flatMap((one) => (one.is === "patch" ? [one.value] : []));
  const patch: PatchTest = Object.assign({}, ...patches);
  const any = (what: "stained" | "freeWater") =>
    patch[what] === undefined ? {} : { [what]: patches.some((one) => one[what]) };
  const results = {
    ...(crackles.length > 0 && ({ crackle: crackles.includes("crackles") ? "crackles" : "none" } as const)),
    ...(smells.length > 0 && ({ smell: smells.includes("unusual") ? "unusual" : "normal" } as const)),
    ...(patches.length > 0 && { patchTest: { ...patch, ...any("stained"), ...any("freeWater") } }),
  };
  const twice = SAID_ONCE.flatMap((what) => {
    const said = [
      ...new Set(patches.flatMap((one) => (one[what] === undefined ? [] : [textOfFinding(one[what])]))),
    ];
    return said.length > 1 ? [`${what}: ${said.join(" and ")}`] : [];
  });
  return { results, twice };
}

/** What one patch has once. */
const SAID_ONCE = ["class", "standard", "code", "volumeMl", "poreUm"] as const satisfies (keyof PatchTest)[];

function textOfFinding(value: NonNullable<PatchTest[(typeof SAID_ONCE)[number]]>): string {
  return typeof value === "object" ? formatMeasured(value) : String(value);
}

/** Of several places the one that says the least of the fluid that is delivered. */
function worstOf(points: readonly SamplePoint[]): SamplePoint {
  return FILLED_FROM.findLast((point) => points.includes(point)) as SamplePoint;
}
