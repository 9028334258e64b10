import { Book } from "../../../book/index.js";
import { formatQuantity } from "../../../units/index.js";
import { answerOf } from "../../answer.js";
import { type ExitCode, type Io, printJson, UsageError } from "../../io.js";
import { drawTable } from "../../text.js";
import { runQuarantine } from "../quarantine/quarantine.js";

/** Options of `siltbook list`. */
export interface ListOptions {
  readonly book: string;
  readonly json?: boolean;
}

/** Prints the files, the carts or the open rows of a book. */
export function runList(what: string, options: ListOptions, io: Io): ExitCode {
  switch (what) {
    case "files":
      return listFiles(options, io);
    case "carts":
      return listCarts(options, io);
    case "rows":
      return runQuarantine(options, io);
    default:
      throw new UsageError(`expected files, carts or rows, found "${what}"`);
  }
}

function listFiles({ book: path, json }: ListOptions, io: Io): ExitCode {
  const files = withBook(path, (book) => book.files());
  if (json)
    printJson(
      io,
      answerOf("list", { files: files.map((file) => ({ ...file, withdrawnAt: file.withdrawnAt ?? null })) }),
    );
  else {
    const rows = files.map(({ file, at, rows: all, taken, amended, quarantined, sha256, withdrawnAt }) => {
      const name = withdrawnAt === undefined ? file : `${file} (withdrawn ${withdrawnAt.slice(0, 10)})`;
      return [name, at.slice(0, 10), all, taken, amended, quarantined, sha256.slice(0, 8)].map(String);
    });
    io.out(drawTable(["file", "on", "rows", "taken", "amended", "quarantined", "SHA-256"], rows));
  }
  return 0;
}

function listCarts({ book: path, json }: ListOptions, io: Io): ExitCode {
  const carts = withBook(path, (book) =>
    book.carts().flatMap(({ cart, circuits }) =>
      circuits.map((circuit) => {
        const samples = book.history(cart, circuit.circuit);
        return { cart, circuit, samples: samples.length, lastDrawnOn: samples.at(-1)?.sample.drawnOn };
      }),
    ),
  );
  if (json) {
    const circuits = carts.map(({ circuit, lastDrawnOn = null, ...one }) => ({
      ...one,
      lastDrawnOn,
      circuit: circuit.circuit,
      fluid: circuit.fluid,
      serves: circuit.serves,
    }));
    printJson(io, answerOf("list", { circuits }));
    return 0;
  }
  const rows = carts.map(({ cart, circuit, samples, lastDrawnOn = "" }) => [
    ...[cart, circuit.circuit, circuit.serves, circuit.fluid],
    ...[formatQuantity("volume", circuit.volumeL, circuit.shownIn), String(samples), lastDrawnOn],
  ]);
  io.out(drawTable(["cart", "circuit", "serves", "fluid", "volume", "samples", "last drawn"], rows));
  return 0;
}

function withBook<T>(path: string, read: (book: Book) => T): T {
  const book = Book.open(path);
  try {
    return read(book);
  } finally {
    book.close();
  }
}
