/**
 * How well a value is confirmed.
 *
 * - `confirmed`: seen on two or more independent pages
 * - `one-document`: stated in one document or by one publisher, possibly in several copies
 * - `single`: seen on one page only
 * - `computed`: arithmetic from other stated values
 * - `inference`: reasoned from a source that does not state it
 * - `practice`: common practice, no source
 * - `memory`: recalled, not seen in print; only ever an editable default
 */
export type Standing =
  | "confirmed"
  | "one-document"
  | "single"
  | "computed"
  | "inference"
  | "practice"
  | "memory";

/** One entry of the bibliography. */
export interface Source {
  readonly title: string;
  readonly edition: string;
  /** Clause, table or page that holds the value. */
  readonly clause?: string;
  readonly standing: Standing;
}

/** The keyed bibliography. Doc comments, tables and tests refer to these keys. */
export const SOURCES = {
  "ISO-4406": {
    title: "ISO 4406, Hydraulic fluid power: method for coding the level of contamination by solid particles",
    edition: "1999; scale unchanged in 2017 and 2021",
    clause: "table 1",
    standing: "confirmed",
  },
  "AS4059-CUMULATIVE": {
    title: "SAE AS4059, cumulative particle counts",
    edition: "E (unrounded limits)",
    clause: "table 2",
    standing: "one-document",
  },
  "AS4059-DIFFERENTIAL": {
    title: "SAE AS4059, differential particle counts",
    edition: "E and F",
    clause: "table 1",
    standing: "confirmed",
  },
  "NAS-1638": {
    title: "NAS 1638, cleanliness requirements of parts used in hydraulic systems",
    edition: "1964, inactive for new design after 30 May 2001",
    clause: "table I",
    standing: "confirmed",
  },
  "AS4059-SIZE-PAIRS": {
    title: "SAE AS4059, pairing of microscope and ISO 11171 sizes",
    edition: "all revisions seen",
    standing: "confirmed",
  },
  "ISO-11171": {
    title: "ISO 11171, calibration of automatic particle counters for liquids",
    edition: "2020",
    standing: "confirmed",
  },
  "ISO-16889": {
    title: "ISO 16889, multi-pass method for evaluating the filtration performance of a filter element",
    edition: "2008 and 2022",
    clause: "definition of the filtration ratio",
    standing: "confirmed",
  },
  "BETA-INTERPOLATION": {
    title: "Log filtration ratio drawn straight against size between two rated sizes",
    edition: "customary reading of ISO 16889 results",
    standing: "memory",
  },
  "MASS-BALANCE": {
    title: "Mass balance of a well-mixed volume with a filter and an inflow of particles",
    edition: "textbook model",
    standing: "memory",
  },
  "TWO-ZONE": {
    title: "Two well-mixed volumes that trade fluid, one of them with the filter",
    edition: "textbook model",
    standing: "memory",
  },
  "FIRST-ORDER": {
    title: "Dilution, drying and heating as first-order balances of one mixed volume",
    edition: "textbook model",
    standing: "memory",
  },
  "ASTM-D341": {
    title: "ASTM D341, viscosity-temperature equations for petroleum or hydrocarbon oils",
    edition: "as restated by a pipeline engineering guide",
    clause: "equations with the low-viscosity term, and their inverse",
    standing: "one-document",
  },
  "FLUID-DATA": {
    title: "Viscosity, density and specific heat of fluid families",
    edition: "editable defaults",
    standing: "memory",
  },
  "NIOSH-APPENDIX-A": {
    title: "NIOSH Manual of Analytical Methods, particles per microgram of quartz spheres",
    edition: "15 August 1994",
    clause: "appendix A",
    standing: "single",
  },
  "TEST-DUST-RELATION": {
    title: "1 mg/L of the older air-cleaner dust shows about 140 particles above 10 µm per mL",
    edition: "old handbook chart",
    standing: "memory",
  },
  "DROP-SCALING": {
    title: "Element drop grows with flow and dynamic viscosity, housing drop with density and flow squared",
    edition: "customary reading of ISO 3968 results",
    standing: "memory",
  },
  "FED-STD-791D": {
    title: "FED-STD-791D, method 3012, particulate contamination by automatic counter",
    edition: "2007",
    clause: "at least two runs of at least 20 mL",
    standing: "single",
  },
  "ISO-TS-19036": {
    title:
      "ISO/TS 19036, measurement uncertainty of counts: variance of log10 is 0.18861/N plus reproducibility",
    edition: "2006, amendment 1:2009",
    clause: "8.2",
    standing: "single",
  },
  "JCGM-101": {
    title: "JCGM 101, propagation of distributions using a Monte Carlo method",
    edition: "2008",
    clause: "7.9.2 and 8, numerical tolerance from the significant digits of the standard uncertainty",
    standing: "memory",
  },
  "RULE-OF-SEVEN": {
    title:
      "Rule of thumb of a hydraulics columnist: seven tank volumes through the filter are worth one single pass",
    edition: "web page",
    standing: "single",
  },
  "NAVEDTRA-14018-CIRCULATION": {
    title: "US Navy training manual NAVEDTRA 14018, operational use of support equipment",
    edition: "restates NAVAIR 01-1A-17",
    clause: "one reservoir volume through the filters before hookup; indicators watched at 85 °F or more",
    standing: "single",
  },
  SEN: {
    title: "P. K. Sen, Estimates of the regression coefficient based on Kendall's tau",
    edition: "J. Am. Stat. Assoc. 63 (1968) 1379-1389",
    standing: "memory",
  },
  "NIST-SP-811": {
    title: "NIST Special Publication 811, guide for the use of the International System of Units",
    edition: "2008",
    clause: "appendix B",
    standing: "memory",
  },
  "TB-1-1520-240-20-121": {
    title: "US Army TB 1-1520-240-20-121, water in hydraulic fluid of aircraft and ground carts",
    edition: "June 2000",
    standing: "single",
  },
  "NAVEDTRA-14018": {
    title: "US Navy training manual NAVEDTRA 14018, hydraulic contamination control",
    edition: "restates NAVAIR 01-1A-17",
    standing: "one-document",
  },
  "FAA-H-8083-31": {
    title: "FAA-H-8083-31, airframe handbook, hydraulic fluids",
    edition: "two copies of the text",
    standing: "one-document",
  },
  "MIL-PRF-87257": {
    title: "MIL-PRF-87257, hydraulic fluid, low temperature, synthetic hydrocarbon base",
    edition: "B and C",
    clause: "4.4.3, compatibility",
    standing: "single",
  },
  "PHOSPHATE-ESTER-MIXING": {
    title: "Aircraft maintenance training text on hydraulic fluid types",
    edition: "web page",
    standing: "single",
  },
  "PHOSPHATE-ESTER-IN-SERVICE": {
    title: "In-service limits of AS1241 phosphate ester: water 0.8 %, acid number 1.5 mg KOH/g",
    edition: "airline custom",
    standing: "memory",
  },
  "ISO-4406-LOW-COUNT": {
    title: "ISO 4406, sign ≥ before a scale number for which fewer than 20 particles were counted",
    edition: "1999",
    clause: "quoted in a catalogue and a lubricant handbook",
    standing: "confirmed",
  },
  "ISO-4406-TOO-MANY": {
    title: "ISO 4406, sign * where particles are too many to count",
    edition: "1999",
    standing: "memory",
  },
  "AS4059-CUMULATIVE-ROUNDED": {
    title: "SAE AS4059, cumulative particle counts, limits rounded to three figures",
    edition: "pages that name no revision; up to D from memory",
    clause: "table 2",
    standing: "confirmed",
  },
  "AS4059-NOTATION": {
    title: "SAE AS4059, classes written with size codes: 6B, 7B/6C/5D, 6B-F",
    edition: "filter catalogue",
    standing: "single",
  },
  "AS4059-WITHOUT-LETTER": {
    title: "SAE AS4059, meaning of a class without a size code: table 1",
    edition: "F",
    standing: "confirmed",
  },
  "AS4059-WITHOUT-LETTER-EARLIER": {
    title: "SAE AS4059, meaning of a class without a size code: size B up to D, table 1 in E",
    edition: "A to E",
    standing: "memory",
  },
  "ASTM-D6786": {
    title: "ASTM D6786, particle counting in mineral insulating oil with automatic counters",
    edition: "text of the standard on one site",
    clause: "bottle share below 1 %; equivalent sizes, among them 10 µm(c) for 10 µm",
    standing: "single",
  },
  "NAVAIR-01-1A-17": {
    title: "NAVAIR 01-1A-17 (T.O. 42B2-1-12), Aviation Hydraulics Manual, contamination classes 0 to 6",
    edition: "as printed in NAVEDTRA 14315, table 8-1, and in a membrane-filter guide",
    standing: "confirmed",
  },
  "NAVEDTRA-14315": {
    title: "US Navy training manual NAVEDTRA 14315, acceptable contamination classes",
    edition: "notes to table 8-1",
    standing: "one-document",
  },
  "GOST-17216": {
    title: "GOST 17216, industrial cleanliness, grades of liquids",
    edition: "text of the 1971 edition, rows 00 to 8",
    standing: "single",
  },
  "MIL-STD-1246": {
    title: "MIL-STD-1246 / IEST-STD-CC1246D, level formula",
    edition: "article of 2005; level 100 agrees with MIL-DTL-197L",
    standing: "confirmed",
  },
  "NEW-FLUID-GUIDE": {
    title: "Particle limits of new fluid, membrane-filter monitoring guide",
    edition: "page of typical levels",
    standing: "single",
  },
  "MIL-PRF-6083": {
    title: "MIL-PRF-6083, particle limits of new fluid",
    edition: "table II, of which two rows were legible",
    standing: "single",
  },
  "MIL-PRF-83282-LIMITS": {
    title: "MIL-PRF-83282 and MIL-PRF-87257, particle limits of new fluid",
    edition: "recalled, not found in print",
    standing: "memory",
  },
  "MIL-DTL-197L": {
    title: "MIL-DTL-197L, particle limits of packaged oils",
    edition: "3.3.4.1",
    standing: "single",
  },
  "ISO-11171-OLDER-SIZES": {
    title: "Sizes by ISO 4402 and by ISO 11171 for the same particle",
    edition: "instrument maker's page on ISO 11171",
    standing: "single",
  },
  "ISO-11171-UM-B": {
    title: "ISO 11171:2016, 1 µm(b) = 0.898 µm(c)",
    edition: "withdrawn with the 2020 edition",
    standing: "memory",
  },
  "ISO-TR-4808": {
    title: "ISO/TR 4808, interpolation method for particle count and filter test data",
    edition: "2021, abstract: within the range of the data only",
    standing: "confirmed",
  },
  GARWOOD: {
    title: "F. Garwood, Fiducial limits for the Poisson distribution",
    edition: "Biometrika 28 (1936) 437-442; formula and values on two pages",
    standing: "confirmed",
  },
  JEFFREYS: {
    title: "H. Jeffreys, An invariant form for the prior probability in estimation problems",
    edition: "Proc. R. Soc. A 186 (1946) 453-461",
    standing: "memory",
  },
  ASSOCIATION: {
    title: "J. D. Esary, F. Proschan, D. W. Walkup, Association of random variables, with applications",
    edition: "Ann. Math. Stat. 38 (1967) 1466-1474",
    standing: "memory",
  },
  "INDEX-OF-DISPERSION": {
    title: "R. A. Fisher, Statistical methods for research workers, index of dispersion",
    edition: "the Poisson series",
    standing: "memory",
  },
  "DLMF-8": {
    title: "NIST Digital Library of Mathematical Functions, incomplete gamma functions",
    edition: "8.9.2, 8.11.4 and 5.11.1",
    standing: "memory",
  },
  PRACTICE: {
    title: "Common practice",
    edition: "no source",
    standing: "practice",
  },
} as const satisfies Record<string, Source>;

/** A key of {@link SOURCES}. */
export type SourceKey = keyof typeof SOURCES;

const STANDING_WORDS: Record<Standing, string> = {
  confirmed: "confirmed by independent pages",
  "one-document": "one document",
  single: "one page",
  computed: "computed",
  inference: "inferred",
  practice: "common practice, no source",
  memory: "from memory",
};

/**
 * Says a source in one line, with its standing.
 *
 * @param key - key of the bibliography
 * @returns for example "Common practice, no source"
 * @example
 * saySource("ISO-16889"); // => "ISO 16889, multi-pass method for evaluating the filtration performance of a filter element (2008 and 2022, definition of the filtration ratio; confirmed by independent pages)"
 */
export function saySource(key: SourceKey): string {
  const source: Source = SOURCES[key];
  if (source.standing === "practice") return "Common practice, no source";
  const place = source.clause === undefined ? source.edition : `${source.edition}, ${source.clause}`;
  return `${source.title} (${place}; ${STANDING_WORDS[source.standing]})`;
}
