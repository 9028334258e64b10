import { readFileSync } from "node:fs";
import { join } from "node:path";

/** A package of the lock file. */
export interface LockedPackage {
  /** where it is installed, such as "node_modules/libsql/node_modules/detect-libc" */
  readonly path: string;
  /** its own name, also where another package knows it by an alias */
  readonly name: string;
  readonly version: string;
  /** what it says of itself; undefined where it says nothing */
  readonly licence: string | undefined;
  /** whether siltbook brings it along; the others are needed only to work on siltbook */
  readonly shipped: boolean;
  readonly runsAtInstall: boolean;
  /** where it came from, when the lock file says so; the registry otherwise */
  readonly resolved: string | undefined;
  readonly integrity: string | undefined;
}

/** Reads every package of the lock file, in its order, without siltbook itself. */
export function lockedPackages(): LockedPackage[] {
  const lock = JSON.parse(readFileSync(join(import.meta.dirname, "../../package-lock.json"), "utf8"));
  return Object.entries<Record<string, unknown>>(lock.packages)
    .filter(([path, entry]) => path !== "" && entry.link !== true)
    .map(([path, entry]) => ({
      path,
      name: (entry.name as string | undefined) ?? path.replace(/^.*node_modules\//, ""),
      version: entry.version as string,
      licence: entry.license as string | undefined,
      shipped: !entry.dev && !entry.devOptional && !entry.peer,
      runsAtInstall: entry.hasInstallScript === true,
      resolved: entry.resolved as string | undefined,
      integrity: entry.integrity as string | undefined,
    }));
}
