import { createServer, type Server } from "node:net";
import { afterAll, beforeAll, expect, test } from "vitest";
import { Book, BookError } from "../../src/book/index.js";
import { run } from "../support/run-cli.js";

// The driver of the database opens a connection to what it takes for an address.
let server: Server;
let port = 0;
let connections = 0;

beforeAll(async () => {
  server = createServer((socket) => {
    connections += 1;
    socket.destroy();
  });
  await new Promise<void>((resolve) => {
    server.listen(0, "127.0.0.1", resolve);
  });
  const address = server.address();
  port = typeof address === "object" && address !== null ? address.port : 0;
});

afterAll(() => server.close());

const SCHEMES = ["http", "HTTP", "https", "libsql", "ws", "wss", "file", "ftp", "x-y+z.1"];

test.each(SCHEMES)(
  "a book named like an address (%s) is refused before anything is connected to",
  (scheme) => {
    const path = `${scheme}://127.0.0.1:${port}/base.siltbook`;
    for (const create of [false, true]) {
      expect(() => Book.open(path, { create })).toThrow(BookError);
      expect(() => Book.open(path, { create })).toThrow(
        `${path}: is an address; a book is a file, so name one`,
      );
    }
    expect(connections).toBe(0);
  },
);

test.each([
  ["import", ["import", "datasets/demo/lab-tidy.csv"]],
  ["judge", ["judge", "--on", "2026-11-20"]],
  ["fleet", ["fleet", "--on", "2026-11-20"]],
  ["trend", ["trend", "--cart", "QB-01", "--circuit", "fore"]],
  ["history", ["history", "--cart", "QB-01", "--circuit", "fore"]],
  ["quarantine", ["quarantine"]],
])("%s with a book named like an address ends with 2 and without a connection", async (_name, args) => {
  const { code, err } = await run(...args, "--book", `http://127.0.0.1:${port}/base.siltbook`);
  expect({ code, connections }).toEqual({ code: 2, connections: 0 });
  expect(err).toContain("is an address; a book is a file");
});
