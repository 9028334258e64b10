/** What a command is called with: each option with texts that are right, and files that may follow. */
export interface Grammar {
  /** Sets of options that are given together, unless the edits take one away; by default none. */
  readonly ways: readonly Options[];
  /** Options that are given now and then; one without a text is a switch. */
  readonly may: Options;
  /** With how many words that are no options the command is called, and what they are. */
  readonly words?: Words;
}

interface Words {
  readonly from: number;
  readonly to: number;
  readonly right: readonly string[];
  /** An option that they do not go together with. */
  readonly without?: string;
}

/** By option: texts for it, the first of which is right for certain. */
type Options = Readonly<Record<string, readonly string[]>>;

const QUANTITIES = ["60 L", "16 US gal", "45 L/min", "900 ppm", "0.4 %", "1.8 mg KOH/g", "14 mm2/s", "20 °C"];
const PAIRS = ["4=15000 6=1200 14=75", "6=16000 14=2000 21=300 38=40 70=5", "4=1e6, 6=2e5; 14=1e4"];
const TARGETS = [
  "17/15/12",
  "AS4059 cumulative 7A-F",
  "NAS 1638 7",
  "AS4059 differential 7",
  "ISO 4406 -/15/12",
];
const DAYS = ["2026-03-14", "2026-01-01", "2030-12-31"];
const LABS = ["lab.csv", "long.csv", "bad.csv", "cut.json", "noise.bin", "empty.csv", "folder", "none.csv"];
const BOOK = { "--book": ["b.siltbook", "none.siltbook", "text.siltbook", "folder", "empty.csv", "lab.csv"] };
const CARTS = { "--carts": ["carts.json", "cut.json", "requirement.json", "none.json"] };
const REQUIREMENT = { "--requirement": ["requirement.json", "cut.json", "carts.json"] };
const ON = { "--on": DAYS };
const DAYS_OF_RECORD = { "--as-of": DAYS, "--since": DAYS };
const COUNTER_LOG = {
  "--log": ["log.jsonl", "lab.csv", "cut.json", "noise.bin", "folder", "none.csv", "counter.csv"],
};
const JSON_SWITCH = { "--json": [] };
const UNITS = { "--units": ["us", "metric", "imperial"] };
const EXPLAIN = { "--explain": [] };
const WHO = { "--person": ["A. Person"], "--reason": ["bottle was found open"] };
const CIRCUIT = { "--cart": ["C-1", "C-9"], "--circuit": ["fore", "aft", "x"] };
const WATER = {
  "--volume": ["60 L", "16 US gal"],
  "--water": ["900 ppm", "0.9 %"],
  "--water-limit": ["500 ppm", "0.8 %"],
  "--fresh-water": ["150 ppm", "0.1 %"],
};
const ACID = {
  "--volume": ["60 L", "16 US gal"],
  "--acid": ["1.8 mg KOH/g"],
  "--acid-limit": ["1.5 mg KOH/g"],
  "--fresh-acid": ["0.05 mg KOH/g"],
};
const PAGES = ["out.html", "folder", "lab.csv", "none/out.html", "b.siltbook"];
const SIGNED = { "--signed": ["head.json", "cut.json", "noise.bin", "folder", "none.json"] };
const KEYS = ["base.pem", "base.pem.pub", "cut.json", "folder", "none.pem"];
const PACKS = { "--out": ["out.zip", "out", "folder", "none/out", "lab.csv"] };
const JUDGED = [BOOK, { ...CARTS, ...REQUIREMENT }];
/** What every command takes that judges carts. */
const JUDGING = {
  ...BOOK,
  ...CARTS,
  ...REQUIREMENT,
  "--map": ["map.json", "cut.json", "none.json"],
  "--cart": ["C-1", "C-9"],
  ...ON,
  ...JSON_SWITCH,
};
const FILES = { from: 1, to: 3, right: LABS };
const FILES_OR_BOOK = { ...FILES, without: "--book" };

/** Every command with every option; a test holds it against `--help`. */
export const COMMANDS: Readonly<Record<string, Grammar>> = {
  classify: {
    ways: [{ "--counts": PAIRS }],
    may: {
      "--form": ["cumulative", "differential"],
      "--scale": ["um-c", "um-older", "um-microscope"],
      "--per": ["1mL", "100mL", "100 ml"],
      "--raw-volume": ["25 mL", "0.1 L"],
      "--dilution": ["10", "1", "2.5"],
      "--lab-rsd": ["15 %", "0.5 codes", "0.15"],
      "--blank": ["4=150 6=12 14=1", ...PAIRS],
      "--target": TARGETS,
      "--estimate": [],
      "--as4059-limits": ["unrounded", "rounded"],
      ...EXPLAIN,
      ...JSON_SWITCH,
    },
  },
  circulate: {
    ways: [
      {
        "--volume": ["60 L", "16 US gal"],
        "--flow": ["45 L/min", "12 US gpm"],
        "--beta": ["4=20 6=100 14=1000", "14=1000", "3 µm absolute"],
        "--start": ["21/19/16", "4=15000 6=4000 14=500"],
        "--target": TARGETS,
      },
      { ...BOOK, ...CIRCUIT },
      { ...CARTS, ...REQUIREMENT, ...CIRCUIT },
    ],
    may: {
      ...BOOK,
      ...CARTS,
      ...REQUIREMENT,
      ...CIRCUIT,
      ...ON,
      "--as-of": DAYS,
      "--map": ["map.json", "cut.json", "none.json"],
      "--sheet": PAGES,
      "--ingress": ["4=1e6 6=2e5 14=1e4"],
      "--per": ["1mL", "100mL"],
      "--bypass": ["5 %", "0.05"],
      "--side-stream": ["10 L/min: 4=75 6=200"],
      "--credit-below-rated": [],
      "--mixing": ["well-mixed", "two-zone", "plug"],
      "--slow-zone": ["20 % exchange 10 %"],
      "--settled": ["50 %", "0", "200 %"],
      "--port": ["upstream", "downstream", "reservoir"],
      "--hoses": ["25 mm x 8 m x 2", "1 in x 25 ft x 2"],
      "--fluid": ["MIL-PRF-83282", "AS1241 Type IV", "water"],
      "--coldest": ["10 °C", "50 °F"],
      "--after": ["10 min", "1 h"],
      "--within": ["10 min", "30 s"],
      "--uncertainty": ["volume=10% flow=5% beta=30% ingress=50% slow-zone=30% lab=20% counted=20 mL"],
      "--confidence": ["95 %", "0.9"],
      "--seed": ["1", "7"],
      "--draws": ["200", "50"],
      "--interim": ["4 min: 4=7800 6=1900 14=240", "8 min: 4=3000 6=700 14=<8", "10 min: 19/16/13"],
      "--counted": ["20 mL"],
      "--element": ["capacity=80 g held=10 g", "capacity=80 g density=2.65 g/cm3 shape=0.9"],
      "--indicator": ["drop=1 bar viscosity=14 mm2/s trips=5 bar at=5 °C fluid=MIL-PRF-83282"],
      "--heat": [
        "drop=200 bar efficiency=85 % cooling=2 kW start=20 °C limit=70 °C restart=50 °C fluid=MIL-PRF-83282",
      ],
      ...UNITS,
      ...EXPLAIN,
      ...JSON_SWITCH,
    },
    words: FILES_OR_BOOK,
  },
  follow: {
    ways: [
      { "--target": TARGETS, ...COUNTER_LOG },
      { ...BOOK, ...CIRCUIT, ...COUNTER_LOG },
      { ...CARTS, ...REQUIREMENT, ...CIRCUIT, ...COUNTER_LOG },
    ],
    may: {
      ...BOOK,
      ...CARTS,
      ...REQUIREMENT,
      ...CIRCUIT,
      ...ON,
      "--target": TARGETS,
      "--port": ["upstream", "downstream", "aside"],
      "--map": ["map.json", "cut.json", "none.json"],
      "--keep": ["kept.jsonl", "lab.csv", "folder"],
      "--confidence": ["95 %", "0.9", "20 %"],
      "--counted": ["10 mL", "0.1 L"],
      "--repeatability": ["10 %", "0"],
      "--bias": ["20 %", "0.3"],
      "--calibrated": ["2027-01-31", "soon"],
      "--indicator": ["drop=0.5 bar flow=50 L/min viscosity=15 mm2/s trips=3 bar fluid=MIL-PRF-83282"],
      ...JSON_SWITCH,
    },
    words: FILES_OR_BOOK,
  },
  exchange: {
    ways: [WATER, ACID, { ...WATER, ...ACID }],
    may: {
      ...WATER,
      ...ACID,
      "--drain": ["80 %", "48 L", "0.5"],
      "--dry": ["30 % per hour", "20 %/h"],
      "--driest": ["0 ppm", "50 ppm"],
      ...UNITS,
      ...EXPLAIN,
      "--json": [],
    },
  },
  judge: {
    ways: JUDGED,
    may: { ...JUDGING, ...UNITS, ...DAYS_OF_RECORD, ...EXPLAIN, "--measured-spread": [] },
    words: FILES_OR_BOOK,
  },
  report: {
    ways: JUDGED.map((way) => ({ ...way, "--out": PAGES })),
    may: { ...JUDGING, ...UNITS, ...DAYS_OF_RECORD, ...EXPLAIN },
    words: FILES_OR_BOOK,
  },
  page: {
    ways: JUDGED.map((way) => ({ ...way, "--out": PAGES })),
    may: { ...JUDGING, ...UNITS },
    words: FILES_OR_BOOK,
  },
  labels: {
    ways: [BOOK, CARTS].map((way) => ({ ...way, "--out": PAGES })),
    may: {
      ...BOOK,
      ...CARTS,
      ...CIRCUIT,
      "--bottles": ["1", "2", "0", "1e3"],
      "--first": ["26-0401", "7", "x", "26-9999"],
      "--point": ["main-flow-line", "drain", "tap"],
      ...JSON_SWITCH,
    },
  },
  laboratories: {
    ways: [BOOK],
    may: {
      "--reference": ["North", "x", ""],
      "--same-day": [],
      "--by-map": [],
      ...EXPLAIN,
      ...JSON_SWITCH,
    },
  },
  trend: {
    ways: [
      { ...CIRCUIT, ...BOOK },
      { ...CIRCUIT, ...CARTS },
    ],
    may: {
      ...BOOK,
      ...CARTS,
      ...REQUIREMENT,
      "--measure": ["water", "acid", "viscosity", "particles", "particles-4"],
      "--limit": ["200 ppm by mass", "18/16/13", "0.2", ...QUANTITIES],
      "--lower-limit": ["9 mm2/s", "5"],
      "--new-fluid": ["50 ppm", "0.05 mg KOH/g", "30"],
      ...ON,
      "--horizon": ["365", "30"],
      "--longest": ["90", "20"],
      "--risk": ["5", "0.1", "50"],
      ...EXPLAIN,
      ...JSON_SWITCH,
    },
    words: FILES_OR_BOOK,
  },
  trace: {
    ways: [
      { ...BOOK, "--cart": ["C-1", "C-9"] },
      { ...CARTS, ...REQUIREMENT, "--cart": ["C-1", "C-9"] },
      { ...CARTS, ...REQUIREMENT, "--aircraft": ["X-17", "x 17", "X-I7"] },
    ],
    may: {
      ...BOOK,
      ...CARTS,
      ...REQUIREMENT,
      "--map": ["map.json", "cut.json", "none.json"],
      ...CIRCUIT,
      "--aircraft": ["X-17", "none"],
      ...ON,
      ...UNITS,
      ...EXPLAIN,
      ...JSON_SWITCH,
    },
    words: FILES_OR_BOOK,
  },
  import: {
    ways: [BOOK],
    may: {
      "--map": ["map.json", "cut.json", "none.json"],
      ...CARTS,
      "--drop-events": [],
      ...REQUIREMENT,
      "--quarantine": ["q", "folder", "lab.csv", "none/q"],
      "--same-cart": ["C-01", "none", ""],
      "--one-fleet": [],
      "--by": ["A. Person", ""],
      ...ON,
      ...EXPLAIN,
      ...JSON_SWITCH,
    },
    words: FILES,
  },
  columns: {
    ways: [{}],
    may: { "--map": ["map.json", "cut.json"], "--write": ["new.json", "map.json", "folder"], ...JSON_SWITCH },
    words: { from: 1, to: 1, right: LABS },
  },
  init: {
    ways: [{ "--to": ["new", "folder", "lab.csv", "none/new"] }],
    may: JSON_SWITCH,
    words: { from: 0, to: 2, right: LABS },
  },
  list: {
    ways: [BOOK],
    may: JSON_SWITCH,
    words: { from: 1, to: 1, right: ["files", "carts", "rows", "samples"] },
  },
  quarantine: {
    ways: [
      BOOK,
      { ...BOOK, "--discard": ["3f2a9c1b2d"], "--by": ["A. Person"], "--reason": ["a line of the carrier"] },
    ],
    may: {
      "--all": [],
      "--cart": ["C-1", "C-9"],
      "--circuit": ["fore", "C-9"],
      "--settle": ["3f2a9c1b2d", ""],
      "--reopen": ["3f2a9c1b2d"],
      ...JSON_SWITCH,
    },
  },
  history: { ways: [{ ...BOOK, ...CIRCUIT }], may: JSON_SWITCH },
  rows: {
    ways: [BOOK],
    may: { ...EXPLAIN, ...JSON_SWITCH },
    words: { from: 1, to: 1, right: ["lab.csv", "long.csv", "3f2a9c"] },
  },
  withdraw: {
    ways: [{ ...BOOK, "--reason": ["report of another base", ""], "--by": ["A. Person"] }],
    may: JSON_SWITCH,
    words: { from: 1, to: 1, right: ["lab.csv", "long.csv", "3f2a9c"] },
  },
  export: {
    ways: [
      { ...BOOK, "--to": ["out.csv", "out.jsonl", "lab.csv", "folder", "out.txt", "out.xlsx", "out.ics"] },
    ],
    may: {
      "--table": ["samples", "verdicts", "quantities", "fleet", "due", "rows"],
      "--base": ["North field", "../..", ""],
      ...ON,
      "--cart": ["C-1", "C-9"],
      "--as-of": DAYS,
      "--days": ["30", "0", "-1"],
      ...JSON_SWITCH,
    },
  },
  backup: { ways: [{ ...BOOK, "--to": ["copy.siltbook", "b.siltbook", "folder"] }], may: JSON_SWITCH },
  restore: { ways: [{ "--from": BOOK["--book"], "--to": ["new.siltbook", "b.siltbook"] }], may: JSON_SWITCH },
  salvage: { ways: [{ ...BOOK, "--to": ["new.siltbook", "b.siltbook", "folder"] }], may: JSON_SWITCH },
  verify: {
    ways: [BOOK, { "--evidence": ["pack.zip", "folder", "lab.csv", "noise.bin", "none.zip"] }],
    may: { "--against": ["0123456789ab", "head"], ...SIGNED, "--public-key": KEYS, ...JSON_SWITCH },
  },
  sign: {
    ways: [{ ...BOOK, "--key": KEYS }, { "--new-key": ["new.pem", "folder", "none/new.pem", "lab.csv"] }],
    may: { ...ON, "--out": ["out.json", "folder", "none/out.json"] },
  },
  evidence: {
    ways: [
      { ...BOOK, ...CIRCUIT, ...PACKS },
      { ...BOOK, ...CIRCUIT, ...ON, ...PACKS },
      { ...BOOK, "--record": ["1", "99", "x"], ...PACKS },
    ],
    may: {
      "--original": ["lab.csv", "long.csv", "folder", "none.csv"],
      "--ro-crate": [],
      ...SIGNED,
      ...JSON_SWITCH,
    },
  },
  fleet: {
    ways: [BOOK],
    may: {
      ...CARTS,
      ...REQUIREMENT,
      "--cart": ["C-1", "C-9"],
      "--shard": ["1/2", "2/2", "3/2", "0/1", "half"],
      "--out": ["out.jsonl", "b.siltbook", "none/out.jsonl", "folder"],
      ...ON,
      ...DAYS_OF_RECORD,
      ...EXPLAIN,
      ...JSON_SWITCH,
    },
  },
  merge: {
    ways: [BOOK],
    may: { ...EXPLAIN, ...JSON_SWITCH },
    words: {
      from: 1,
      to: 3,
      right: ["whole.jsonl", "lab.csv", "cut.json", "log.jsonl", "noise.bin", "folder"],
    },
  },
  override: {
    ways: [
      {
        ...BOOK,
        ...CIRCUIT,
        ...WHO,
        "--decision": ["fit", "circulate", "exchange-fluid", "resample", "do-not-connect"],
      },
      { ...BOOK, ...CIRCUIT, ...WHO, "--lift": [] },
    ],
    may: {
      "--by": ["A. Clerk", ""],
      "--second": ["B. Person", "A. Person"],
      "--until": ["2026-12-01", "2020-01-01"],
      "--number": ["1", "7"],
      ...ON,
      ...JSON_SWITCH,
    },
  },
};
