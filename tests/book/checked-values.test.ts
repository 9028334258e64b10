import { describe, expect, test } from "vitest";
import { connect } from "../../src/book/storage/database.js";
import { eachOf, firstOf } from "../../src/book/storage/reading.js";

const db = connect(":memory:", { create: true }, () => {});
db.exec("CREATE TABLE kept (value ANY)");
const insert = db.prepare("INSERT INTO kept VALUES (?)");

describe("only what the driver can hold reaches it, by the compiler and when run", () => {
  test("true, a date, a list and an object", () => {
    // @ts-expect-error [ts2345] - no value of a row
    expect(() => insert.run(true)).toThrow("a book keeps texts, numbers and bytes, not true");
    // @ts-expect-error [ts2345] - no value of a row
    expect(() => insert.run(new Date(0))).toThrow(
      "a book keeps texts, numbers and bytes, not Thu Jan 01 1970",
    );
    // @ts-expect-error [ts2345] - a list is not the values of a row
    expect(() => insert.run(["S-1"])).toThrow("a book keeps texts, numbers and bytes, not S-1");
    // @ts-expect-error [ts2345] - no value of a row
    expect(() => insert.run({ value: 1 })).toThrow("a book keeps texts, numbers and bytes");
    expect(firstOf(db, "SELECT count(*) AS rows FROM kept")).toEqual({ rows: 0 });
    // @ts-expect-error [ts2345] - nothing to compare a value of a row with
    expect(() => firstOf(db, "SELECT value FROM kept WHERE value = ?", true)).toThrow("not true");
    // @ts-expect-error [ts2345] - nothing to compare a value of a row with
    expect(() => [...eachOf(db, "SELECT value FROM kept WHERE value = ?", {})]).toThrow(
      "not [object Object]",
    );
  });

  test.each([
    ["text", "S-1"],
    ["integer", 12],
    ["real", 0.5],
    ["blob", Buffer.from([0, 255])],
    ["null", null],
  ])("a value of kind %s is kept as it is", (kind, value) => {
    db.exec("DELETE FROM kept");
    expect(insert.run(value).changes).toBe(1);
    expect(firstOf(db, "SELECT typeof(value) AS kind FROM kept")).toEqual({ kind });
  });
});
