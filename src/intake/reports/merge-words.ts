import type { DescribedPart, ReportText, Sample } from "../../samples/index.js";
import { givesAgain } from "./statements.js";

type Merged = { -readonly [K in keyof Sample]: Sample[K] };

/** The field of a sample that words about each part of the description would have filled. */
const FIELD_OF_PART = {
  colour: "colour",
  appearance: "appearance",
  "sample point": "samplePoint",
  flow: "flowing",
  "patch test": "patchTest",
  "crackle test": "crackle",
  smell: "smell",
} as const satisfies Record<DescribedPart, keyof Sample>;

/**
 * Puts the words of a second report together with those of the first.
 *
 * What the second says about a part of the bottle takes the place of what the first said there; what it says under a title,
 * where it gives every result of the first again.
 */
export function mergeWords(merged: Merged, earlier: Sample, later: Sample): void {
  const { class: patchClass, code } = later.patchTest ?? {};
  const isAnswered = (about: DescribedPart) =>
    about === "patch test" ? (patchClass ?? code) !== undefined : later[FIELD_OF_PART[about]] !== undefined;
  const saidNow = (about: DescribedPart) =>
    isAnswered(about) || later.wordsNotUnderstood?.some((words) => words.about === about) === true;
  const words = [
    ...(earlier.wordsNotUnderstood ?? []).filter(({ about }) => !saidNow(about)),
    ...(later.wordsNotUnderstood ?? []),
  ];
  if (words.length > 0) merged.wordsNotUnderstood = words;
  else delete merged.wordsNotUnderstood;
  const says = textsOf(earlier.laboratorySays, later.laboratorySays, !givesAgain(earlier, later));
  if (says.length > 0) merged.laboratorySays = says;
  const others = textsOf(earlier.otherTexts, later.otherTexts);
  if (others.length > 0) merged.otherTexts = others;
}

function textsOf(
  earlier: readonly ReportText[] = [],
  later: readonly ReportText[] = [],
  addsUp = false,
): ReportText[] {
  const isReplaced = (one: ReportText) =>
    later.some(({ column, text }) => column === one.column && (!addsUp || text === one.text));
  return [...earlier.filter((one) => !isReplaced(one)), ...later];
}
