import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { World, WorldRow } from "./worlds.js";

const COLUMNS = [
  "sample",
  "cart",
  "circuit",
  "drawn on",
  "time drawn",
  "fluid",
  "4 µm(c) per mL",
  "6 µm(c) per mL",
  "14 µm(c) per mL",
  "counted volume (mL)",
  "water (mg/kg)",
  "acid number (mg KOH/g)",
  "viscosity at 40 °C (mm²/s)",
  "chlorine (mg/kg)",
  "calcium (mg/kg)",
];

/** A laboratory file of a world's rows. */
export function labFileOf(rows: readonly WorldRow[]): string {
  const lines = rows.map(
    ({ sample, cart, circuit: name, drawnOn, drawnTime, fluid, counts: perMl, ...more }) =>
      [
        ...[sample, cart, name, drawnOn, drawnTime, fluid, ...perMl, more.countedMl],
        ...[more.water, more.acid, more.viscosity, more.chlorine, more.calcium],
      ].join(","),
  );
  return `${[COLUMNS.join(","), ...lines].join("\n")}\n`;
}

/** Writes a world into a folder and says what to call the commands with. */
export function writeWorld(folder: string, { carts, requirement: document, rows, on }: World) {
  mkdirSync(folder, { recursive: true });
  const at = (name: string) => join(folder, name);
  writeFileSync(at("carts.json"), JSON.stringify(carts));
  writeFileSync(at("requirement.json"), JSON.stringify(document));
  writeFileSync(at("lab.csv"), labFileOf(rows));
  return {
    files: ["--carts", at("carts.json"), "--requirement", at("requirement.json")],
    lab: at("lab.csv"),
    on: ["--on", on],
  };
}
