import { words } from "../../samples/index.js";
import type { Description, Naming, QuantityName } from "./meaning.js";

// The trade words of titles, in lower case with single spaces and without marks. Titles of results are known in English,
// words about a bottle in seven languages. Nothing but this file, `title-patterns.ts` and `words/` knows words.

/** The names of an element: "iron", "fe", "iron (fe)". */
function element(symbol: string, ...names: readonly string[]): string[] {
  return [
    symbol,
    ...names.flatMap((name) => [name, `${name} (${symbol})`, `${name} ${symbol}`, `${symbol} (${name})`]),
  ];
}

/** Without a unit "tin" may be a can, "an" an article, and "K" anything; a file that has them need not stop for a question. */
const ONLY_WITH_UNIT = {
  density15: words`
    density at 15 c, density 15 c, density @ 15 c, density (15 c), dichte bei 15 c, dichte 15 c,
    densité à 15 c, densidad a 15 c, densità a 15 c, dichtheid bij 15 c`,
  chlorine: [
    ...[...element("cl", "chlorine"), "total chlorine", "chlorine content", "chlorides", "chloride"],
    ...["chlorine by xrf", "cl by xrf"],
  ],
  counted: ["counted volume", "volume counted", "analysed volume", "analyzed volume", "volume analysed"],
  aluminium: element("al", "aluminium", "aluminum"),
  calcium: element("ca", "calcium"),
  chromium: element("cr", "chromium"),
  copper: element("cu", "copper"),
  iron: element("fe", "iron"),
  lead: element("pb", "lead"),
  magnesium: element("mg", "magnesium"),
  nickel: element("ni", "nickel"),
  potassium: element("k", "potassium"),
  silicon: element("si", "silicon"),
  silver: element("ag", "silver"),
  sodium: element("na", "sodium"),
  tin: element("sn", "tin"),
  titanium: element("ti", "titanium"),
  zinc: element("zn", "zinc"),
} as const;

const NAMING_WORDS: Record<Naming, readonly string[]> = {
  sample: words`
    sample, sample no, sample number, sample id, sample ref, sample reference, sample label, bottle,
    bottle no, bottle number, bottle id`,
  cart: words`
    cart, cart no, cart number, cart id, hydraulic cart, unit under test, equipment, equipment no,
    equipment number, equipment id, asset, asset no, asset number, asset id, gpu, ground power unit`,
  circuit: words`
    circuit, circuit no, circuit number, circuit id, circuit name, hydraulic circuit, system sampled`,
  drawn: words`
    drawn, drawn on, date drawn, drawn date, day drawn, sampled, sampled on, date sampled, sampling date,
    sample date, date of sampling, date of sample, date collected, collection date, sample taken,
    date taken, taken on`,
  "drawn-time": words`
    time drawn, drawn time, drawn at, sampling time, time sampled, sample time, time of sampling,
    time taken`,
  received: words`
    received, received on, date received, receipt date, received date, date of receipt`,
  "calibration-due": words`
    calibration due, calibration due date, calibration due on, counter calibration due,
    counter calibration due date, calibration valid until, calibration valid to, calibrated until,
    calibration expires, calibration expiry, calibration expiry date, next calibration,
    next calibration due, cal due, cal due date, counter cal due, cal expiry`,
  reported: ["reported", "reported on", "date reported", "report date", "date of report"],
  fluid: words`
    fluid, fluid spec, fluid specification, fluid type, fluid grade, hydraulic fluid, oil type`,
};

const LONG_WORDS: Record<"measurand" | "value" | "unit", readonly string[]> = {
  measurand: ["measurand", "test", "test name", "parameter", "property", "analyte", "determination"],
  value: ["value", "result", "results", "reading", "measured value"],
  unit: ["unit", "units", "unit of measure", "uom"],
};

/** The name of a quantity; what follows it in a title must be its unit. */
export const QUANTITY_WORDS: Record<QuantityName, readonly string[]> = {
  water: ["water", "water content", "water by karl fischer", "karl fischer water", "moisture", "h2o"],
  acid: words`
    acid, acid no, acid number, total acid number, tan, an, neutralization number, neutralisation number,
    neutralization no, neutralisation no`,
  viscosity40: words`
    viscosity 40 c, viscosity at 40 c, viscosity @ 40 c, kinematic viscosity 40 c,
    kinematic viscosity at 40 c, kinematic viscosity @ 40 c, visc 40 c, kv40, kv 40, viscosity at 104 f,
    viscosity 104 f`,
  temperature: ["fluid temperature", "oil temperature", "temperature when drawn", "sample temperature"],
  ...ONLY_WITH_UNIT,
};

/** Names of quantities that mean something else unless their unit follows. */
export const WORDS_ONLY_WITH_UNIT: readonly string[] = ["an", ...Object.values(ONLY_WITH_UNIT).flat()];

/** Words that matter but have more than one meaning in the trade, and the question to ask. */
export const UNSURE_WORDS: readonly { readonly words: readonly string[]; readonly question: string }[] = [
  {
    words: ["volume", "vol", "basis"],
    question:
      "is it the volume that the counts stand for (counts-per), the volume that was counted (counted), or another (text)?",
  },
  { words: ["date"], question: "is it the day the sample was drawn, received or reported?" },
  {
    words: ["system"],
    question: "is it the circuit of the cart, or the system of the aircraft it serves?",
  },
  {
    words: ["viscosity", "kinematic viscosity", "visc"],
    question: "at which temperature was the viscosity measured?",
  },
];

/** The names of what a report says in words about the bottle (common practice, no source). */
const DESCRIPTION_WORDS: Record<Description, readonly string[]> = {
  colour: words`
    colour, color, fluid colour, fluid color, oil colour, oil color, visual colour, visual color,
    colour (visual), color (visual), observed colour, dye, observed color, colour of fluid,
    color of fluid, colour of the fluid, color of the fluid, colour of oil, color of oil, dye colour,
    dye color, farbe, couleur, colore, kleur, cor`,
  appearance: words`
    appearance, visual appearance, appearance of fluid, fluid appearance, sample appearance,
    oil appearance, bottle appearance, visual, visual inspection, visual check, clarity,
    visual examination, appearance (visual), appearance / colour, appearance/colour,
    appearance and colour, colour and appearance, appearance / color, appearance/color,
    appearance and color, color and appearance, aussehen, sichtprüfung, aspect, apparence, aspect visuel,
    aspecto, apariencia, aspetto, uiterlijk, aparência`,
  "sample-point": words`
    sample point, sampling point, point of sampling, drawn from, sampled from, sampling location,
    sample location, sampling place, sampling port, sample port, sample source, source of sample,
    sample taken from, taken from, sample position, sampling position, probenahmestelle, entnahmestelle,
    point de prélèvement, punto de muestreo, punto di prelievo, monsternamepunt, ponto de amostragem`,
  flowing: words`
    flowing, fluid flowing, flowing when drawn, drawn while flowing, drawn flowing, flow when drawn,
    sampled while flowing, drawn under flow, pump running, circulating, was fluid flowing,
    was the fluid flowing, was flowing, pump on, with flow, flow on`,
};

/** The names of simple tests of a bottle; those of a patch are read by their parts. */
const TEST_WORDS: Record<"clear-and-bright" | "fibres" | "crackle" | "smell", readonly string[]> = {
  "clear-and-bright": words`
    clear and bright, clear & bright, clear/bright, clear bright, c&b, c & b, bright and clear,
    clear and bright test, clear & bright test, is clear and bright`,
  fibres: words`
    fibres, fibers, fibre, fiber, fibres seen, fibers seen, fibrous material, fasern, fibras, vezels`,
  crackle: words`
    crackle, crackle test, crackle test result, water by crackle, water (crackle), hot plate test,
    hotplate test, crackle test for water, spratzprobe, knistertest, test de crépitement, crépitement,
    prueba de crepitación, crepitación, prova di crepitio, knettertest`,
  smell: words`
    smell, odour, odor, fluid odour, fluid odor, oil odour, oil odor, smell of fluid, sample odour,
    sample odor, geruch, odeur, olor, odore, geur, cheiro`,
};

/** Titles that are known as a whole, each with what its column holds. */
export const WHOLE_TITLES: ReadonlyMap<string, string> = new Map(
  Object.entries({ ...TEST_WORDS, ...DESCRIPTION_WORDS, ...LONG_WORDS, ...NAMING_WORDS }).flatMap(
    ([holds, titles]) => titles.map((title) => [title, holds] as const),
  ),
);
