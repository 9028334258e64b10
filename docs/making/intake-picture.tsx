import { renderToString } from "preact-render-to-string";
import { Book, type RowFate } from "../../src/book/index.js";
import { bytesInMemory } from "../../src/intake/index.js";

const TITLES = "Bottle No.;Cart;Circuit;Date drawn;> 4 µm(c) /mL;> 6 µm(c) /mL;> 14 µm(c) /mL;Water (ppm)";
const EARLIER = [
  TITLES,
  "B-101;QB-01;fore;02.03.2026;4240,5;1120;84;310",
  "B-102;QB-01;aft;02.03.2026;4380;1190;97;-",
];
const FILE = [
  "Laboratory of the harbour, report 26-118",
  "",
  TITLES,
  "B-101;QB-01;fore;02.03.2026;4240,5;1120;84;310",
  "B-102;QB-01;aft;02.03.2026;4380;1190;97;96",
  "B-103;QB-02;fore;27.03.2026;18.500;4150,5;512;< 50",
  "B-104;QB-02;aft;03/04/2026;4640;1250;108;71",
  "B-105;QB-03;fore;28.03.2026;4120;5310;92;288",
  "B-106;QB-03;aft;28.03.2026;TNTC;9870;1240;0,05",
  "B-107;QB-04;fore;28.03.2026;3960;1080;≤ 80;trace",
  "",
  "End of report, 7 bottles",
];

const FATES: Record<RowFate["fate"], { readonly paper: string; readonly mark: string }> = {
  taken: { paper: "#e3f1e3", mark: "✓" },
  known: { paper: "#e8eef7", mark: "=" },
  amended: { paper: "#fdf2d0", mark: "±" },
  quarantined: { paper: "#f8dcd3", mark: "!" },
  withdrawn: { paper: "#f0f0f0", mark: "↩" },
  "not a sample": { paper: "#f0f0f0", mark: "–" },
};

const SHORT: Readonly<Record<string, string>> = {
  "cell-not-read": "not written as the other days",
  "counts-break-a-rule": "counts cannot rise with size",
  "water-per-cent-as-ppm": "per cent read as ppm?",
};

const COMMENTS: Partial<Record<RowFate["fate"], string>> = {
  known: "the book has these results",
  amended: "water was not in the earlier report",
};

const LINE = 26;
const WIDTH = 1100;
const TEXT_AT = 44;
const FATE_AT = 715;

function Row({ row, index }: { row: RowFate; index: number }) {
  const { paper, mark } = FATES[row.fate];
  const why = row.why ?? row.issues?.map(({ code }) => SHORT[code] ?? code).join(", ") ?? COMMENTS[row.fate];
  const y = 56 + index * LINE;
  return (
    <g>
      <rect x={8} y={y} width={WIDTH - 16} height={LINE - 3} fill={paper} />
      <text x={32} y={y + 16} text-anchor="end" fill="#666">
        {row.row}
      </text>
      <text x={TEXT_AT} y={y + 16} font-family="monospace" font-size={12}>
        {row.text}
      </text>
      <text x={FATE_AT} y={y + 16} font-weight="bold">
        {mark} {row.fate}
      </text>
      <text x={FATE_AT + 120} y={y + 16}>
        {why}
      </text>
    </g>
  );
}

/** A file and what became of each of its rows, from a book that had read an earlier report. */
export async function drawIntake(): Promise<string> {
  const book = Book.open(":memory:", { create: true });
  const bytes = (lines: readonly string[]) => new TextEncoder().encode(lines.join("\n"));
  await book.takeIn(bytesInMemory("february.csv", bytes(EARLIER)), { today: "2026-04-10" });
  const report = await book.takeIn(bytesInMemory("march.csv", bytes(FILE)), { today: "2026-04-10" });
  const rows = [...book.rows(report.sha256)];
  book.close();
  const { taken, known, amended, quarantined, notSamples } = report;
  const height = 56 + rows.length * LINE + 12;
  const svg = renderToString(
    <svg
      role="img"
      aria-label="A file of twelve rows, each with what became of it"
      xmlns="http://www.w3.org/2000/svg"
      viewBox={`0 0 ${WIDTH} ${height}`}
      width={WIDTH}
      height={height}
      font-family="sans-serif"
      font-size={13}
    >
      <rect width={WIDTH} height={height} fill="white" />
      <text x={8} y={22} font-size={16} font-weight="bold">
        {`march.csv: ${report.rows} rows = ${taken} taken + ${known} known + ${amended} amended + ${quarantined} quarantined + ${notSamples} no samples`}
      </text>
      <text x={8} y={42} fill="#444">
        {`Read as ${report.readAs}; decimal comma, because "4240,5" can be read in no other way. The book held bottles B-101 and B-102.`}
      </text>
      {rows.map((row, index) => (
        <Row key={row.row} row={row} index={index} />
      ))}
    </svg>,
  );
  return `${svg}\n`;
}
