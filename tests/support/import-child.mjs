// A program that imports invented files into a book until it is done or killed. It runs the built package.
import { Book } from "../../dist/book/index.js";
import { bytesInMemory } from "../../dist/intake/index.js";

const [path, prefix, howMany, rows] = process.argv.slice(2);
const HEADER = "sample,cart,circuit,drawn on,4 µm(c) per mL,6 µm(c) per mL,14 µm(c) per mL,water (mg/kg)";
const line = (file, row) =>
  `${file}-${row},C-${row % 7},fore,2026-03-04,1503.27,320.5,40,${100 + (row % 50)}`;

const book = Book.open(path, { create: true });
process.stdout.write("started\n");
for (let index = 0; index < Number(howMany); index += 1) {
  const file = `${prefix}-${index}`;
  const text = [HEADER, ...Array.from({ length: Number(rows) }, (_, row) => line(file, row))].join("\n");
  const report = await book.takeIn(bytesInMemory(`${file}.csv`, new TextEncoder().encode(text)), {
    today: "2026-12-31",
    // Only a long file is ever in the midst of being written.
    onProgress: (fraction) => fraction < 1 && process.stdout.write("writing\n"),
  });
  process.stdout.write(`${report.file} ${report.taken} ${report.known}\n`);
}
book.close();
