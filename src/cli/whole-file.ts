import { closeSync, existsSync, openSync, readdirSync, readSync, realpathSync, statSync } from "node:fs";
import { mkdir, open, rename, rm } from "node:fs/promises";
import { dirname, join } from "node:path";
import { UsageError } from "./io.js";

/** What a file is to hold. */
type Pieces = Iterable<string | Uint8Array> | AsyncIterable<string | Uint8Array>;

/**
 * Writes a file as a whole: under another name first, and under its own when all of it is on the disk. Whatever happens
 * on the way, a file that was there before is there still.
 *
 * @param option - names the option in messages
 * @param path - where the file goes
 * @param pieces - what it holds
 * @throws UsageError when it cannot be written
 */
export async function writeWhole(option: string, path: string, pieces: Pieces): Promise<void> {
  const target = existsSync(path) ? realpathSync(path) : path;
  // A device, such as the terminal, is written to; only a file can be put in the place of a file.
  const isFile = !existsSync(target) || statSync(target).isFile();
  if (isFile && isDatabase(target)) {
    throw new UsageError(
      `${option}: ${path} is a database, such as a sample book; it is not overwritten, name another file`,
    );
  }
  const part = isFile ? `${target}.${process.pid}.part` : target;
  try {
    await writeAll(part, pieces);
    if (isFile) await rename(part, target);
  } catch (error) {
    if (isFile) await rm(part, { force: true }).catch(() => {});
    if ((error as NodeJS.ErrnoException).syscall === undefined) throw error;
    throw new UsageError(
      `${option}: ${path} cannot be written: ${describeWhy(error as NodeJS.ErrnoException)}`,
      {
        cause: error,
      },
    );
  }
}

/**
 * Writes a new folder as a whole: under another name first, as {@link writeWhole} does.
 *
 * @throws UsageError when it cannot be written
 */
export async function writeWholeFolder(
  option: string,
  path: string,
  files: readonly { readonly path: string; readonly bytes: Uint8Array }[],
): Promise<void> {
  const part = `${path.replace(/[/\\]+$/, "")}.${process.pid}.part`;
  try {
    await mkdir(part);
    for (const file of files) {
      await mkdir(dirname(join(part, file.path)), { recursive: true });
      await writeAll(join(part, file.path), [file.bytes]);
    }
    await rename(part, path);
  } catch (error) {
    await rm(part, { recursive: true, force: true }).catch(() => {});
    if ((error as NodeJS.ErrnoException).syscall === undefined) throw error;
    throw new UsageError(
      `${option}: ${path} cannot be written: ${describeWhy(error as NodeJS.ErrnoException)}`,
      { cause: error },
    );
  }
}

/**
 * Writes a folder as a whole in the place of what siltbook wrote there before: under another name first.
 *
 * @param path - the folder
 * @param elsewhere - the beginning of a name of its own on the same disk, where nobody looks for such files
 * @param isOurs - whether a file that is there, by its path in the folder, is one of those that may go
 * @returns how many files there are
 * @throws UsageError when it cannot be written, or when something else is there
 */
export async function replaceFolder(
  option: string,
  path: string,
  files: AsyncIterable<{ readonly path: string; readonly bytes: Uint8Array }>,
  { elsewhere, isOurs }: { readonly elsewhere: string; readonly isOurs: (path: string) => boolean },
): Promise<number> {
  const [part, old] = [`${elsewhere}.${process.pid}.part`, `${elsewhere}.${process.pid}.old`];
  try {
    const isThere = existsSync(path);
    const others = isThere ? filesIn(path).filter((name) => !isOurs(name)) : [];
    if (others.length > 0) {
      throw new UsageError(
        `${option}: ${path} holds what siltbook did not write there, such as ${others[0]}; name another folder`,
      );
    }
    await makeStepByStep(part);
    let count = 0;
    for await (const file of files) {
      await mkdir(dirname(join(part, file.path)), { recursive: true });
      await writeAll(join(part, file.path), [file.bytes]);
      count += 1;
    }
    await makeStepByStep(dirname(path));
    if (isThere) await rename(path, old);
    await rename(part, path);
    await rm(old, { recursive: true, force: true });
    return count;
  } catch (error) {
    await rm(part, { recursive: true, force: true }).catch(() => {});
    if (existsSync(old) && !existsSync(path)) await rename(old, path).catch(() => {});
    if ((error as NodeJS.ErrnoException).syscall === undefined) throw error;
    throw new UsageError(
      `${option}: ${path} cannot be written: ${describeWhy(error as NodeJS.ErrnoException)}`,
      { cause: error },
    );
  }
}

/** The files in a folder and in those below it, by their paths with "/". */
function filesIn(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) =>
    entry.isDirectory()
      ? filesIn(join(folder, entry.name)).map((name) => `${entry.name}/${name}`)
      : [entry.name],
  );
}

/** How every file of the engine of the sample book begins. */
const DATABASE_MARK = "SQLite format 3\0";

function isDatabase(path: string): boolean {
  try {
    const handle = openSync(path, "r");
    try {
      const start = Buffer.alloc(DATABASE_MARK.length);
      readSync(handle, start);
      return start.toString("latin1") === DATABASE_MARK;
    } finally {
      closeSync(handle);
    }
  } catch {
    // The file is absent or cannot be read; writing will say so.
    return false;
  }
}

/**
 * Makes sure that no file that is read is overwritten.
 *
 * @throws UsageError naming the file
 */
export function mustBeOther(option: string, path: string, from: readonly (string | undefined)[]): void {
  const own = from
    .filter((file) => file !== undefined && existsSync(file))
    .map((file) => realpathSync(file as string));
  if (existsSync(path) && own.includes(realpathSync(path))) {
    throw new UsageError(`${option}: ${path} is one of the files that are read; name another file`);
  }
}

async function writeAll(path: string, pieces: Pieces): Promise<void> {
  const handle = await open(path, "w");
  try {
    for await (const piece of pieces) await handle.writeFile(piece);
    // A device cannot be brought to the disk.
    if ((await handle.stat()).isFile()) await handle.sync();
  } finally {
    await handle.close();
  }
}

/**
 * Makes a folder and those above it.
 *
 * @param option - names the option in messages
 * @throws UsageError when it cannot be made
 */
export async function makeFolder(option: string, folder: string): Promise<void> {
  try {
    await makeStepByStep(folder);
  } catch (error) {
    const why = describeWhy(error as NodeJS.ErrnoException);
    throw new UsageError(`${option}: ${folder} cannot be made: ${why}`, { cause: error });
  }
}

/** Node's own way of making the folders above tries for ever where the system makes none. */
async function makeStepByStep(folder: string): Promise<void> {
  if (existsSync(folder) && statSync(folder).isDirectory()) return;
  const above = dirname(folder);
  if (above !== folder) await makeStepByStep(above);
  await mkdir(folder);
}

/** Why the system refused, and what a person can do. */
export function describeWhy({ code, message }: NodeJS.ErrnoException): string {
  switch (code) {
    case "ENOSPC":
    case "EDQUOT":
      return "the disk is full; make room, or name a place on another disk";
    case "EFBIG":
      return "it is larger than the system allows a file to be; name a place on another disk";
    case "EACCES":
    case "EPERM":
    case "EROFS":
      return "the folder or the file is read-only; name another place";
    case "ENOENT":
      return "there is no such folder";
    case "ENOTDIR":
      return "a part of the path is a file and no folder";
    case "EISDIR":
      return "it is a folder; name a file";
    case "EEXIST":
      return "there is a file of that name";
    case "ENAMETOOLONG":
      return "the name is longer than the system allows";
    default:
      return message;
  }
}
