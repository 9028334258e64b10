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

test("a query that is asked again while it is read, or was left before its end, gives all its rows each time", () => {
  const db = bookWith(["a", "b", "c"]);
  const ids = (rows: Iterable<{ id: number }>) => Array.from(rows, ({ id }) => id);
  const pairs: number[][] = [];
  for (const { id } of eachOf<{ id: number }>(db, ALL, 0)) {
    for (const inner of eachOf<{ id: number }>(db, ALL, id - 1)) pairs.push([id, inner.id]);
  }
  expect(pairs).toEqual([
    [3, 3],
    [2, 3],
    [2, 2],
    [1, 3],
    [1, 2],
    [1, 1],
  ]);
  for (const { id } of eachOf<{ id: number }>(db, ALL, 0)) if (id === 2) break;
  expect(ids(eachOf(db, ALL, 0))).toEqual([3, 2, 1]);
  expect(ids(rowsOf(db, ALL, 1))).toEqual([3, 2]);
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
