// Classes and limits as functions of SQL in DuckDB; needs the package @duckdb/node-api.

export {
  DUCKDB_FUNCTIONS,
  type DuckdbConnection,
  DuckdbError,
  type DuckdbFunction,
  registerDuckdbFunctions,
  type SqlValue,
} from "../duckdb/index.js";
