import { NOT_OF_THE_SAMPLE } from "../../cleanliness/index.js";
import { type BottleWords, ENGLISH_BOTTLE_WORDS } from "../words/bottle-words.js";
import { OTHER_BOTTLE_WORDS } from "../words/bottle-words-of-languages.js";
import type { Description, Meaning, Naming, QuantityName } from "./meaning.js";

/**
 * The trade words of one language, in lower case with single spaces and without marks.
 *
 * Another language is another object of this shape in {@link DICTIONARIES}; nothing else knows words.
 */
export interface Dictionary {
  readonly language: string;
  readonly naming: Record<Naming, readonly string[]>;
  readonly long: Record<"measurand" | "value" | "unit", readonly string[]>;
  /** The name of a quantity; what follows it in a title must be its unit. */
  readonly quantities: Record<QuantityName, readonly string[]>;
  /** Names of quantities that mean something else unless their unit follows. */
  readonly onlyWithUnit: readonly string[];
  /** Words that matter but have more than one meaning in the trade, and the question to ask. */
  readonly unsure: readonly { readonly words: readonly string[]; readonly question: string }[];
  readonly classes: readonly { readonly words: RegExp; readonly meaning: Meaning }[];
  /** The names of what a report says in words about the bottle (common practice, no source). */
  readonly descriptions: Record<Description, readonly string[]>;
  /** The names of simple tests of a bottle; those of a patch are read by their parts. */
  readonly tests: Record<"clear-and-bright" | "fibres" | "crackle" | "smell", readonly string[]>;
  /** Titles over the run that a row holds, and over the dilution of the bottle with what follows it. */
  readonly run: RegExp;
  readonly dilution: RegExp;
  readonly bottle: readonly BottleWords[];
  /** Titles under which a laboratory says in words what it makes of a sample. */
  readonly remarks: RegExp;
  /** Titles over the volume that the counts of a row stand for. */
  readonly countsPer: RegExp;
  /** A size in a title with one of these words is not the size of a count. */
  readonly notACount: RegExp;
  /** How the first cell of a row below the table begins. */
  readonly footer: RegExp;
  /** Words of the method or laboratory in a title that say nothing about the unit. */
  readonly method: RegExp;
}

/** The names of an element: "iron", "fe", "iron (fe)". */
function element(symbol: string, ...names: readonly string[]): string[] {
  return [
    symbol,
    ...names.flatMap((name) => [name, `${name} (${symbol})`, `${name} ${symbol}`, `${symbol} (${name})`]),
  ];
}

/** Without a unit "tin" may be a can, "an" an article, and "K" anything; a file that has them need not stop for a question. */
const ONLY_WITH_UNIT = {
  density15: [
    ...[
      "density at 15 c",
      "density 15 c",
      "density @ 15 c",
      "density (15 c)",
      "dichte bei 15 c",
      "dichte 15 c",
    ],
    ...["densité à 15 c", "densidad a 15 c", "densità a 15 c", "dichtheid bij 15 c"],
  ],
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

/** Nouns that only a laboratory's own words stand under, whoever is named before them. */
const REMARKS =
  "remarks?|comments?|notes?|observations?|evaluations?|assessments?|dispositions?|verdict|conclusions?|opinion|" +
  "diagnos(?:is|tics?)|recommend(?:ations?|ed actions?)|interpretation|judge?ment|pass ?[/|-]? ?(?:or )?fail|" +
  "fail ?[/|-]? ?pass|accept(?:ed)? ?\\/ ?reject(?:ed)?|ok ?\\/ ?nok|go ?\\/ ?no ?-?go|p ?\\/ ?f|acceptability|severity|" +
  "(?:(?:membrane|filter) )?patch(?: (?:test|colou?r))*|crackle(?: test)?|blotter(?: test)?|spot test|" +
  "ftir(?: \\p{L}+)?|infrared(?: \\p{L}+)?|ir (?:spectrum|match|spectroscopy)|fluid identi(?:fication|ty)|fluid identified as";
/** Nouns that may be of anything else as well, such as the status of an aircraft, unless they are of the sample. */
const OF_THE_SAMPLE =
  "status|condition|results?|rating|alarms?|alerts?|flags?|outcome|decision|acceptance|conformity|compliance|findings?|grade|summary";
const WHOSE =
  "(?:(?:lab|laboratory|analyst|qa|qc|overall|final|sample|report|general|test|fluid|oil|visual|our)(?:'?s)? )*";
const KIND =
  "(?: (?:level|code|text|flag|class|rating|results?|indicator|category|of (?:the )?(?:lab|laboratory|sample|analyst)|\\d))*";
/** The same in German, French, Spanish, Italian, Dutch and Portuguese. */
const REMARKS_ELSEWHERE =
  "bemerkung(?:en)?|anmerkung(?:en)?|kommentare?|bewertung|beurteilung|befund|ergebnis|gesamtergebnis|zustand|hinweise?|" +
  "empfehlung(?:en)?|remarques?|commentaires?|[ée]valuation|appréciation|avis|statut|état|observaci[óo]n(?:es)?|" +
  "comentarios?|evaluaci[óo]n|estado|dictamen|resultado|conclusi[óo]n|note|osservazioni|opmerking(?:en)?|beoordeling|" +
  "valutazione|esito|giudizio|risultato|stato|oordeel|bevindingen|resultaat|observaç(?:ão|ões)|avaliação|parecer|" +
  "situação|comentários|conclusão|判定|结论";
const REMARKS_TITLE = new RegExp(
  `^(?:(?:[\\p{L}'’/&-]+ ){0,3}(?:${REMARKS})${KIND}|${WHOSE}(?:${OF_THE_SAMPLE})${KIND}|${REMARKS_ELSEWHERE})$`,
  "u",
);

/** What a title names besides the standard where its cells are no classes of the sample. */
const NO_CLASS =
  "method|status|pass|fail|remark|comment|note|trend|date|instrument|counter|\\bml\\b|scale n|r4|r6|r14|β|filter|" +
  "4406\\W{0,3}(?:19)?87\\b|\\b2 ?[/,] ?5 ?[/,] ?15|\\b5 ?[/,] ?15\\b|[<>≥≤] ?\\d|(?<!\\d)\\d{1,3} ?(?:-|–|to) ?\\d{1,3}(?!\\d)|(?<![/\\d])(?<!/ )\\d{1,2} ?um|4406[ (]+\\d{1,2}\\)?$";

/** Any title that names the standard, wherever in it: "Reinheitsklasse NAS 1638", "ISO 4406 code (4/6/14 µm)". */
const classTitle = (names: string) =>
  new RegExp(
    `^(?!.*(?:${NO_CLASS}))(?!.*(?:${NOT_OF_THE_SAMPLE.source})).*(?<![\\p{L}\\p{N}])(?:${names})(?![\\p{L}\\p{N}])`,
    "u",
  );

const CLASSES: Dictionary["classes"] = [
  {
    words: classTitle(
      "iso[ -]?4406(?:[ -]?(?:19|20)?\\d\\d)?|iso[ -](?:cleanliness |purity )?(?:code|class|rating|level)|cleanliness iso",
    ),
    meaning: { holds: "class", standard: "ISO 4406" },
  },
  {
    words: classTitle("nas[ -]?1638|nas[ -](?:class|klasse|code)|(?:class|klasse|classe|clase) nas|nas$"),
    meaning: { holds: "class", standard: "NAS 1638" },
  },
  {
    words: classTitle("as[ -]?4059 ?[a-h]?"),
    meaning: { holds: "class", standard: "AS4059" },
  },
  { words: classTitle("(?:gost|гост)[ -]?17216"), meaning: { holds: "class", standard: "GOST 17216" } },
  {
    words: /^(?:navair 01-1a-17|navy)(?: (?:standard |contamination )?class)?$/,
    meaning: { holds: "class", standard: "NAVAIR 01-1A-17" },
  },
];

const ENGLISH: Dictionary = {
  language: "English",
  naming: {
    sample: [
      "sample",
      "sample no",
      "sample number",
      "sample id",
      "sample ref",
      "sample reference",
      "sample label",
      "bottle",
      "bottle no",
      "bottle number",
      "bottle id",
    ],
    cart: [
      "cart",
      "cart no",
      "cart number",
      "cart id",
      "hydraulic cart",
      "unit under test",
      "equipment",
      "equipment no",
      "equipment number",
      "equipment id",
      "asset",
      "asset no",
      "asset number",
      "asset id",
      "gpu",
      "ground power unit",
    ],
    circuit: [
      "circuit",
      "circuit no",
      "circuit number",
      "circuit id",
      "circuit name",
      "hydraulic circuit",
      "system sampled",
    ],
    drawn: [
      "drawn",
      "drawn on",
      "date drawn",
      "drawn date",
      "day drawn",
      "sampled",
      "sampled on",
      "date sampled",
      "sampling date",
      "sample date",
      "date of sampling",
      "date taken",
      "taken on",
    ],
    "drawn-time": [
      "time drawn",
      "drawn time",
      "drawn at",
      "sampling time",
      "time sampled",
      "sample time",
      "time of sampling",
      "time taken",
    ],
    received: [
      "received",
      "received on",
      "date received",
      "receipt date",
      "received date",
      "date of receipt",
    ],
    "calibration-due": [
      "calibration due",
      "calibration due date",
      "calibration due on",
      "counter calibration due",
      "calibration valid until",
      "calibrated until",
    ],
    reported: ["reported", "reported on", "date reported", "report date", "date of report"],
    fluid: [
      "fluid",
      "fluid spec",
      "fluid specification",
      "fluid type",
      "fluid grade",
      "hydraulic fluid",
      "oil type",
    ],
  },
  long: {
    measurand: ["measurand", "test", "test name", "parameter", "property", "analyte", "determination"],
    value: ["value", "result", "results", "reading", "measured value"],
    unit: ["unit", "units", "unit of measure", "uom"],
  },
  quantities: {
    water: ["water", "water content", "water by karl fischer", "karl fischer water", "moisture", "h2o"],
    acid: [
      "acid",
      "acid no",
      "acid number",
      "total acid number",
      "tan",
      "an",
      "neutralization number",
      "neutralisation number",
    ],
    viscosity40: [
      "viscosity 40 c",
      "viscosity at 40 c",
      "viscosity @ 40 c",
      "kinematic viscosity 40 c",
      "kinematic viscosity at 40 c",
      "kinematic viscosity @ 40 c",
      "visc 40 c",
      "kv40",
      "kv 40",
      "viscosity at 104 f",
      "viscosity 104 f",
    ],
    temperature: ["fluid temperature", "oil temperature", "temperature when drawn", "sample temperature"],
    ...ONLY_WITH_UNIT,
  },
  onlyWithUnit: ["an", ...Object.values(ONLY_WITH_UNIT).flat()],
  unsure: [
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
  ],
  classes: CLASSES,
  descriptions: {
    colour: [
      ...["colour", "color", "fluid colour", "fluid color", "oil colour", "oil color"],
      ...["visual colour", "visual color", "colour (visual)", "color (visual)", "observed colour", "dye"],
      ...["observed color", "colour of fluid", "color of fluid", "colour of the fluid", "color of the fluid"],
      ...[
        "colour of oil",
        "color of oil",
        "dye colour",
        "dye color",
        "farbe",
        "couleur",
        "colore",
        "kleur",
        "cor",
      ],
    ],
    appearance: [
      ...["appearance", "visual appearance", "appearance of fluid", "fluid appearance", "sample appearance"],
      ...["oil appearance", "bottle appearance", "visual", "visual inspection", "visual check", "clarity"],
      ...[
        "visual examination",
        "appearance (visual)",
        "appearance / colour",
        "appearance/colour",
        "appearance and colour",
        "colour and appearance",
        "appearance / color",
        "appearance/color",
        "appearance and color",
        "color and appearance",
        "aussehen",
        "sichtprüfung",
        "aspect",
        "apparence",
        "aspect visuel",
        "aspecto",
      ],
      ...["apariencia", "aspetto", "uiterlijk", "aparência"],
    ],
    "sample-point": [
      ...["sample point", "sampling point", "point of sampling", "drawn from", "sampled from"],
      ...["sampling location", "sample location", "sampling place", "sampling port", "sample port"],
      ...[
        "sample source",
        "source of sample",
        "sample taken from",
        "taken from",
        "sample position",
        "sampling position",
        "probenahmestelle",
        "entnahmestelle",
        "point de prélèvement",
        "punto de muestreo",
        "punto di prelievo",
      ],
      ...["monsternamepunt", "ponto de amostragem"],
    ],
    flowing: [
      ...["flowing", "fluid flowing", "flowing when drawn", "drawn while flowing", "drawn flowing"],
      ...["flow when drawn", "sampled while flowing", "drawn under flow", "pump running", "circulating"],
      ...["was fluid flowing", "was the fluid flowing", "was flowing", "pump on", "with flow", "flow on"],
    ],
  },
  tests: {
    "clear-and-bright": [
      ...["clear and bright", "clear & bright", "clear/bright", "clear bright", "c&b", "c & b"],
      ...["bright and clear", "clear and bright test", "clear & bright test", "is clear and bright"],
    ],
    fibres: [
      ...["fibres", "fibers", "fibre", "fiber", "fibres seen", "fibers seen", "fibrous material"],
      ...["fasern", "fibras", "vezels"],
    ],
    crackle: [
      ...[
        "crackle",
        "crackle test",
        "crackle test result",
        "water by crackle",
        "water (crackle)",
        "hot plate test",
      ],
      ...["hotplate test", "crackle test for water", "spratzprobe", "knistertest", "test de crépitement"],
      ...["crépitement", "prueba de crepitación", "crepitación", "prova di crepitio", "knettertest"],
    ],
    smell: [
      ...["smell", "odour", "odor", "fluid odour", "fluid odor", "oil odour", "oil odor", "smell of fluid"],
      ...["sample odour", "sample odor", "geruch", "odeur", "olor", "odore", "geur", "cheiro"],
    ],
  },
  run: /^(?:run|rep|replicate|repeat|repetition|determination|aliquot|(?:count|counting) run|messung|wiederholung)(?: (?:no|number|nr|id))?$/,
  dilution:
    /^(?:(?:sample )?dilution(?: (?:factor|ratio|rate))?|dilution|verdünnung(?:sfaktor)?|facteur de dilution|factor de dilución|fattore di diluizione|verdunning(?:sfactor)?)(?!\p{L})(.*)$/u,
  bottle: [ENGLISH_BOTTLE_WORDS, OTHER_BOTTLE_WORDS],
  remarks: REMARKS_TITLE,
  countsPer:
    /^(?:(?:particles?|counts?|particle counts?)(?: are)?(?: given| reported)? per(?: volume)?|(?:counts?|particle count|counting|reporting|reference|basis|reported) volume|(?:count|volume) basis|basis of counts?|volume of (?:the )?counts?|zählung pro|bezugsvolumen|volume de référence|volumen de referencia)(?: ?[([] ?ml ?[)\]]| in ml|, ml)?$/,
  notACount:
    /β|\b(filter|filtration|membrane|beta|rating|rated|mesh|code|class|scale no|nas|as ?4059)\b|^(?!.*\bml\b).*\biso 4406\b/,
  footer:
    /^(\W*$|total|sum|mean|average|end of|page \d|printed|signed|approved|checked by|remarks?:|notes?:|legend|report (no|by)|n ?=|laboratory|copyright|©)/i,
  method:
    /\b(astm|iso|din|en|ip)( en)?( iso)? ?[a-z]? ?\d+(-\d+)?[a-z]?( (19|20)\d\d)?\b|\bkarl fischer\b|\bkf\b|\bcoulometric\b|\btitration\b|\b[de] ?\d{3,5}\b/g,
};

/** Every language whose words are known. */
export const DICTIONARIES: readonly Dictionary[] = [ENGLISH];
