import fc from "fast-check";
import { watched } from "./watch.js";

/** Something public that is fuzzed. */
export interface Entry<T = unknown> {
  /** What it is, by face and name as in docs/api: "siltbook parseIso4406". */
  readonly functions: readonly string[];
  readonly inputs: fc.Arbitrary<T>;
  /** Throws when a claim does not hold. What it returns says whether the input was read; false: it was refused. */
  readonly check: (input: T) => boolean | Promise<boolean>;
  /** How often it is tried in the short run. */
  readonly runs: number;
}

/** Writes an entry down with its type. */
export function entry<T>(wanted: Entry<T>): Entry {
  return wanted as unknown as Entry;
}

const { SILTBOOK_FUZZ_SECONDS, SILTBOOK_FUZZ_SEED, SILTBOOK_FUZZ_PATH } = process.env;
const seconds = SILTBOOK_FUZZ_SECONDS === undefined ? undefined : Number(SILTBOOK_FUZZ_SECONDS);
if (seconds !== undefined && !(seconds > 0))
  throw new RangeError(`SILTBOOK_FUZZ_SECONDS: expected a number above 0, found "${SILTBOOK_FUZZ_SECONDS}"`);

/** The short run is the same every time; a long one looks elsewhere every night, and says where. */
export const SEED = Number(SILTBOOK_FUZZ_SEED ?? (seconds === undefined ? 17 : Date.now() % 2 ** 31));

/**
 * Tries an entry: a number of runs, or its share of the seconds that were required. A failure names seed, path and the
 * smallest input that was found; given back by the environment, with the name of the test, they show it again.
 *
 * @param share - part of all the seconds
 */
export async function fuzz({ functions, inputs, check, runs }: Entry, share: number): Promise<void> {
  const seen = { all: 0, read: 0 };
  const property = fc.asyncProperty(inputs, async (input) => {
    seen.all += 1;
    if (await watched(input, () => check(input))) seen.read += 1;
  });
  const path = SILTBOOK_FUZZ_PATH === undefined ? {} : { path: SILTBOOK_FUZZ_PATH };
  // In rounds, each with a seed of its own: a check that was begun is done before anything else begins.
  const until = Date.now() + (seconds ?? 0) * share * 1000;
  let seed = SEED;
  do {
    await fc.assert(property, { seed, numRuns: runs, ...path });
    seed += 1;
  } while (Date.now() < until);
  if (SILTBOOK_FUZZ_PATH !== undefined) return;
  if (seconds !== undefined)
    process.stdout.write(`${functions[0]}: ${seen.all} inputs, ${seen.read} of them read\n`);
  // Where nearly everything is refused, nothing is said of the code that comes after.
  if (!(seen.read >= seen.all * READ_AT_LEAST))
    throw new Error(`only ${seen.read} of ${seen.all} inputs were read; edit them less`);
}

const READ_AT_LEAST = 0.05;

/** Of all the seconds, parsers get half and commands the other. */
export const PARSERS_SHARE = 0.5;

/** See {@link PARSERS_SHARE}. */
export const COMMANDS_SHARE = 0.5;
