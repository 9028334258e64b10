import type Database from "libsql";
import { CHAIN_VERSION } from "../../src/book/storage/migrations.js";

/** Makes a book one from before the chain. */
export function dropChain(db: InstanceType<typeof Database>): void {
  db.exec(
    `DROP TABLE brought_entry; DROP VIEW open_row; DROP VIEW awaited_file; DROP VIEW standing_withdrawal; DROP TABLE withdrawn_report; DROP TABLE withdrawal;
     CREATE VIEW open_row AS SELECT * FROM quarantined_row;
     DROP TABLE replaced; DROP TABLE piece; DROP TABLE entry; ALTER TABLE sample DROP COLUMN row_check;
     PRAGMA user_version = ${CHAIN_VERSION - 1}`,
  );
}
