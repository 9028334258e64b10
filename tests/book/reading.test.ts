import { expect, test } from "vitest";
import { connect } from "../../src/book/storage/database.js";
import { eachOf, readerOf, rowsOf, rowsTogether } from "../../src/book/storage/reading.js";

function bookWith(values: readonly (string | number | Buffer | null)[]) {
  const db = connect(":memory:", { create: true }, () => {});
  db.exec(
    "CREATE TABLE kept (id INTEGER PRIMARY KEY, value ANY, number INTEGER, text TEXT, real REAL, bytes BLOB)",
  );
  const insert = db.prepare("INSERT INTO kept (value) VALUES (?)");
  for (const value of values) insert.run(value);
  return db;
}

const ALL = "SELECT id, value FROM kept WHERE id > ? ORDER BY id DESC";

test("a query is prepared once, however often and in whatever way it is asked", () => {
  const db = bookWith(["a", "b"]);
  const prepared: string[] = [];
  const { prepare } = db;
  db.prepare = (sql) => {
    prepared.push(sql);
    return prepare(sql);
  };
  for (let round = 0; round < 20; round += 1) {
    expect(rowsOf(db, ALL, 0)).toHaveLength(2);
    expect(readerOf(db, ALL).first(1)).toEqual({ id: 2, value: "b" });
    expect([...eachOf(db, ALL, 2)]).toEqual([]);
    expect(rowsTogether(db, ALL, 0)).toHaveLength(2);
  }
  // Once for its columns, once to be asked, once to be asked for all rows together.
  expect(prepared).toHaveLength(3);
});

/** The driver takes a hundred rows at a time, so that with fewer no query is under way any more. */
const MANY = 250;

test("a query that is asked again while it is read, or was left before its end, gives all its rows each time", () => {
  const db = bookWith(Array.from({ length: MANY }, (_, place) => place));
  const falling = Array.from({ length: MANY }, (_, place) => MANY - place);
  const ids = () => Array.from(eachOf<{ id: number }>(db, ALL, 0), ({ id }) => id);
  const outer: number[] = [];
  for (const { id } of eachOf<{ id: number }>(db, ALL, 0)) {
    if (id % 100 === 0) expect(ids()).toEqual(falling);
    outer.push(id);
  }
  expect(outer).toEqual(falling);
  for (const { id } of eachOf<{ id: number }>(db, ALL, 0)) if (id === MANY - 120) break;
  expect(ids()).toEqual(falling);
  expect(rowsOf(db, ALL, MANY - 1)).toEqual([{ id: MANY, value: MANY - 1 }]);
});

test("rows that are put together are those that come one by one, in their order, to the last digit", () => {
  const db = bookWith(["S-1", 'a "quoted"\ttext\n', "a\u0000b", "π 🛢", 12, -3, null, ""]);
  db.exec(`INSERT INTO kept (text, real, bytes) VALUES
    ('x', 0.1, x'00ff'), (NULL, NULL, NULL), ('y', 5e-324, x''), ('z', 1.7976931348623157e308, x'22')`);
  const sql = "SELECT id, value, text, real, bytes FROM kept WHERE id > ? ORDER BY id DESC";
  const together = rowsTogether<{ id: number; real: number | null }>(db, sql, 0);
  expect(together).toEqual([...eachOf(db, sql, 0)]);
  expect(together.map(({ id }) => id)).toEqual([12, 11, 10, 9, 8, 7, 6, 5, 4, 3, 2, 1]);
  expect(together.slice(0, 4).map(({ real }) => real)).toEqual([1.7976931348623157e308, 5e-324, null, 0.1]);
  expect(rowsTogether(db, sql, 12)).toEqual([]);
});

test.each([
  [
    "text instead of a number",
    "number",
    "'12a'",
    "a value of column number is of another kind than was written",
  ],
  ["bytes instead of a text", "text", "x'31'", "JSON cannot hold BLOB values"],
  ["a text whose bytes are no text", "text", "CAST(x'ff' AS TEXT)", "a text holds bytes that are no text"],
])("%s is an error, in whatever way the rows are read", (_what, column, value, error) => {
  const db = bookWith(["whole"]);
  db.exec(`INSERT INTO kept (${column}) VALUES (${value})`);
  const sql = "SELECT id, number, text FROM kept";
  expect(() => [...eachOf(db, sql)]).toThrow(error);
  expect(() => rowsOf(db, sql)).toThrow(error);
  expect(() => rowsTogether(db, sql)).toThrow(error);
});
