import { judgeShard, parseShard } from "../../../book/index.js";
import { answerOf } from "../../answer.js";
import { type ExitCode, type Io, printJson, UsageError } from "../../io.js";
import { formatHowMany } from "../../text.js";
import { mustBeOther, writeWhole } from "../../whole-file.js";
import { type JudgeOptions, pathsIn, readDays } from "../judge/judgement.js";

/** Options of `siltbook fleet` with one of its parts. */
export interface ShardCommandOptions extends JudgeOptions {
  readonly book: string;
  readonly shard: string;
  readonly out?: string;
}

/** Judges one shard of the fleet and writes its answer. What is not well is said when the shards are merged. */
export async function runShard(
  { shard: text, out, ...options }: ShardCommandOptions,
  io: Io,
): Promise<ExitCode> {
  if (out === undefined) throw new UsageError("--shard: expected --out with the file to write");
  if (options.cart !== undefined)
    throw new UsageError("--shard: a shard is of the whole fleet; it does not go with --cart");
  const shard = shardOf(text);
  const { on, asOf, since } = readDays(options);
  mustBeOther("--out", out, [options.book, options.carts, options.requirement]);
  let lines = 0;
  const counted = async function* () {
    const known = { ...(asOf !== undefined && { asOf }), ...(since !== undefined && { since }) };
    for await (const line of judgeShard(options.book, shard, { ...pathsIn(options), ...known, on })) {
      lines += 1;
      yield line;
    }
  };
  await writeWhole("--out", out, counted());
  // All but the first line and the last are carts.
  const carts = lines - 2;
  if (options.json) printJson(io, answerOf("fleet", { shard: shard.number, of: shard.of, out, on, carts }));
  else
    io.out(
      `${out}: shard ${shard.number} of ${shard.of}, judged for ${on}: ${formatHowMany(carts, "cart")}.\n`,
    );
  return 0;
}

function shardOf(text: string) {
  try {
    return parseShard(text);
  } catch (error) {
    throw new UsageError(`--shard: ${(error as Error).message}`);
  }
}
