import { isDeepStrictEqual } from "node:util";
import { IntakeError } from "../../intake/index.js";
import { grouped } from "../../numeric/index.js";
import { Book } from "../book.js";
import { describeEntry } from "../chain/links.js";
import { BookError } from "../storage/database.js";
import { type FleetAnswer, type FleetPart, fleetAnswer } from "./fleet-answer.js";
import { KEPT_TOGETHER } from "./judge-book.js";
import type { PackedRecord } from "./pack-record.js";
import { formatShard, shardOf } from "./shard.js";
import { readShard, recordsOfShard, type ShardFile, type ShardHead } from "./shard-lines.js";

/**
 * Puts the shards of a fleet together, and keeps their verdicts in the book.
 *
 * Nothing is answered and nothing is kept unless every shard is there once, all are of the same fleet, the book is as it was
 * when they were judged, and every verdict has its inputs.
 *
 * @param path - the book that was judged
 * @param files - the files that `judgeShard` wrote, in any order
 * @returns the same as of the whole fleet judged at once
 * @throws IntakeError naming the first file that is no shard or is damaged, or else all that are missing, there twice or of
 * another fleet
 * @throws BookError when the book has changed since, lacks an input of a verdict, or cannot be written
 */
export function mergeShards(path: string, files: readonly string[]): FleetAnswer {
  const shards = files.map(readShard);
  const [first] = shards as [ShardFile, ...ShardFile[]];
  const faults = faultsOf(shards);
  if (faults.length > 0) throw new IntakeError(`the shards cannot be merged: ${faults.join("; ")}`);
  const book = Book.open(path);
  try {
    mustBeAsJudged(book, first.head);
    mustHaveInputs(book, shards);
    keepRecords(book, files);
  } finally {
    book.close();
  }
  const parts = new Map(shards.flatMap((shard) => shard.parts.map(({ cart, part }) => [cart, part])));
  return fleetAnswer(
    first.head.frame,
    first.head.carts.map((cart) => parts.get(cart) as FleetPart),
  );
}

function keepRecords(book: Book, files: readonly string[]): void {
  let waiting: PackedRecord[] = [];
  let carts = 0;
  for (const file of files) {
    for (const records of recordsOfShard(file)) {
      waiting.push(...records);
      carts += 1;
      if (carts % KEPT_TOGETHER > 0) continue;
      book.keepPacked(waiting);
      waiting = [];
    }
  }
  book.keepPacked(waiting);
}

/** Verdicts that others have kept in the meantime change no verdict; anything else may. */
function mustBeAsJudged(book: Book, { change }: ShardHead): void {
  const now = book.lastChange();
  if (now.hash === change.hash) return;
  const known = book.entryWithHash(change.hash);
  throw new BookError(
    known === undefined
      ? `${book.path}: is not the book that the shards were judged from: it has no entry ${change.hash.slice(0, 12)}`
      : `${book.path}: has changed since the shards were judged, by ${describeEntry(now)}; judge the shards again`,
  );
}

/** A shard leaves out the inputs that its book had: a copy may have verdicts that the book here does not have. */
function mustHaveInputs(book: Book, shards: readonly ShardFile[]): void {
  const faults = shards.flatMap(({ file, inputsNotHere }) => {
    const [first] = book.inputsNotKept(inputsNotHere.keys());
    return first === undefined ? [] : [`${file}, such as those of cart ${inputsNotHere.get(first)}`];
  });
  if (faults.length === 0) return;
  throw new BookError(
    `${book.path}: lacks inputs that verdicts rest on (${faults.join("; ")}): the shards were judged from a copy with ` +
      "verdicts that this book does not have; make new copies and judge the shards again",
  );
}

/** What two shards of one fleet have in common, with its name. */
const IN_COMMON: readonly (readonly [words: string, of: (head: ShardHead) => unknown])[] = [
  ["number of shards", ({ shard }) => shard.of],
  ["day of judging", ({ frame }) => frame.on],
  ["day of --as-of", ({ frame }) => frame.asOf ?? "none"],
  ["day of --since", ({ since }) => since ?? "none"],
  ["state of the book", ({ change }) => `entry ${change.number}, ${change.hash.slice(0, 12)}`],
  ["list of carts", ({ cartsSha256 }) => `SHA-256 ${cartsSha256.slice(0, 12)}`],
  ["requirement", ({ requirementSha256 }) => `SHA-256 ${requirementSha256.slice(0, 12)}`],
];

/** Everything that keeps shards from being one whole fleet. */
function faultsOf(shards: readonly ShardFile[]): string[] {
  const [first] = shards;
  if (first === undefined) return ["there are none"];
  const others = shards.flatMap((shard) => differences(first, shard));
  // Shards of another fleet say nothing of what is missing here.
  return others.length > 0 ? others : [...faultsOfNumbers(shards), ...shards.flatMap(faultsOfCarts)];
}

function differences(first: ShardFile, { file, head }: ShardFile): string[] {
  const found = IN_COMMON.filter(([, of]) => of(first.head) !== of(head)).map(
    ([words, of]) => `${file} is of another ${words} (${of(head)}) than ${first.file} (${of(first.head)})`,
  );
  if (found.length > 0) return found;
  const isSame =
    isDeepStrictEqual(head.frame, first.head.frame) &&
    isDeepStrictEqual(head.carts, first.head.carts) &&
    head.isKept === first.head.isKept;
  return isSame ? [] : [`${file} does not say the same of the fleet as ${first.file}`];
}

/** More names are said with their number. */
const MAX_NAMED = 20;

function named(all: readonly string[]): string {
  const more = all.length - MAX_NAMED;
  return `${all.slice(0, MAX_NAMED).join(", ")}${more > 0 ? ` and ${more} more` : ""}`;
}

function faultsOfNumbers(shards: readonly ShardFile[]): string[] {
  const { of } = (shards[0] as ShardFile).head.shard;
  const filesOf = grouped(shards, ({ head }) => head.shard.number);
  const missing = Array.from({ length: of }, (_, index) => index + 1)
    .filter((number) => !filesOf.has(number))
    .map((number) => `shard ${formatShard({ number, of })}`);
  return [
    ...(missing.length === 0 ? [] : [`missing: ${named(missing)}`]),
    ...[...filesOf].flatMap(([number, files]) =>
      files.length === 1
        ? []
        : [
            `shard ${formatShard({ number, of })} is there ${files.length} times: ${named(files.map(({ file }) => file))}`,
          ],
    ),
  ];
}

/** A shard has each of its carts once, and no other. */
function faultsOfCarts({ file, head, parts }: ShardFile): string[] {
  const { number, of } = head.shard;
  const own = new Set(head.carts.filter((cart) => shardOf(cart, of) === number));
  const seen = new Set<string>();
  const twice: string[] = [];
  for (const { cart } of parts) {
    if (seen.has(cart)) twice.push(cart);
    seen.add(cart);
  }
  const missing = [...own].filter((cart) => !seen.has(cart));
  const strange = [...seen].filter((cart) => !own.has(cart));
  const said = (carts: readonly string[], what: string) =>
    carts.length === 0 ? [] : [`${file} ${what} ${named(carts)}`];
  return [
    ...said(missing, "lacks carts"),
    ...said(twice, "has carts twice:"),
    ...said(strange, "has carts that are not of this shard:"),
  ];
}
