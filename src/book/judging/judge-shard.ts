import { canonicalJson } from "../../fitness/index.js";
import { VERSION } from "../../provenance/index.js";
import { Book } from "../book.js";
import { describeEntry } from "../chain/links.js";
import { BookError } from "../storage/database.js";
import { fleetFrame, partOfCart } from "./fleet-answer.js";
import { type FleetOfBookPaths, readOutline } from "./fleet-of-book.js";
import { judgeWithoutKeeping } from "./judge-book.js";
import { hashOf } from "./pack-record.js";
import { cartsOfShard, type Shard } from "./shard.js";
import { type ShardHead, ShardLines } from "./shard-lines.js";

/** How a shard is judged: the same for every shard of a fleet. */
export interface ShardOptions extends FleetOfBookPaths {
  /** The day of judging, as ISO 8601 calendar day. */
  readonly on: string;
  /** A day to compare with; see `judgeBook`. */
  readonly since?: string;
}

/**
 * Judges the carts of one shard of a fleet. The book is only read: the verdicts are kept when all shards are merged.
 *
 * @returns the answer line by line, as JSON Lines that `mergeShards` reads
 * @throws BookError when the book cannot be read, or is changed in the meantime
 * @throws RangeError naming a sample of the book that cannot be read
 */
export async function* judgeShard(
  path: string,
  shard: Shard,
  { on, since, ...paths }: ShardOptions,
): AsyncGenerator<string> {
  const book = Book.open(path);
  try {
    const change = book.lastChange();
    const outline = readOutline(book, { ...paths, on });
    const { carts, document, isKept } = outline;
    const isWhole = paths.carts === undefined;
    const lines = new ShardLines();
    const head: ShardHead = {
      siltbook: "fleet shard",
      version: VERSION,
      shard,
      change: { number: change.number, hash: change.hash },
      cartsSha256: hashOf(canonicalJson(carts)),
      requirementSha256: hashOf(canonicalJson(document)),
      since: since ?? null,
      isKept,
      frame: fleetFrame(outline, carts, { on, isWhole }),
      carts: carts.map(({ cart }) => cart),
    };
    yield lines.head(head);
    for await (const judged of judgeWithoutKeeping(book, outline, cartsOfShard(carts, shard), {
      on,
      since,
    })) {
      yield lines.cart(judged.cart, partOfCart(judged.circuits, document.systems), judged.records);
    }
    const now = book.lastChange();
    if (now.hash !== change.hash) {
      throw new BookError(
        `${path}: was changed while its carts were judged, by ${describeEntry(now)}; judge the shards again`,
      );
    }
    yield lines.end();
  } finally {
    book.close();
  }
}
