import { execFile } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import { copyFile, mkdir, symlink } from "node:fs/promises";
import { join } from "node:path";
import { promisify } from "node:util";
import { lockedPackages } from "../../../docs/making/dependency-tree.js";

const run = promisify(execFile);
const ROOT = join(import.meta.dirname, "../../..");

/** Says what `npm pack` would put into the published package, without building anything. */
export async function packedFiles(): Promise<{ readonly size: number; readonly paths: string[] }> {
  const { stdout } = await run("npm", ["pack", "--dry-run", "--json", "--ignore-scripts"], { cwd: ROOT });
  const [packed] = JSON.parse(stdout) as [{ size: number; files: { path: string }[] }];
  return { size: packed.size, paths: packed.files.map(({ path }) => path) };
}

/**
 * Makes an empty project and installs the packed package into it, with the versions that are locked here.
 *
 * The locked versions were fetched when this project was installed, so that npm finds all of them in its own cache.
 *
 * @param folder - an empty folder
 */
export async function installInto(folder: string): Promise<void> {
  const { stdout } = await run("npm", ["pack", "--json", "--ignore-scripts", "--pack-destination", folder], {
    cwd: ROOT,
  });
  const [{ filename }] = JSON.parse(stdout) as [{ filename: string }];
  const dependencies = { siltbook: `file:${filename}` };
  write(folder, "package.json", { name: "consumer", private: true, type: "module", dependencies });
  const lock = JSON.parse(readFileSync(join(ROOT, "package-lock.json"), "utf8"));
  const shipped = lockedPackages().filter((locked) => locked.shipped);
  write(folder, "package-lock.json", {
    lockfileVersion: 3,
    packages: {
      "": { dependencies },
      "node_modules/siltbook": { ...lock.packages[""], resolved: dependencies.siltbook, devDependencies: {} },
      ...Object.fromEntries(shipped.map(({ path }) => [path, lock.packages[path]])),
    },
  });
  await run("npm", ["ci", "--prefer-offline", "--no-audit", "--no-fund"], { cwd: folder });
  for (const program of ["program.ts", "frames-program.ts"])
    await copyFile(join(import.meta.dirname, program), join(folder, program));
}

/** How a user's project is compiled. */
export interface Compiling {
  /** the Node whose types are installed */
  readonly node: "20" | "22";
  readonly module: "node16" | "nodenext" | "preserve";
  readonly moduleResolution: "node16" | "nodenext" | "bundler";
  /** whether the declarations of every package are checked too */
  readonly declarations: boolean;
}

/**
 * Compiles a program of the project strictly, and writes it as JavaScript.
 *
 * @returns the compiler's messages, none when all is well
 */
export async function compile(folder: string, program: string, how: Compiling): Promise<string[]> {
  const types = `types-${how.node}`;
  await mkdir(join(folder, types), { recursive: true });
  const installed = join(ROOT, "node_modules/@types", how.node === "20" ? "node" : "node-22");
  await symlink(installed, join(folder, types, "node")).catch(ignoreExisting);
  const options = {
    ...{ module: how.module, moduleResolution: how.moduleResolution, target: "es2022", lib: ["es2023"] },
    ...{ strict: true, exactOptionalPropertyTypes: true, noUncheckedIndexedAccess: true },
    ...{ skipLibCheck: !how.declarations, typeRoots: [types], types: ["node"] },
  };
  write(folder, "tsconfig.json", { compilerOptions: options, files: [program] });
  const compiled = run(process.execPath, [join(ROOT, "node_modules/typescript/bin/tsc")], { cwd: folder });
  return compiled.then(
    () => [],
    (error: { stdout: string }) => error.stdout.trim().split("\n"),
  );
}

/** Runs something in the project and gives the lines that it printed. */
export async function runIn(folder: string, command: string, ...args: string[]): Promise<string[]> {
  const { stdout } = await run(command, args, { cwd: folder });
  return stdout.trim().split("\n");
}

function write(folder: string, name: string, content: object): void {
  writeFileSync(join(folder, name), JSON.stringify(content));
}

function ignoreExisting(error: NodeJS.ErrnoException): void {
  if (error.code !== "EEXIST") throw error;
}
