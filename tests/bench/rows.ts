import { book } from "./book.js";
import { circulation } from "./circulation.js";
import { duckdb } from "./duckdb.js";
import { fleet } from "./fleet.js";
import { intake } from "./intake.js";
import type { BenchRow } from "./row.js";
import { startUp } from "./start-up.js";
import { trend } from "./trend.js";

/** The rows in the order of the table. A new one is a module beside this and an entry here. */
export const ROWS: readonly BenchRow<unknown>[] = [intake, duckdb, book, circulation, trend, fleet, startUp];
