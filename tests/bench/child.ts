// Runs one side of one row in a process of its own, so that its memory can be told: child.ts <row> <side> <job.json>
import { readFileSync } from "node:fs";
import { ROWS } from "./rows.js";

const [rowName, sideName, jobFile] = process.argv.slice(2) as [string, string, string];
const side = ROWS.find(({ name }) => name === rowName)?.sides.find(({ name }) => name === sideName);
if (side === undefined || !("run" in side)) throw new RangeError(`no side "${sideName}" in row "${rowName}"`);
const answered = await side.run(JSON.parse(readFileSync(jobFile, "utf8")));
const peakMb = (process.resourceUsage().maxRSS * 1024) / 1e6;
process.stdout.write(JSON.stringify({ peakMb, ...answered }));
