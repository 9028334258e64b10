import { createRequire } from "node:module";
import type { DataFrame } from "danfojs";

/** The library that makes data frames is not there. */
export class FramesError extends Error {
  override readonly name = "FramesError";
}

/** The part of the data-frame library that this module uses. */
interface Danfo {
  readonly DataFrame: new (data: unknown, options: { columns: string[]; dtypes: string[] }) => DataFrame;
}

/**
 * Loads the data-frame library, which is large and optional, at the first frame and not before.
 *
 * It is required and not imported: an import would have to stand at the top, for everybody, or make every frame wait.
 *
 * @throws FramesError saying what to install when it is missing
 */
export function loadDanfo(): Danfo {
  try {
    return createRequire(import.meta.url)("danfojs") as Danfo;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== "MODULE_NOT_FOUND") throw error;
    throw new FramesError(
      "data frames need the package danfojs 1.1.2, which siltbook does not bring along: npm install danfojs@1.1.2; " +
        'it asks for an old spreadsheet package with known faults, so put "overrides": { "danfojs": { "xlsx": ' +
        '"npm:@e965/xlsx@0.20.3" } } into your package.json first',
      { cause: error },
    );
  }
}
