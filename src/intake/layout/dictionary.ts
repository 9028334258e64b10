import { words } from "../../samples/index.js";
import {
  BOTTLE_TITLES_ELSEWHERE,
  METALS_ELSEWHERE,
  NAMING_ELSEWHERE,
  QUANTITIES_ELSEWHERE,
  VISCOSITY_ELSEWHERE,
} from "./dictionary-of-languages.js";
import type { Description, Naming, NeededNaming, QuantityName } from "./meaning.js";
import { spellings, titleKey } from "./spellings.js";

// The trade words of titles, in lower case with single spaces and without marks: the English ones here, those of six other
// languages in `dictionary-of-languages.ts`.

/** The names of an element: "iron", "fe", "iron (fe)". */
function element(symbol: keyof typeof METALS_ELSEWHERE, ...names: readonly string[]): string[] {
  return [
    symbol,
    ...[...names, ...METALS_ELSEWHERE[symbol]].flatMap((name) => [
      name,
      `${name} (${symbol})`,
      `${name} ${symbol}`,
      `${symbol} (${name})`,
    ]),
  ];
}

/** Without a unit "tin" may be a can, "an" an article, and "K" anything; a file that has them need not stop for a question. */
const ONLY_WITH_UNIT = {
  density15: ["density at 15 c", "density 15 c", "density @ 15 c", "density (15 c)"],
  chlorine: words`
    cl, chlorine, chlorine (cl), chlorine cl, cl (chlorine), total chlorine, chlorine content, chlorides,
    chloride, chlorine by xrf, cl by xrf`,
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

const QUANTITIES_IN_ENGLISH: Record<QuantityName, readonly string[]> = {
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

/** The name of a quantity; what follows it in a title must be its unit. */
export const QUANTITY_WORDS = Object.fromEntries(
  (Object.entries(QUANTITIES_IN_ENGLISH) as [QuantityName, readonly string[]][]).map(
    ([quantity, english]) => {
      const elsewhere: Partial<Record<QuantityName, readonly string[]>> = QUANTITIES_ELSEWHERE;
      return [quantity, [...english, ...(elsewhere[quantity] ?? [])].flatMap(spellings)];
    },
  ),
) as unknown as Record<QuantityName, readonly string[]>;

/** Names of quantities that mean something else unless their unit follows. */
export const WORDS_ONLY_WITH_UNIT: readonly string[] = [
  "an",
  ...(Object.keys(ONLY_WITH_UNIT) as QuantityName[]).flatMap((quantity) => QUANTITY_WORDS[quantity]),
];

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
    words: ["viscosity", "kinematic viscosity", "visc", ...VISCOSITY_ELSEWHERE.flatMap(spellings)],
    question: "at which temperature was the viscosity measured?",
  },
];

/** The names of what a report says in words about the bottle (common practice, no source). */
const DESCRIPTION_WORDS: Record<Description, readonly string[]> = {
  colour: words`
    colour, color, fluid colour, fluid color, oil colour, oil color, visual colour, visual color,
    colour (visual), color (visual), observed colour, dye, observed color, colour of fluid,
    color of fluid, colour of the fluid, color of the fluid, colour of oil, color of oil, dye colour,
    dye color`,
  appearance: words`
    appearance, visual appearance, appearance of fluid, fluid appearance, sample appearance,
    oil appearance, bottle appearance, visual, visual inspection, visual check, clarity,
    visual examination, appearance (visual), appearance / colour, appearance/colour,
    appearance and colour, colour and appearance, appearance / color, appearance/color,
    appearance and color, color and appearance`,
  "sample-point": words`
    sample point, sampling point, point of sampling, drawn from, sampled from, sampling location,
    sample location, sampling place, sampling port, sample port, sample source, source of sample,
    sample taken from, taken from, sample position, sampling position`,
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
    fibres, fibers, fibre, fiber, fibres seen, fibers seen, fibrous material`,
  crackle: words`
    crackle, crackle test, crackle test result, water by crackle, water (crackle), hot plate test,
    hotplate test, crackle test for water`,
  smell: words`
    smell, odour, odor, fluid odour, fluid odor, oil odour, oil odor, smell of fluid, sample odour,
    sample odor`,
};

/**
 * Titles that may hold a name which every sample needs, and as often hold something else: a device, the day of a test, a
 * sensor. They are asked about where no other title holds the name (common practice, no source).
 */
const MAYBE_NAMING: Record<NeededNaming, readonly string[]> = {
  sample: words`
    number, id, ref, reference, label, lab no, lab number, probe, proben, probenbezeichnung, bezeichnung,
    nummer, nr, labornummer, labor nr, numéro, n, no, référence, numero, número, código`,
  cart: words`
    machine, device, apparatus, unit no, unit number, tail no, registration, gerät, geräte nr, gerätenummer,
    maschine, maschinen nr, anlage, aggregat, kennzeichen, appareil, équipement, engin, banc, groupe, equipo,
    máquina, macchina, attrezzatura, machine nr, apparaat, installatie, equipamento, objekt, objet`,
  circuit: words`
    loop, line, position, hydraulic system, hydrauliksystem, système, système hydraulique, sistema,
    sistema hidráulico, sistema idraulico, systeem, kring, stelle, seite, côté`,
  drawn: words`
    day, sampling, datum, tag, probenahme, probenentnahme, entnahme, prélèvement, échantillonnage, jour,
    fecha, muestreo, data, prelievo, campionamento, monstername, amostragem, coleta`,
};

/** Which needed name a title may hold. */
export function mayName(plain: string): NeededNaming | undefined {
  return MAYBE_TITLES.get(titleKey(plain)) as NeededNaming | undefined;
}

/** What a title holds that is known as a whole. */
export function holdsAsAWhole(plain: string): string | undefined {
  return WHOLE_TITLES.get(titleKey(plain));
}

const MAYBE_TITLES = keyed(MAYBE_NAMING);
const WHOLE_TITLES = keyed(
  TEST_WORDS,
  DESCRIPTION_WORDS,
  LONG_WORDS,
  NAMING_WORDS,
  BOTTLE_TITLES_ELSEWHERE,
  NAMING_ELSEWHERE,
);

function keyed(
  ...lists: readonly Readonly<Record<string, readonly string[]>>[]
): ReadonlyMap<string, string> {
  return new Map(
    lists
      .flatMap((list) => Object.entries(list))
      .flatMap(([holds, titles]) =>
        titles.flatMap(spellings).map((title) => [titleKey(title), holds] as const),
      ),
  );
}
