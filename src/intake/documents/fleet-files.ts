import { basename } from "node:path";
import type { UnreadResult } from "../../fitness/index.js";
import {
  assumedAsOf,
  type Cart,
  cartsAsOf,
  type Requirement,
  type RequirementsFile,
  type Sample,
  wasKnownBy,
} from "../../samples/index.js";
import { allBytes, bytesOnDisk } from "../bytes/bytes.js";
import { textOnDisk } from "../bytes/whole-text.js";
import { parseColumnMap } from "../layout/column-map.js";
import { type Collection, collectSamples } from "../samples/collect.js";
import { type LabFile, readLabFile } from "../samples/lab-file.js";
import { parseCartsFile, parseRequirementsFile } from "./json-file.js";
import { unreadResults } from "./unread-results.js";

/** Paths of the files that verdicts rest on. */
export interface FleetPaths {
  readonly carts: string;
  readonly requirement: string;
  /** Laboratory files, in any order. */
  readonly samples: readonly string[];
  /** Column map of all laboratory files. */
  readonly map?: string;
  /** Only what was known on this day, as ISO 8601: drawn, and reported by then. */
  readonly asOf?: string;
}

/** Carts and samples from files, without their requirements. */
export interface SampleFiles extends Collection {
  readonly carts: readonly Cart[];
  /** Names of all carts of the carts file, those of other bases among them, and with a book of those it knows besides. */
  readonly knownCarts: readonly string[];
  readonly files: readonly LabFile[];
}

/** What the files held: with a day of judging it is all that `judgeCarts` asks for. */
export interface FleetFiles extends SampleFiles {
  readonly requirements: readonly Requirement[];
  /** The document that the requirements were taken from. */
  readonly document: RequirementsFile;
  readonly samples: readonly Sample[];
  /** What could not be read, so that no verdict passes over a newer result. */
  readonly unread: readonly UnreadResult[];
}

/**
 * Opens carts, requirements and laboratory files, and puts the samples together.
 *
 * @param paths - see {@link FleetPaths}; messages name a file without its folder
 * @returns every row as a sample or in quarantine
 * @throws IntakeError naming the file that cannot be opened or read, and why
 */
export async function readFleetFiles(paths: FleetPaths): Promise<FleetFiles> {
  const document = readRequirementsFile(paths.requirement);
  const held = await readSampleFiles(paths);
  return {
    ...held,
    requirements: document.systems,
    document,
    unread: unreadResults(held.quarantine, held.samples),
  };
}

/**
 * Opens carts and laboratory files, and puts the samples together.
 *
 * @throws IntakeError naming the file that cannot be opened or read, and why
 */
export async function readSampleFiles(paths: Omit<FleetPaths, "requirement">): Promise<SampleFiles> {
  const { carts, otherCarts = [] } = parseCartsFile(basename(paths.carts), textOnDisk(paths.carts));
  const map =
    paths.map === undefined ? undefined : parseColumnMap(basename(paths.map), textOnDisk(paths.map));
  const files = await Promise.all(
    paths.samples.map(async (path) =>
      readLabFile(basename(path), allBytes(bytesOnDisk(path)), { ...(map && { map }) }),
    ),
  );
  const knownCarts = [...carts.map(({ cart }) => cart), ...otherCarts];
  if (paths.asOf === undefined)
    return { carts, knownCarts, files, ...collectSamples(files, carts, otherCarts) };
  const day = paths.asOf;
  const known = files.map((file) => knownIn(file, day));
  const collection = collectSamples(known, carts, otherCarts);
  const reports = files.flatMap(({ samples }) => samples).map((sample) => ({ sample }));
  return {
    carts: cartsAsOf(day, carts),
    knownCarts,
    files,
    ...collection,
    assumptions: [
      ...collection.assumptions,
      ...assumedAsOf(day, reports, { carts: false, requirement: false }),
    ],
  };
}

/** What a file held that was known on a day. When a row in quarantine was reported is not known, so it counts once drawn. */
function knownIn(file: LabFile, day: string): LabFile {
  return {
    ...file,
    samples: file.samples.filter((sample) => wasKnownBy(day, { sample })),
    quarantine: file.quarantine.filter(({ drawnOn = day }) => drawnOn <= day),
  };
}

/**
 * Opens a requirements file.
 *
 * @throws IntakeError when it cannot be opened or read, and why
 */
export function readRequirementsFile(path: string): RequirementsFile {
  return parseRequirementsFile(basename(path), textOnDisk(path));
}
