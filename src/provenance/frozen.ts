/**
 * Freezes a table of the program and all that it holds, where it is made. Results hold parts of tables; what one caller
 * does to a result must not change the next.
 */
/* @__NO_SIDE_EFFECTS__ */
export function frozen<T>(table: T): T {
  if (typeof table !== "object" || table === null || Object.isFrozen(table)) return table;
  for (const name in table) frozen(table[name]);
  return Object.freeze(table);
}
