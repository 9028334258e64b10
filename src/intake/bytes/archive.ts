import { inflateRawSync } from "node:zlib";

/** The wanted members by name, unpacked. */
export type Members = ReadonlyMap<string, Uint8Array>;

/** What an archive may hold. */
export interface ArchiveLimits {
  /** Members in all. */
  readonly members: number;
  /** Bytes of all wanted members together, unpacked. */
  readonly unpackedBytes: number;
  /** Whether a name that leads out of the archive is refused; otherwise its member is passed over. */
  readonly refusesStrays?: true;
}

const END_OF_DIRECTORY = 0x06054b50;
const DIRECTORY_ENTRY = 0x02014b50;
const LOCAL_ENTRY = 0x04034b50;
const END_BYTES = 22;
const MAX_COMMENT_LENGTH = 0xffff;
const STORED = 0;
const DEFLATED = 8;
const IN_64_BITS = 0xffffffff;

interface Entry {
  readonly name: string;
  readonly flags: number;
  readonly method: number;
  readonly packed: number;
  readonly unpacked: number;
  readonly at: number;
}

/**
 * Unpacks the wanted members of a zip archive into memory.
 *
 * Nothing that the archive says of itself is believed: a member that unpacks to more or less than it announces, that lies
 * over another, or that stands twice is refused, and no more is unpacked than was announced and allowed.
 *
 * @param bytes - the whole archive
 * @param isWanted - by name; a name that leads out of the archive is never requested
 * @throws RangeError saying what is wrong
 */
export function unpackArchive(
  bytes: Uint8Array,
  isWanted: (name: string) => boolean,
  limits: ArchiveLimits,
): Members {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const entries = directoryOf(view, bytes, limits.members);
  refuseOverlaps(view, entries);
  const members = new Map<string, Uint8Array>();
  let total = 0;
  for (const entry of entries) {
    const isStray = leadsOut(entry.name);
    if (isStray && limits.refusesStrays) throw new RangeError(`"${entry.name}" leads out of the archive`);
    if (isStray || !isWanted(entry.name)) continue;
    if (members.has(entry.name)) throw new RangeError(`it holds "${entry.name}" twice`);
    total += entry.unpacked;
    if (total > limits.unpackedBytes) {
      throw new RangeError(`it unpacks to more than ${limits.unpackedBytes / 1e6} MB`);
    }
    members.set(entry.name, unpack(view, bytes, entry));
  }
  return members;
}

/** A name that would leave the folder it is unpacked into. Nothing is ever written under it; it is only passed over. */
function leadsOut(name: string): boolean {
  return /^[/\\]|[\\:\0]|(^|\/)\.\.(\/|$)/.test(name);
}

function directoryOf(view: DataView, bytes: Uint8Array, most: number): Entry[] {
  const end = endOfDirectory(view);
  const count = view.getUint16(end + 10, true);
  if (count > most) throw new RangeError(`it holds ${count} members, and at most ${most} are read`);
  const entries: Entry[] = [];
  let at = view.getUint32(end + 16, true);
  for (let index = 0; index < count; index += 1) {
    if (at + 46 > view.byteLength || view.getUint32(at, true) !== DIRECTORY_ENTRY) {
      throw new RangeError("its list of members is damaged");
    }
    const nameBytes = view.getUint16(at + 28, true);
    const extraBytes = view.getUint16(at + 30, true);
    const name = new TextDecoder().decode(bytes.subarray(at + 46, at + 46 + nameBytes));
    entries.push({
      name,
      flags: view.getUint16(at + 8, true),
      method: view.getUint16(at + 10, true),
      ...sizesIn64Bits(view, at, at + 46 + nameBytes, extraBytes),
    });
    at += 46 + nameBytes + extraBytes + view.getUint16(at + 32, true);
  }
  return entries;
}

function endOfDirectory(view: DataView): number {
  const last = view.byteLength - END_BYTES;
  for (let at = last; at >= Math.max(0, last - MAX_COMMENT_LENGTH); at -= 1) {
    if (view.getUint32(at, true) === END_OF_DIRECTORY) return at;
  }
  throw new RangeError("its list of members is missing: the file is cut off or damaged");
}

/** The sizes and the place of a member; some writers put them into a field of 64 bits although 32 would do. */
function sizesIn64Bits(view: DataView, at: number, extraAt: number, extraBytes: number) {
  const short = [24, 20, 42].map((offset) => view.getUint32(at + offset, true));
  let field = extraAt;
  const end = Math.min(view.byteLength, extraAt + extraBytes);
  while (field + 4 <= end && view.getUint16(field, true) !== 1) field += 4 + view.getUint16(field + 2, true);
  let next = field + 4;
  const [unpacked = 0, packed = 0, place = 0] = short.map((value) => {
    if (value !== IN_64_BITS) return value;
    if (next + 8 > end) throw new RangeError("its list of members is damaged");
    next += 8;
    return Number(view.getBigUint64(next - 8, true));
  });
  return { unpacked, packed, at: place };
}

/** Where the packed bytes of a member begin. */
function startOf(view: DataView, { at, name }: Entry): number {
  if (at + 30 > view.byteLength || view.getUint32(at, true) !== LOCAL_ENTRY) {
    throw new RangeError(`"${name}" is not where the list of members says`);
  }
  return at + 30 + view.getUint16(at + 26, true) + view.getUint16(at + 28, true);
}

/** Members that share bytes are a way of making a small archive unpack to a large one. */
function refuseOverlaps(view: DataView, entries: readonly Entry[]): void {
  const inOrder = [...entries].sort((a, b) => a.at - b.at);
  let free = 0;
  for (const entry of inOrder) {
    if (entry.at < free) throw new RangeError(`"${entry.name}" lies over another member`);
    free = startOf(view, entry) + entry.packed;
    if (free > view.byteLength) throw new RangeError(`"${entry.name}" is cut off`);
  }
}

function unpack(view: DataView, bytes: Uint8Array, entry: Entry): Uint8Array {
  const { name, flags, method, packed, unpacked } = entry;
  if ((flags & 1) !== 0) throw new RangeError(`"${name}" is locked with a password`);
  const start = startOf(view, entry);
  const content = bytes.subarray(start, start + packed);
  if (method !== STORED && method !== DEFLATED) {
    throw new RangeError(`"${name}" is packed in a way that is not read (method ${method})`);
  }
  const whole = method === STORED ? content : inflate(content, entry);
  if (whole.length !== unpacked) {
    throw new RangeError(`"${name}" announces ${unpacked} bytes and holds ${whole.length}`);
  }
  return whole;
}

function inflate(content: Uint8Array, { name, unpacked }: Entry): Uint8Array {
  try {
    return inflateRawSync(content, { maxOutputLength: Math.max(1, unpacked) });
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === "ERR_BUFFER_TOO_LARGE") {
      throw new RangeError(`"${name}" announces ${unpacked} bytes and holds more`, { cause: error });
    }
    throw new RangeError(`"${name}" is damaged: ${(error as Error).message}`, { cause: error });
  }
}
