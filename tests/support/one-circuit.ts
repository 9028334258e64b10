import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll } from "vitest";
import { run, runExplained, runJson } from "./run-cli.js";

/** One cart with one circuit. */
export const CARTS = {
  carts: [
    {
      cart: "C-1",
      circuits: [
        {
          circuit: "1",
          serves: "main system",
          fluid: "MIL-PRF-83282",
          volume: "60 L",
          flow: "45 L/min",
          element: { position: "pressure", betas: [{ sizeUmC: 4, beta: 20 }] },
        },
      ],
    },
  ],
};

/** Limits that ask for nothing about the bottle, so that only what was reported can hold the circuit. */
export const REQUIREMENT = {
  document: "example limits",
  revision: "3",
  systems: [
    {
      system: "main system",
      fluids: ["MIL-PRF-83282"],
      cleanliness: ["17/15/12"],
      waterPpmMax: 200,
      acidMgKohPerGMax: 0.2,
      sampleAgeDaysMax: 30,
    },
  ],
};

const TITLES = [
  ...[
    "sample",
    "cart",
    "circuit",
    "drawn on",
    "fluid",
    "4 µm(c) per mL",
    "6 µm(c) per mL",
    "14 µm(c) per mL",
  ],
  ...["water (mg/kg)", "acid number (mg KOH/g)"],
];

/** A sample with room below every limit: 1300, 320 and 40 particles per mL, 200 ppm, 0.2 mg KOH/g. */
export const CLEAN = ["S-1", "C-1", "1", "2026-03-04", "MIL-PRF-83282", "1000", "300", "30", "120", "0.1"];

/** The same with far too many particles at every size. */
export const DIRTY = CLEAN.map((cell, index) => ({ 5: "20000", 6: "5000", 7: "640" })[index] ?? cell);

const quoted = (cell: string) => (/[,"\n]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell);
const line = (cells: readonly string[]) => cells.map(quoted).join(",");

/** A file with a row for the sample and more columns behind it. */
export function wideFile(more: Readonly<Record<string, string>>, sample: readonly string[] = CLEAN): string {
  return `${line([...TITLES, ...Object.keys(more)])}\n${line([...sample, ...Object.values(more)])}\n`;
}

const MEASURANDS = [
  ["4 µm(c)", 5, "1/mL"],
  ["6 µm(c)", 6, "1/mL"],
  ["14 µm(c)", 7, "1/mL"],
  ["water", 8, "mg/kg"],
  ["acid number", 9, "mg KOH/g"],
] as const;

/** The same sample with a row for each measurand, and more rows. */
export function longFile(more: Readonly<Record<string, string>>, sample: readonly string[] = CLEAN): string {
  const naming = sample.slice(0, 5);
  return [
    line([...TITLES.slice(0, 5), "test", "result", "unit"]),
    ...MEASURANDS.map(([name, at, unit]) => line([...naming, name, sample[at] as string, unit])),
    ...Object.entries(more).map(([name, text]) => line([...naming, name, text, ""])),
    "",
  ].join("\n");
}

/** The same sample as a sheet of two columns. */
export function blockFile(more: Readonly<Record<string, string>>, sample: readonly string[] = CLEAN): string {
  const rows = TITLES.map((title, index) => [title, sample[index] as string]);
  return `${[...rows, ...Object.entries(more)].map(line).join("\n")}\n`;
}

/** Commands on one cart with one circuit, in a folder of their own. */
export function oneCircuit() {
  const folder = mkdtempSync(join(tmpdir(), "siltbook-"));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  const at = (name: string) => join(folder, name);
  const write = (name: string, text: string) => {
    writeFileSync(at(name), text);
    return at(name);
  };
  const carts = write("carts.json", JSON.stringify(CARTS));
  const requirement = write("requirement.json", JSON.stringify(REQUIREMENT));
  const fleet = ["--carts", carts, "--requirement", requirement];
  let files = 0;
  const labFile = (text: string) => {
    files += 1;
    return write(`lab-${files}.csv`, text);
  };
  return {
    at,
    write,
    /** The verdict on the circuit on 14 March 2026, with its reasons. */
    judge: async (text: string, ...more: string[]) => {
      const { json, code } = await runJson("judge", ...fleet, "--on", "2026-03-14", ...more, labFile(text));
      const [circuit] = json.circuits;
      return { code, ...circuit, codes: codesOf(circuit.reasons), quarantine: json.quarantine };
    },
    judgeInWords: async (text: string, ...more: string[]) =>
      (await runExplained("judge", ...fleet, "--on", "2026-03-14", ...more, labFile(text))).out,
    /** Brings files into a book one after the other; then the verdict of the book. */
    judgeBook: async (book: string, ...texts: string[]) => {
      for (const text of texts)
        await run("import", "--book", at(book), ...fleet, "--on", "2026-03-14", labFile(text));
      const { json } = await runJson("judge", "--book", at(book), "--on", "2026-03-14");
      const [circuit] = json.circuits;
      return { ...circuit, codes: codesOf(circuit.reasons) };
    },
    run: (...args: string[]) => run(...args),
  };
}

function codesOf(reasons: readonly { code: string; callsFor: string }[]): string[] {
  return reasons.filter(({ callsFor }) => callsFor !== "fit").map(({ code }) => code);
}
