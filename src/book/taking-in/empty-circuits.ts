import type { Connection } from "../storage/database.js";

/** Circuits that only samples had named go with the last of them, and so do their carts. */
export function dropEmptyCircuits(db: Connection): void {
  db.exec(
    `DELETE FROM circuit WHERE body IS NULL AND former IS NULL AND id NOT IN (SELECT circuit_id FROM sample);
     DELETE FROM cart WHERE id NOT IN (SELECT cart_id FROM circuit);`,
  );
}
