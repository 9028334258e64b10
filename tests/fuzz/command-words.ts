import fc from "fast-check";
import { editedText, oddName } from "./edits.js";
import { COMMANDS, type Grammar } from "./grammar.js";

const SWITCHES = [
  "--help",
  "-h",
  "--json",
  "--version",
  "--",
  "-",
  "--no-json",
  "--counts=",
  "--book=b.siltbook",
];
const place = fc.noBias(fc.nat(999_999));

/** A text that is right, most of the time. */
const textFor = (right: readonly string[]) =>
  fc.oneof(
    { weight: 12, arbitrary: fc.constant(right[0] as string) },
    { weight: 2, arbitrary: fc.constantFrom(...right) },
    { weight: 2, arbitrary: editedText(right) },
  );

function optionFor([name, right]: readonly [string, readonly string[]]): fc.Arbitrary<string[]> {
  return right.length === 0 ? fc.constant([name]) : textFor(right).map((text) => [name, text]);
}

function wordsOf(command: string, { ways, may, words }: Grammar): fc.Arbitrary<string[]> {
  const none = fc.constant<string[]>([]);
  const more = words && fc.array(textFor(words.right), { minLength: words.from, maxLength: words.to });
  const all = Object.entries(may);
  const others = fc.oneof(
    fc.constant([]),
    fc.subarray(all, { maxLength: Math.min(3, all.length) }),
    fc.subarray(all),
  );
  return fc
    .tuple(fc.constantFrom(...ways), others, fc.nat(9))
    .chain(([way, chosen, luck]) => {
      const beside = chosen.filter(([name]) => !Object.hasOwn(way, name));
      const given = [...Object.entries(way), ...beside];
      const clashes = given.some(([name]) => name === words?.without) && luck > 0;
      return fc.tuple(...given.map(optionFor), more === undefined || clashes ? none : more);
    })
    .map((parts) => [command, ...parts.flat()]);
}

type Change = {
  readonly kind: "drop" | "twice" | "swap" | "odd" | "switch";
  readonly at: number;
  readonly odd: string;
};
const change: fc.Arbitrary<Change> = fc.record({
  kind: fc.constantFrom("drop", "twice", "swap", "odd", "switch"),
  at: place,
  odd: oddName,
});

function changed(words: string[], { kind, at, odd }: Change): string[] {
  const index = at % Math.max(1, words.length);
  const [before, word = "", after] = [words.slice(0, index), words[index], words.slice(index + 1)];
  switch (kind) {
    case "drop":
      return [...before, ...after];
    case "twice":
      return [...before, word, word, ...after];
    case "swap":
      return [...before, ...after.slice(0, 1), word, ...after.slice(1)];
    case "odd":
      return [...before, odd, ...after];
    default:
      return [...before, word, SWITCHES[at % SWITCHES.length] as string, ...after];
  }
}

/** Nothing may be written outside the folder of the run; and no system hands over a NUL or half a character. */
const kept = (word: string) =>
  word
    .replace(/\p{Cs}/gu, "\ufffd")
    .replaceAll("\0", "")
    .replaceAll("..", ".")
    .replace(/^(--?[\w-]+=)?[/\\]+/, "$1");

/** Words of one command as a person could type them. */
export function callsOf(command: string): fc.Arbitrary<string[]> {
  const words = wordsOf(command, COMMANDS[command] as Grammar);
  return fc
    .tuple(
      words,
      fc.oneof({ weight: 3, arbitrary: fc.constant([]) }, fc.array(change, { minLength: 1, maxLength: 3 })),
    )
    .map(([all, changes]) => changes.reduce(changed, all).map(kept));
}
