import { writeFileSync } from "node:fs";
import { basename, join } from "node:path";
import type { AnswerName } from "../../src/cli/answer.js";

const DEMO = ["--carts", "datasets/demo/carts.json", "--requirement", "datasets/demo/requirement.json"];
const TIDY = "datasets/demo/lab-tidy.csv";
const LONG = "datasets/demo/lab-long.csv";
const DAMAGED = "datasets/demo/lab-damaged.csv";
const ON = ["--on", "2026-11-20"];
const FORE = ["--cart", "QB-01", "--circuit", "fore"];
const COUNTS = ["--counts", "4=15000 6=1200 14=75"];
const CIRCUIT = [
  ...["--volume", "60 L", "--flow", "15 L/min", "--beta", "4=20 6=100 14=1000"],
  ...["--start", "4=20000 6=5000 14=640", "--target", "17/15/12"],
];
const BY = ["--person", "A. Person", "--reason", "bottle was found open"];

const LOG = [900, 800, "damp", 700].map((v, minute) =>
  [4, 6, 14].map((size) =>
    JSON.stringify({ n: `particles > ${size} µm(c)`, u: "1/mL", v, t: 1_773_500_000 + 60 * minute }),
  ),
);
const SET_BACK = JSON.stringify({ n: "particles > 4 µm(c)", u: "1/mL", v: 1, t: 1_773_400_000 });

const TABLE = `Time,> 4 µm(c) /mL,> 6 µm(c) /mL,> 14 µm(c) /mL,Operator
2026-11-20 08:00,15000,4000,500,A
2026-11-20 08:01,damp,3500,440,A
2026-11-20 08:02,12000,3000,400,A
`;

/** A command with its words. */
export type Call = readonly [AnswerName, ...string[]];

/**
 * Calls over the demonstration data, in their order; of each command at least one for each form of its answer.
 *
 * @param folder - where they write
 * @returns the calls, and what writes the files that they read
 */
export function callsOverDemo(folder: string): {
  readonly calls: readonly Call[];
  readonly write: () => void;
} {
  const at = (name: string) => join(folder, name);
  const BOOK = ["--book", at("demo.siltbook")];
  const calls: readonly Call[] = [
    ["classify", ...COUNTS],
    ["classify", ...COUNTS, "--raw-volume", "25 mL", "--lab-rsd", "15 %", "--target", "18/16/13"],
    [
      "classify",
      "--counts",
      "5=16000 15=2000 25=300 50=40 100=5",
      "--scale",
      "um-microscope",
      "--per",
      "100mL",
    ],
    ["classify", ...COUNTS, "--blank", "4=15000 6=1200 14=75"],
    ["circulate", ...CIRCUIT],
    ["circulate", ...CIRCUIT, "--after", "10 min", "--within", "5 min", "--ingress", "4=1e6 6=2e5 14=1e4"],
    [
      "circulate",
      ...CIRCUIT,
      "--interim",
      "4 min: 4=7800 6=1900 14=240",
      "--interim",
      "8 min: 4=3000 6=700 14=88",
    ],
    [
      ...(["circulate", ...CIRCUIT, "--element", "capacity=80 g held=10 g"] as const),
      ...["--indicator", "drop=1 bar viscosity=14 mm2/s trips=5 bar at=5 °C fluid=MIL-PRF-83282"],
      ...["--heat", "drop=200 bar efficiency=85 % cooling=2 kW start=20 °C limit=70 °C fluid=MIL-PRF-83282"],
      ...["--hoses", "25 mm x 8 m x 2", "--fluid", "MIL-PRF-83282"],
    ],
    [
      "exchange",
      "--volume",
      "60 L",
      "--water",
      "900 ppm",
      "--water-limit",
      "500 ppm",
      "--fresh-water",
      "150 ppm",
    ],
    [
      ...(["exchange", "--volume", "60 L", "--water", "900 ppm", "--water-limit", "500 ppm"] as const),
      ...["--fresh-water", "600 ppm", "--dry", "30 % per hour"],
    ],
    ["follow", "--target", "17/15/12", "--log", at("counter.jsonl")],
    ["judge", ...DEMO, ...ON, TIDY, DAMAGED],
    ["trend", ...DEMO.slice(0, 2), ...FORE, ...ON, TIDY],
    ["trend", ...DEMO, ...FORE, "--measure", "particles", ...ON, TIDY],
    ["columns", TIDY],
    ["columns", LONG],
    ["init", "--to", at("new"), TIDY],
    ["import", ...BOOK, ...DEMO, ...ON, "--quarantine", at("quarantine"), TIDY, DAMAGED],
    ["import", ...BOOK, "--by", "A. Person", "datasets/demo/lab-semicolon.csv", LONG],
    ["list", "files", ...BOOK],
    ["list", "carts", ...BOOK],
    ["list", "rows", ...BOOK],
    ["quarantine", ...BOOK, "--all"],
    ["rows", basename(DAMAGED), ...BOOK],
    ["judge", ...BOOK, ...ON],
    ["judge", ...BOOK, ...ON, "--since", "2026-11-20"],
    ["fleet", ...BOOK, ...ON],
    ["fleet", ...BOOK, ...ON, "--shard", "1/2", "--out", at("shard-1.jsonl")],
    ["report", ...BOOK, ...ON, "--out", at("report.html")],
    ["page", ...BOOK, ...ON, "--out", at("page.html")],
    ["labels", ...BOOK, "--first", "99-0001", "--point", "drain", "--out", at("labels.html")],
    ["override", ...BOOK, ...FORE, ...BY, "--decision", "do-not-connect"],
    ["fleet", ...BOOK, ...ON],
    ["history", ...BOOK, ...FORE],
    ["override", ...BOOK, ...FORE, ...BY, "--lift"],
    ["circulate", ...BOOK, ...FORE, ...ON],
    ["circulate", ...BOOK, "--cart", "QB-02", "--circuit", "fore", ...ON],
    ["trace", ...BOOK, "--cart", "QB-01", ...ON],
    ["trace", ...BOOK, "--aircraft", "L-204", ...ON],
    ["export", ...BOOK, "--to", at("samples.csv")],
    ["export", ...BOOK, "--to", at("all.xlsx"), ...ON],
    ["export", ...BOOK, "--to", at("lake"), "--base", "North field"],
    ["backup", ...BOOK, "--to", at("copy.siltbook")],
    ["restore", "--from", at("copy.siltbook"), "--to", at("back.siltbook")],
    ["salvage", ...BOOK, "--to", at("saved.siltbook")],
    ["verify", ...BOOK],
    ["verify", ...BOOK, "--against", "0123456789ab"],
    ["evidence", ...BOOK, ...FORE, "--out", at("pack")],
    ["verify", "--evidence", at("pack"), ...BOOK, "--against", "0123456789ab"],
    ["follow", ...BOOK, "--cart", "QB-02", "--circuit", "fore", ...ON, "--log", at("counter.csv")],
    ["import", "--book", at("round.siltbook"), "datasets/demo/round-robin.csv"],
    ["laboratories", "--book", at("round.siltbook")],
    ["withdraw", basename(TIDY), ...BOOK, "--by", "A. Person", "--reason", "report of another base"],
    ["history", ...BOOK, ...FORE],
  ];
  const write = () => {
    writeFileSync(at("counter.jsonl"), `${[...LOG.flat(), "no line", SET_BACK].join("\n")}\n`);
    writeFileSync(at("counter.csv"), TABLE);
  };
  return { calls, write };
}
