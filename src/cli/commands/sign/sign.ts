import { rmSync, writeFileSync } from "node:fs";
import { Book, newKeyPair, type SignedHead, signHead } from "../../../book/index.js";
import { readDay } from "../../day.js";
import { type ExitCode, type Io, UsageError } from "../../io.js";
import { readText } from "../../read-text.js";
import { describeWhy, writeWhole } from "../../whole-file.js";

/** Options of `siltbook sign`. */
export interface SignOptions {
  readonly book?: string;
  readonly key?: string;
  readonly newKey?: string;
  readonly on?: string;
  readonly out?: string;
}

/** Signs the head of a book with a key of the base, or makes such a key. */
export async function runSign(options: SignOptions, io: Io): Promise<ExitCode> {
  const { book: path, key, newKey, out } = options;
  if (newKey !== undefined) {
    if ((path ?? key ?? out) !== undefined)
      throw new UsageError("--new-key makes keys only; sign with --key afterwards");
    return makeKeys(newKey, io);
  }
  if (path === undefined || key === undefined)
    throw new UsageError("expected --book and --key, or --new-key");
  const statement = signBook(path, readText("--key", key), readDay(options.on));
  // A document of its own, which is kept as it stands.
  const text = `${JSON.stringify(statement, null, 2)}\n`;
  if (out === undefined) io.document(text);
  else {
    await writeWhole("--out", out, [text]);
    io.out(`${out}: entry ${statement.entry}, head ${statement.head.slice(0, 12)}, signed\n`);
  }
  return 0;
}

function signBook(path: string, key: string, on: string): SignedHead {
  const book = Book.open(path);
  try {
    if (!book.verify().fits) {
      throw new UsageError(`${path} does not fit its chain, so it is not signed; run "siltbook verify"`);
    }
    return signHead(book.head(), key, on);
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    throw new UsageError(`--key: ${error.message}`, { cause: error });
  } finally {
    book.close();
  }
}

function makeKeys(path: string, io: Io): ExitCode {
  const { privateKey, publicKey } = newKeyPair();
  const shared = `${path}.pub`;
  const write = (file: string, key: string, mode: number) => {
    try {
      writeFileSync(file, key, { flag: "wx", mode });
    } catch (error) {
      const why = describeWhy(error as NodeJS.ErrnoException);
      throw new UsageError(`--new-key: ${file} cannot be written: ${why}`, { cause: error });
    }
  };
  // No key is overwritten, and nobody else may read the private one.
  write(path, privateKey, 0o600);
  try {
    write(shared, publicKey, 0o644);
  } catch (error) {
    rmSync(path);
    throw error;
  }
  io.out(
    `${path}: the private key. Keep it, and give it to nobody.\n${shared}: the public key, for everybody who checks.\n`,
  );
  return 0;
}
