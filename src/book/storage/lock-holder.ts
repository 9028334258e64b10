import { readFileSync, statSync } from "node:fs";

/** The byte of the shared memory file that a writer locks (the file format of SQLite, "WAL-Index Format"). */
const WRITE_LOCK = 120;

/**
 * Which program holds the lock for writing, as " (process 4711, node)"; "" where the system does not say. Linux lists locks
 * in /proc.
 */
export function describeHolder(path: string): string {
  try {
    const inode = String(statSync(`${path}-shm`).ino);
    const lock = readFileSync("/proc/locks", "utf8")
      .split("\n")
      .map((line) => LOCK.exec(line))
      .find(
        (found) => found?.[2] === inode && Number(found[3]) <= WRITE_LOCK && endOf(found[4]) >= WRITE_LOCK,
      );
    const id = lock?.[1];
    if (id === undefined || id === "0") return "";
    return ` (process ${id}, ${readFileSync(`/proc/${id}/comm`, "utf8").trim()})`;
  } catch {
    return "";
  }
}

/** "1: POSIX  ADVISORY  WRITE 4711 fd:00:2392 120 120". */
const LOCK = /POSIX\s+\S+\s+WRITE\s+(\d+)\s+[0-9a-f]+:[0-9a-f]+:(\d+)\s+(\d+)\s+(\d+|EOF)/;

function endOf(text: string | undefined): number {
  return text === "EOF" ? Number.POSITIVE_INFINITY : Number(text);
}
