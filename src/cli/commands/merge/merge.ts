import { mergeShards } from "../../../book/index.js";
import type { ExitCode, Io } from "../../io.js";
import { type FleetOptions, printFleet } from "../fleet/fleet.js";

/** Puts the shards of a fleet together, keeps their verdicts, and prints what `siltbook fleet` prints. */
export function runMerge(
  files: readonly string[],
  options: Pick<FleetOptions, "book" | "json" | "explain">,
  io: Io,
): Promise<ExitCode> {
  return printFleet(mergeShards(options.book, files), options, io);
}
