import Database from "libsql";
import { vi } from "vitest";
import {
  Book,
  fleetAnswer,
  fleetFrame,
  judgeBook,
  partOfCart,
  readFleetOutline,
} from "../../../src/book/index.js";

/** An outline of which nothing is taken from earlier verdicts: every circuit is judged in full. */
export function inFull<T extends { readonly lastChange?: number }>({ lastChange: _, ...outline }: T) {
  return outline;
}

/** The answer of a whole fleet as text, with the numbers of its verdicts, and how many carts had their samples read for it. */
export async function judgedFleet(path: string, on: string, isInFull = false) {
  const read = vi.spyOn(Book.prototype, "samples");
  try {
    const whole = readFleetOutline(path, { on });
    const outline = isInFull ? inFull(whole) : whole;
    const parts = [];
    for await (const circuits of judgeBook(path, outline, on))
      parts.push({
        ...partOfCart(circuits, outline.document.systems),
        numbers: circuits.map(({ kept }) => kept?.id),
      });
    const answer = fleetAnswer(fleetFrame(outline, outline.carts, { on, isWhole: true }), parts);
    return {
      text: JSON.stringify([answer, parts]),
      stands: Object.fromEntries(
        answer.rows.map(({ cart, circuit, stands }) => [`${cart} ${circuit}`, stands]),
      ),
      carts: outline.carts.length,
      read: read.mock.calls.length,
    };
  } finally {
    read.mockRestore();
  }
}

/** All records of a book, but for the time at which each was kept. */
export function recordsIn(path: string): unknown[] {
  const db = new Database(path);
  const tables = [
    `SELECT id, judged_on, cart, circuit, verdict, document, revision, version, inputs, inputs_sha256, result_sha256,
       hex(result) AS result FROM verdict ORDER BY id`,
    "SELECT sha256, hex(body) AS body FROM judged_input ORDER BY sha256",
  ].map((sql) => db.prepare(sql).all());
  db.close();
  return tables;
}
