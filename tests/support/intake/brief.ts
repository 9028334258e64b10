import { columnMapSchema, describeIssue, readLabFile } from "../../../src/intake/index.js";
import type { Sample } from "../../../src/samples/index.js";

/** A sample in one line: number, cart, circuit, day, counts with their volume, water (w) and acid number (a), runs. */
export function briefOf({
  sample,
  cart,
  circuit,
  drawnOn,
  counts,
  waterPpm,
  acidMgKohPerG,
  replicates,
  laboratorySays,
}: Sample): string {
  return [
    ...[sample, cart, circuit, drawnOn],
    ...(counts?.counts ?? []).map(({ sizeUm, count }) => `${sizeUm}:${count}`),
    ...(counts ? [`/${counts.volumeMl}`] : []),
    ...(waterPpm ? [`w${waterPpm.value}`] : []),
    ...(acidMgKohPerG ? [`a${acidMgKohPerG.value}`] : []),
    ...(replicates ? [`${replicates.length} runs`] : []),
    ...(laboratorySays ? ["remark"] : []),
  ].join(" ");
}

/** What became of the text of a file: its samples in brief, and the issues of what was set aside. */
export async function readBriefly(text: string, map?: object) {
  const settled = map && columnMapSchema.parse({ siltbookColumnMap: 1, name: "lab", ...map });
  const file = await readLabFile("lab.txt", new TextEncoder().encode(text), {
    today: "2026-12-31",
    ...(settled && { map: settled }),
  });
  const taken = file.samples.flatMap(({ origin }) => origin.flatMap(({ rows }) => rows));
  const aside = file.quarantine.map(({ row }) => row);
  const others = file.notSamples.map(({ row }) => row);
  return {
    file,
    samples: file.samples.map(briefOf),
    issues: file.quarantine.flatMap(({ issues }) => issues.map(describeIssue)),
    aside,
    /** Every place of the file once, in the order of their numbers. */
    places: [...taken, ...aside, ...others].sort((a, b) => a - b),
  };
}
