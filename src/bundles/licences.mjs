// The licences that a bundle must carry.
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";

/**
 * The licence of every package of which something is in a bundle.
 *
 * @param root - where node_modules is
 * @param metafile - what esbuild says of the bundle
 */
export function licencesIn(root, metafile) {
  const packages = Object.values(metafile.outputs).flatMap(({ inputs }) =>
    Object.entries(inputs).flatMap(([path, { bytesInOutput }]) => {
      const name = /^node_modules\/((?:@[^/]+\/)?[^/]+)\//.exec(path)?.[1];
      return name === undefined || bytesInOutput === 0 ? [] : [name];
    }),
  );
  return [...new Set(packages)]
    .sort()
    .map((name) => `${name}\n\n${licenceOf(root, name)}`)
    .join("\n\n");
}

function licenceOf(root, name) {
  const folder = join(root, "node_modules", name);
  const file = readdirSync(folder).find((entry) => /^licen[cs]e/i.test(entry));
  if (file === undefined) throw new Error(`${name} has no licence file, which a copy of it must carry`);
  return readFileSync(join(folder, file), "utf8").trim();
}
