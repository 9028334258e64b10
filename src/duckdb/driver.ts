import { createRequire } from "node:module";
import type { SqlValue } from "./functions.js";

/** The database's driver is not there, or has no functions in JavaScript. */
export class DuckdbError extends Error {
  override readonly name = "DuckdbError";
}

/** A column of the rows that are handed to a function, or of its answers. */
interface Vector {
  getItem(row: number): SqlValue;
  setItem(row: number, value: SqlValue): void;
  flush(): void;
}

/** What the driver hands to a function: rows, and a place for the answers or an error. */
export type AnswerRows = (
  info: { setError(message: string): void },
  input: { readonly rowCount: number; getColumnVector(column: number): Vector },
  output: Vector,
) => void;

/** The part of the driver that this module uses; spelled out so that its types are not needed either. */
export interface Driver {
  readonly DuckDBScalarFunction: {
    create(options: {
      readonly name: string;
      readonly parameterTypes: readonly unknown[];
      readonly returnType: unknown;
      readonly specialHandling: boolean;
      readonly mainFunction: AnswerRows;
    }): unknown;
  };
  readonly DOUBLE: unknown;
  readonly VARCHAR: unknown;
  readonly BOOLEAN: unknown;
}

const NEEDED = "@duckdb/node-api@1.5.6-r.1";

/**
 * Loads the driver, which is large and optional, when functions are registered and not before.
 *
 * @param load - how a package is loaded
 * @throws DuckdbError saying what to install
 */
export function loadDriver(load: (name: string) => unknown = createRequire(import.meta.url)): Driver {
  let driver: Partial<Driver>;
  try {
    driver = load("@duckdb/node-api") as Partial<Driver>;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== "MODULE_NOT_FOUND") throw error;
    throw new DuckdbError(
      `functions in DuckDB need the package @duckdb/node-api, which siltbook does not bring along: npm install ${NEEDED}`,
      { cause: error },
    );
  }
  if (driver.DuckDBScalarFunction === undefined) {
    throw new DuckdbError(
      `this version of @duckdb/node-api has no functions in JavaScript: npm install ${NEEDED}`,
    );
  }
  return driver as Driver;
}
