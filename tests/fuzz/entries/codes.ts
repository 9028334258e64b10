import fc from "fast-check";
import {
  countsOfAs4059,
  formatAs4059,
  formatIso4406,
  formatTarget,
  limitsOfTarget,
  parseAs4059,
  parseIso4406,
  parseTarget,
  parseTwoNumberCode,
} from "../../../src/cleanliness/index.js";
import { FLUID_SPECIFICATIONS, tryParseFluidSpecification } from "../../../src/fluids/index.js";
import { visible } from "../../../src/provenance/index.js";
import { type QuantityKind, tryParseQuantity } from "../../../src/units/index.js";
import { attempt, mustBeFinite, mustBeForPeople, mustEqual } from "../claims.js";
import { editedText } from "../edits.js";
import { entry } from "../fuzzing.js";

const CODES = ["18/16/13", "22/19/17", ">28/28/0", "-/16/13", "*/*/*", "≥19/>=18/7", " 21/19/16 "];
const CLASSES = ["6B", "7B/6C/5D", "6B-F", "6A-C/5D-F", "000A", "12", "00", "000"];
const TARGETS = [
  ...["17/15/12", "ISO 4406 18/16/13", "iso 4406 -/15/12", "AS4059 cumulative 7A-F", "AS4059 differential 7"],
  ...["NAS 1638 7", "nas 1638 00", "AS4059 cumulative 7B/6C/5D"],
];
const FLUIDS = ["MIL-PRF-83282D", "mil-h-5606", "AS1241 Type IV class 1", "SAE AS1241C, type 5"];
const QUANTITIES: Record<QuantityKind, readonly string[]> = {
  volume: ["60 L", "16 US gal", "500 mL", "4e307 gal", "1e-320 mL", "3 qt"],
  flow: ["45 L/min", "12 gpm", "3 m3/h", "5 US gpm"],
  temperature: ["85 °F", "-40 °C", "300 K", "1.7e308 °F"],
  pressure: ["5 psi", "350 kPa", "1e308 MPa", "210 bar"],
  viscosity: ["14 cSt", "9.5 mm2/s"],
  waterContent: ["900 ppm", "0.4 %", "0.0123 % m/m", "1e308 %", "120 mg/kg"],
  massFraction: ["12 ppm", "3 µg/g", "0.02 %", "1e308 % m/m", "40 mg/kg"],
  acidNumber: ["1.8 mg KOH/g"],
  time: ["10 min", "1.5 h", "30 s", "1e307 hours"],
  power: ["2 kW", "3 hp", "750 W"],
  mass: ["80 g", "9e307 kg", "5 mg"],
  density: ["2.65 g/cm3", "850 kg/m³", "9e306 g/mL"],
  specificHeat: ["1.9 kJ/(kg K)"],
};
const quantity = fc.oneof(
  ...(Object.keys(QUANTITIES) as QuantityKind[]).map((kind) =>
    fc.tuple(editedText(QUANTITIES[kind]), fc.constant(kind)),
  ),
);

/** A reader of a text that throws when it cannot read it; the message then shows the text. */
function readOrRefuse<T>(text: string, read: (text: string) => T): T | undefined {
  const outcome = attempt(() => read(text));
  if ("value" in outcome) {
    mustBeFinite(outcome.value);
    return outcome.value;
  }
  // Where the part is named that cannot be read, it is in quotes like the whole.
  const seen = visible(text);
  const parts = [...outcome.error.message.matchAll(/"([^"…]*)/g)];
  if (
    !parts.some(([, part = ""]) => seen.includes(part) && (part !== "" || seen.startsWith('"'))) &&
    text !== ""
  ) {
    throw new Error(`the message does not name the text: ${outcome.error.message}`);
  }
  mustBeForPeople(outcome.error.message, text);
  return undefined;
}

export const CODE_ENTRIES = [
  entry({
    functions: ["siltbook parseIso4406"],
    inputs: editedText(CODES),
    check: (text) => {
      const code = readOrRefuse(text, parseIso4406);
      if (code === undefined) return false;
      mustEqual(parseIso4406(formatIso4406(code)), code, "read again");
      return true;
    },
    runs: 2500,
  }),
  entry({
    functions: ["siltbook/cleanliness parseTwoNumberCode"],
    inputs: editedText(["16/13", "-/16/13", ">28/19", "*/12", "20/≥17", " 9/9 "]),
    check: (text) => {
      const code = readOrRefuse(text, parseTwoNumberCode);
      if (code === undefined) return false;
      mustEqual(parseTwoNumberCode(formatIso4406(code)), code, "read again");
      return true;
    },
    runs: 1500,
  }),
  entry({
    functions: ["siltbook/cleanliness parseAs4059"],
    inputs: fc.tuple(editedText(CLASSES), fc.constantFrom(undefined, "A", "B", "C", "D", "E", "F")),
    check: ([text, revision]) => {
      const read = readOrRefuse(text, (from) => parseAs4059(from, revision));
      if (read === undefined) return false;
      const again = parseAs4059(formatAs4059(read.code), "F");
      mustEqual(again.code, read.code, "read again");
      if (read.code.kind === "by-size") mustBeFinite(countsOfAs4059(read.code.bySize));
      return true;
    },
    runs: 2500,
  }),
  entry({
    functions: ["siltbook parseTarget"],
    inputs: editedText(TARGETS),
    check: (text) => {
      const target = readOrRefuse(text, parseTarget);
      if (target === undefined) return false;
      mustEqual(parseTarget(formatTarget(target)), target, "read again");
      const limits = limitsOfTarget(target);
      mustBeFinite(limits);
      if (limits.length === 0) throw new Error("a target that limits nothing");
      return true;
    },
    runs: 2500,
  }),
  entry({
    functions: ["siltbook tryParseQuantity"],
    inputs: quantity,
    check: ([text, kind]) => {
      const reading = attempt(() => tryParseQuantity(text, kind));
      if ("error" in reading) throw reading.error;
      mustBeFinite(reading.value);
      if (reading.value.kind === "refused") return false;
      const { value, unit } = reading.value;
      mustEqual(tryParseQuantity(`${value} ${unit}`, kind), { kind: "read", value, unit }, "read again");
      return true;
    },
    runs: 4000,
  }),
  entry({
    functions: ["siltbook tryParseFluidSpecification"],
    inputs: editedText([...FLUIDS, ...FLUID_SPECIFICATIONS]),
    check: (text) => {
      const fluid = attempt(() => tryParseFluidSpecification(text));
      if ("error" in fluid) throw fluid.error;
      if (fluid.value === undefined) return false;
      mustEqual(tryParseFluidSpecification(fluid.value), fluid.value, "read again");
      return true;
    },
    runs: 1500,
  }),
];
