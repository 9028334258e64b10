import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { strToU8, unzipSync, zipSync } from "fflate";
import { describe, expect, test } from "vitest";
import { PACK_LIMITS, packAsZip, packFromZip } from "../../src/evidence/index.js";
import { withManifest } from "../support/edited-packs.js";
import { run } from "../support/run-cli.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const folder = temporaryFolder();
const pack = withManifest([
  { path: "a.txt", bytes: strToU8("one") },
  { path: "inner/b.txt", bytes: strToU8("two".repeat(1000)) },
]).map(({ path, bytes }) => ({ path, bytes: Uint8Array.from(bytes) }));
const read = (zip: Uint8Array) =>
  packFromZip(zip).map(({ path, bytes }) => ({ path, bytes: Uint8Array.from(bytes) }));
const members = () => Object.fromEntries(pack.map(({ path, bytes }) => [path, bytes]));
const named = (path: string) => zipSync({ ...members(), [path]: strToU8("x") });

describe("a pack as one archive", () => {
  test("another library reads what is in it, dated alike in every zone of time", () => {
    const zip = packAsZip(pack);
    expect(unzipSync(zip)).toEqual(members());
    // The date of a member: 1 January 1980, in the fields of MS-DOS that the form of archive has.
    expect(Buffer.from(zip).readUInt16LE(12)).toBe((0 << 9) | (1 << 5) | 1);
    expect(packAsZip(pack)).toEqual(zip);
  });

  test("it is read as it was written, also packed again by another program with its folder around it", () => {
    expect(read(packAsZip(pack))).toEqual(pack);
    const around = Object.fromEntries(pack.map(({ path, bytes }) => [`pack 1/${path}`, bytes]));
    expect(read(zipSync({ "pack 1/": new Uint8Array(), ...around }))).toEqual(pack);
  });
});

/** The archive with the size that its list of members announces for the first one changed. */
function announcing(bytes: number): Uint8Array {
  const zip = Buffer.from(packAsZip(pack));
  zip.writeUInt32LE(bytes, zip.indexOf(Buffer.from([0x50, 0x4b, 1, 2])) + 24);
  return zip;
}

/** [what is wrong, the archive, what is said] */
const HOSTILE: readonly [string, () => Uint8Array, RegExp][] = [
  ["a name that goes up", () => named("../x.txt"), /"\.\.\/x\.txt" leads out of the archive/],
  ["a name that goes up in the middle", () => named("inner/../../x.txt"), /leads out/],
  ["a name from the root", () => named("/etc/x.txt"), /leads out/],
  ["a name of a drive", () => named("C:/x.txt"), /leads out/],
  ["a name with backslashes", () => named("..\\x.txt"), /leads out/],
  ["a name that ends early", () => named("a.txt\0.exe"), /leads out/],
  ["a size beyond the bound", () => announcing(PACK_LIMITS.unpackedBytes + 1), /unpacks to more than 512 MB/],
  ["less than it holds", () => announcing(1), /announces 1 bytes and holds/],
  ["more than it holds", () => announcing(100_000), /announces 100000 bytes and holds 3/],
  [
    "too many members",
    () =>
      zipSync(
        Object.fromEntries(
          Array.from({ length: PACK_LIMITS.members + 1 }, (_, at) => [`${at}`, new Uint8Array()]),
        ),
      ),
    /holds 5001 members, and at most 5000 are read/,
  ],
  ["half of an archive", () => packAsZip(pack).slice(0, 300), /cut off or damaged/],
  ["no archive", () => strToU8("manifest"), /cut off or damaged/],
];

describe("an archive that nobody made with siltbook", () => {
  test.each(HOSTILE)("%s: refused in one line", async (_, make, message) => {
    const path = join(folder, "hostile.zip");
    writeFileSync(path, make());
    const { code, out, err } = await run("verify", "--evidence", path);
    expect({ code, out }).toEqual({ code: 2, out: "" });
    expect(err).toMatch(message);
    expect(err.trimEnd().split("\n")).toHaveLength(1);
  });
});
