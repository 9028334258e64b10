import { createHash } from "node:crypto";
import { isDeepStrictEqual } from "node:util";
import { compareVerdicts } from "../../fitness/index.js";
import { type ByteSource, bytesOnDisk, IntakeError } from "../../intake/index.js";
import { shown, VERSION } from "../../provenance/index.js";
import type { FleetFrame, FleetPart } from "./fleet-answer.js";
import type { KeptInput, Listing, PackedRecord } from "./pack-record.js";
import type { Shard } from "./shard.js";

/** The first line of a shard: what all shards of a fleet have in common, but for the number. */
export interface ShardHead {
  readonly siltbook: "fleet shard";
  readonly version: string;
  readonly shard: Shard;
  /** The last entry of the book's chain that verdicts rest on. */
  readonly change: { readonly number: number; readonly hash: string };
  readonly cartsSha256: string;
  readonly requirementSha256: string;
  readonly since: string | null;
  /** Whether the verdicts are to be kept in the book. */
  readonly isKept: boolean;
  readonly frame: FleetFrame;
  /** The names of all carts of the fleet, in their order. */
  readonly carts: readonly string[];
}

/** One cart of a shard. */
export interface ShardCart {
  readonly cart: string;
  readonly part: FleetPart;
  readonly records: readonly PackedRecord[];
}

/** Bytes as they are in a line. */
interface Base64 {
  readonly base64: string;
}

/** Writes the lines of a shard. The last one has the SHA-256 of all before it, so that a file that was cut off is found. */
export class ShardLines {
  readonly #hash = createHash("sha256");
  #carts = 0;

  head(head: ShardHead): string {
    return this.#line(head);
  }

  cart(cart: string, part: FleetPart, records: readonly PackedRecord[]): string {
    this.#carts += 1;
    return this.#line({ cart, part, records: records.map(inText) });
  }

  end(): string {
    return this.#line({ end: this.#carts, sha256: this.#hash.digest("hex") });
  }

  #line(value: object): string {
    const line = `${JSON.stringify(value)}\n`;
    if (!("end" in value)) this.#hash.update(line);
    return line;
  }
}

function inText({ bodies, result, ...record }: PackedRecord) {
  const text = (bytes: Uint8Array): Base64 => ({ base64: Buffer.from(bytes).toString("base64") });
  return {
    ...record,
    bodies: bodies.map(({ sha256, body }) => ({ sha256, body: text(body) })),
    result: text(result),
  };
}

function outOfText({ bodies, result, ...record }: ReturnType<typeof inText>): PackedRecord {
  const bytes = ({ base64 }: Base64) => Buffer.from(base64, "base64");
  return {
    ...record,
    bodies: bodies.map(({ sha256, body }) => ({ sha256, body: bytes(body) })),
    result: bytes(result),
  };
}

/** The file of a shard, which is whole. */
export interface ShardFile {
  readonly file: string;
  readonly head: ShardHead;
  /** What the shard says of its carts, without the records. */
  readonly parts: readonly Omit<ShardCart, "records">[];
  /** Inputs of its verdicts that are not in it, by their hashes, each with a cart: its book had them already. */
  readonly inputsNotHere: ReadonlyMap<string, string>;
}

/**
 * Reads a shard and makes sure that it is whole.
 *
 * @throws IntakeError when it cannot be read, is not a shard, is of another version, was cut off or was changed
 */
export function readShard(path: string): ShardFile {
  // With its folder: every machine may have given its file the same name.
  const source = { ...bytesOnDisk(path), file: path };
  const hash = createHash("sha256");
  let head: ShardHead | undefined;
  let end: { readonly end: number; readonly sha256: string } | undefined;
  const parts: Omit<ShardCart, "records">[] = [];
  const here = new Set<string>();
  const named = new Map<string, string>();
  for (const line of linesOf(source)) {
    const value = parseLine(source, line, head === undefined);
    if (end !== undefined) throw damaged(source, "goes on after its last line");
    if (head === undefined) head = asHead(source, value);
    else if ("end" in value) end = value as { readonly end: number; readonly sha256: string };
    else {
      const { cart, part, records } = value as ShardCart;
      if (head.isKept && !isAsRecorded(cart, part, records)) {
        throw damaged(source, `says of cart ${shown(cart)} what the records of its verdicts do not say`);
      }
      parts.push({ cart, part });
      for (const { inputs, bodies } of records) {
        for (const { sha256 } of JSON.parse(inputs) as KeptInput[]) named.set(sha256, cart);
        for (const { sha256 } of bodies) here.add(sha256);
      }
    }
    if (end === undefined) hash.update(`${line}\n`);
  }
  if (head === undefined) throw notShard(source);
  if (end === undefined) throw damaged(source, "was cut off: its last line is missing");
  if (end.sha256 !== hash.digest("hex")) throw damaged(source, "was changed after it was written");
  for (const sha256 of here) named.delete(sha256);
  return { file: source.file, head, parts, inputsNotHere: named };
}

/** What a merge prints of a cart is what it keeps: the same circuits with the same verdicts, which nobody's decision makes milder. */
function isAsRecorded(cart: string, { rows }: FleetPart, records: readonly Listing[]): boolean {
  const inOrder = (all: readonly Omit<Listing, "on">[]) =>
    all.map((one) => JSON.stringify([one.cart, one.circuit, one.verdict])).sort();
  return (
    records.every((record) => record.cart === cart) &&
    rows.every(({ stands, verdict }) => compareVerdicts(stands, verdict) >= 0) &&
    isDeepStrictEqual(inOrder(rows), inOrder(records))
  );
}

/** The records of a shard that was read, cart by cart. */
export function* recordsOfShard(path: string): Generator<readonly PackedRecord[]> {
  const source = bytesOnDisk(path);
  for (const line of linesOf(source)) {
    const { records } = parseLine(source, line, false) as { records?: ReturnType<typeof inText>[] };
    if (records !== undefined) yield records.map(outOfText);
  }
}

function parseLine(source: ByteSource, line: string, isFirst: boolean): object {
  try {
    const value: unknown = JSON.parse(line);
    if (typeof value === "object" && value !== null) return value;
  } catch {
    // What is no JSON is no line of a shard either.
  }
  throw isFirst ? notShard(source) : damaged(source, "has a line that is not JSON");
}

function asHead(source: ByteSource, value: object): ShardHead {
  const head = value as ShardHead;
  if (head.siltbook !== "fleet shard") throw notShard(source);
  if (head.version !== VERSION) {
    throw new IntakeError(
      `${source.file}: was judged by siltbook ${head.version}, and this is ${VERSION}; judge and merge with the same version`,
    );
  }
  return head;
}

function notShard({ file }: ByteSource): IntakeError {
  return new IntakeError(`${file}: is not a shard; expected a file that siltbook fleet --shard wrote`);
}

function damaged({ file }: ByteSource, how: string): IntakeError {
  return new IntakeError(`${file}: ${how}; judge this shard again`);
}

/** Lines of any length. The end of a line of JSON is never inside it. */
function* linesOf(source: ByteSource): Generator<string> {
  const decoder = new TextDecoder();
  let rest: string[] = [];
  for (const chunk of source.chunks()) {
    const [first, ...others] = decoder.decode(chunk, { stream: true }).split("\n") as [string, ...string[]];
    rest.push(first);
    for (const next of others) {
      yield rest.join("");
      rest = [next];
    }
  }
  const last = `${rest.join("")}${decoder.decode()}`;
  if (last !== "") yield last;
}
