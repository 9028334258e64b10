export { DuckdbError } from "./driver.js";
export { DUCKDB_FUNCTIONS, type DuckdbFunction, type SqlValue } from "./functions.js";
export { type DuckdbConnection, registerDuckdbFunctions } from "./register.js";
