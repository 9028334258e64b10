import { type AnswerRows, loadDriver } from "./driver.js";
import { DUCKDB_FUNCTIONS, type DuckdbFunction } from "./functions.js";

/** A connection of the driver, as far as functions are registered on it. */
export interface DuckdbConnection {
  registerScalarFunction(created: never): void;
}

/**
 * Registers siltbook's classes and limits as scalar functions of SQL, for all connections to the database of this one.
 *
 * A row that has an impossible count ends the query with an error that names the function, the row's values and what was
 * expected; `TRY(…)` makes null of such a row instead.
 *
 * @param connection - a connection of `@duckdb/node-api`
 * @returns what was registered
 * @throws DuckdbError saying what to install when the package `@duckdb/node-api` is missing or too old
 */
export function registerDuckdbFunctions(connection: DuckdbConnection): readonly DuckdbFunction[] {
  const driver = loadDriver();
  for (const one of DUCKDB_FUNCTIONS) {
    const created = driver.DuckDBScalarFunction.create({
      name: one.name,
      parameterTypes: one.parameters.map(({ type }) => driver[type]),
      returnType: driver[one.returns],
      // Without it the database answers null for a row with a null before it asks.
      specialHandling: true,
      mainFunction: answersOf(one),
    });
    connection.registerScalarFunction(created as never);
  }
  return DUCKDB_FUNCTIONS;
}

function answersOf({ name, parameters, answer }: DuckdbFunction): AnswerRows {
  return (info, input, output) => {
    const columns = parameters.map((_, index) => input.getColumnVector(index));
    for (let row = 0; row < input.rowCount; row += 1) {
      const values = columns.map((column) => column.getItem(row));
      try {
        output.setItem(row, answer(values));
      } catch (error) {
        if (!(error instanceof RangeError)) throw error;
        const given = values.map((value) =>
          typeof value === "string" ? JSON.stringify(value) : (value ?? "NULL"),
        );
        info.setError(`${name}(${given.join(", ")}): ${error.message}`);
        return;
      }
    }
    output.flush();
  };
}
