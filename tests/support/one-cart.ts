import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { runJson } from "./run-cli.js";

/** An invented cart with one circuit, and the limits it is judged by. */
const CIRCUIT = {
  circuit: "main",
  serves: "main system",
  fluid: "MIL-PRF-83282",
  volume: "60 L",
  flow: "45 L/min",
  element: { position: "pressure", betas: [4, 6, 14].map((sizeUmC) => ({ sizeUmC, beta: 100 })) },
};

export const HEADER =
  "sample,cart,circuit,drawn on,fluid,4 µm(c) per mL,6 µm(c) per mL,14 µm(c) per mL,water (mg/kg),acid number (mg KOH/g)";

/** A row under {@link HEADER}; counts such as "600,150,20". */
export const row = (sample: string, drawnOn: string, counts: string, more = "") =>
  `${sample},C-1,main,${drawnOn},MIL-PRF-83282,${counts},120,0.05${more}`;

/** What a case is made of. Each file is the lines below its header. */
export interface FilesOfCase {
  readonly files: readonly (readonly string[])[];
  readonly header?: string;
  readonly events?: readonly object[];
  readonly target?: string;
  readonly on: string;
}

/** The verdict on the one circuit, and the codes of the reasons and of the quarantine. */
export interface Answer {
  readonly verdict: string;
  readonly reasons: readonly string[];
  readonly quarantine: readonly string[];
}

/** Judges the case from its files, or from a book that the files were brought into one after the other. */
export async function judgeCase(folder: string, way: "files" | "book", given: FilesOfCase): Promise<Answer> {
  mkdirSync(folder, { recursive: true });
  const write = (name: string, text: string) => {
    const path = join(folder, name);
    writeFileSync(path, text);
    return path;
  };
  const { files, header = HEADER, events = [], target = "17/15/12", on } = given;
  const carts = write(
    "carts.json",
    JSON.stringify({ carts: [{ cart: "C-1", circuits: [{ ...CIRCUIT, events }] }] }),
  );
  const limits = {
    system: "main system",
    fluids: ["MIL-PRF-83282"],
    cleanliness: [target],
    waterPpmMax: 200,
    acidMgKohPerGMax: 0.2,
    sampleAgeDaysMax: 30,
  };
  const requirement = write(
    "requirement.json",
    JSON.stringify({ document: "invented limits", revision: "1", systems: [limits] }),
  );
  const paths = files.map((lines, index) => write(`lab-${index + 1}.csv`, [header, ...lines].join("\n")));
  const rest = ["--carts", carts, "--requirement", requirement];
  const { json } =
    way === "files"
      ? await runJson("judge", ...rest, "--on", on, ...paths)
      : await judgeFromBook(join(folder, "base.siltbook"), rest, on, paths);
  const [circuit] = json.circuits;
  return {
    verdict: circuit.verdict,
    reasons: circuit.reasons.map(({ code }: { code: string }) => code),
    quarantine: json.quarantine.map(({ code }: { code: string }) => code),
  };
}

async function judgeFromBook(book: string, rest: readonly string[], on: string, paths: readonly string[]) {
  for (const path of paths) await runJson("import", "--book", book, ...rest, "--on", on, path);
  return runJson("judge", "--book", book, "--on", on);
}
