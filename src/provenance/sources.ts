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
export type SourceStanding =
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
  readonly standing: SourceStanding;
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
  "FLUID-DENSITY-RANGES": {
    title: "Usual density of fluid families at 15 °C, by class",
    edition: "editable defaults; one printed data sheet of MIL-PRF-5606 has 0.871 at 60 °F",
    standing: "memory",
  },
  "FOREIGN-ELEMENTS": {
    title: "Magnesium and zinc are in no AS1241 or MIL-PRF fluid known here beyond some ten ppm",
    edition: "editable defaults",
    standing: "memory",
  },
  "CLEANLINESS-IN-SERVICE": {
    title: "In-service cleanliness of phosphate ester aircraft: NAS 1638 class 9, AS4059 class 9",
    edition: "airline custom",
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
  "ISO-23309": {
    title: "ISO 23309, cleaning of lines by flushing",
    edition: "2016, an extract",
    clause: "Reynolds number above 4000, judged at the coldest point",
    standing: "single",
  },
  "ISO-28521": {
    title: "ISO 28521, hydraulic oil systems, cleanliness of systems by flushing",
    edition: "2009",
    clause: "below a Reynolds number of 3000 it is washing",
    standing: "memory",
  },
  REYNOLDS: {
    title: "Reynolds number of the flow in a round pipe, laminar below 2300",
    edition: "textbook formula; worked examples of several course pages",
    standing: "confirmed",
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
  "SERIAL-CORRELATION": {
    title:
      "Lag-1 correlation of residuals, its scatter about −1/n for independent results, and its effect on the Mann-Kendall test",
    edition: "textbook formula; Hamed and Rao, J. Hydrology 204 (1998) 182-196",
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
  "PRESERVATIVE-FLUIDS": {
    title:
      "FAA-H-8083-31 and specification pages: rust-inhibited fluid for preservation, not for operating aircraft systems",
    edition: "MIL-PRF-6083; for MIL-PRF-46170 from memory",
    standing: "confirmed",
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
    edition: "8.4.10, 8.9.2, 8.11.4 and 5.11.1",
    standing: "memory",
  },
  WEST: {
    title: "G. West, Better approximations to cumulative normal functions",
    edition: "Wilmott, May 2005",
    standing: "memory",
  },
  "DLMF-8-17": {
    title: "NIST Digital Library of Mathematical Functions, incomplete beta function",
    edition: "web edition",
    clause: "8.17.22",
    standing: "memory",
  },
  "MANN-KENDALL": {
    title: "EPA QA/G-9S, Data quality assessment: statistical methods for practitioners",
    edition: "2006",
    clause: "Mann-Kendall test, page 109",
    standing: "single",
  },
  "KENDALL-EXACT": {
    title: "EPA QA/G-9S, small-sample table of the Mann-Kendall test",
    edition: "2006; agrees with counting all orders",
    standing: "single",
  },
  "MANN-KENDALL-FORM": {
    title: "Wisconsin administrative form of the Mann-Kendall test",
    edition: "county document scan",
    standing: "single",
  },
  HELSEL: {
    title:
      "D. R. Helsel, Nondetects and data analysis: Kendall's tau where pairs of unknown order count as ties",
    edition: "2005, as restated by the manual of a censored-data package",
    standing: "one-document",
  },
  DANIELS: {
    title:
      "H. E. Daniels, The relation between measures of correlation in the universe of sample permutations",
    edition: "Biometrika 33 (1944) 129-135",
    standing: "memory",
  },
  "HIRSCH-SLACK-SMITH": {
    title:
      "R. M. Hirsch, J. R. Slack, R. A. Smith, Techniques of trend analysis for monthly water quality data",
    edition: "Water Resour. Res. 18 (1982) 107-121",
    standing: "memory",
  },
  "MARSAGLIA-TSANG": {
    title: "G. Marsaglia, W. W. Tsang, A simple method for generating gamma variables",
    edition: "ACM Trans. Math. Softw. 26 (2000) 363-372",
    standing: "memory",
  },
  "MARSAGLIA-TSANG-ZIGGURAT": {
    title: "G. Marsaglia, W. W. Tsang, The ziggurat method for generating random variables",
    edition: "J. Stat. Softw. 5 (2000) issue 8",
    standing: "memory",
  },
  MATOUSEK: {
    title: "J. Matoušek, Randomized optimal algorithm for slope selection",
    edition: "Inf. Process. Lett. 39 (1991) 183-187",
    standing: "memory",
  },
  "AKRITAS-THEIL-SEN": {
    title: "M. G. Akritas, S. A. Murphy, M. P. LaValley, The Theil-Sen estimator with doubly censored data",
    edition: "J. Am. Stat. Assoc. 90 (1995) 170-177, as restated by the manual of a censored-data package",
    standing: "one-document",
  },
  TURNBULL: {
    title:
      "B. W. Turnbull, The empirical distribution function with arbitrarily grouped, censored and truncated data",
    edition: "J. R. Stat. Soc. B 38 (1976) 290-295",
    standing: "memory",
  },
  "HELSEL-HIRSCH": {
    title: "D. R. Helsel, R. M. Hirsch, Statistical methods in water resources",
    edition: "chapter 10",
    standing: "memory",
  },
  HUBER: {
    title: "P. J. Huber, Robust estimation of a location parameter",
    edition: "Ann. Math. Stat. 35 (1964) 73-101",
    standing: "memory",
  },
  SANDWICH: {
    title: "H. White, A heteroskedasticity-consistent covariance matrix estimator",
    edition: "Econometrica 48 (1980) 817-838",
    standing: "memory",
  },
  "IGLEWICZ-HOAGLIN": {
    title: "B. Iglewicz, D. C. Hoaglin, How to detect and handle outliers: modified z-score beyond 3.5",
    edition: "1993",
    standing: "memory",
  },
  FIELLER: {
    title: "E. C. Fieller, Some problems in interval estimation",
    edition: "J. R. Stat. Soc. B 16 (1954) 175-185",
    standing: "memory",
  },
  "LUND-REEVES": {
    title:
      "R. Lund, J. Reeves, Detection of undocumented changepoints: a revision of the two-phase regression model",
    edition: "J. Climate 15 (2002) 2547-2554",
    standing: "memory",
  },
  WANG: {
    title:
      "X. L. Wang, Comments on 'Detection of undocumented changepoints': a step in a series with one trend",
    edition: "J. Climate 16 (2003) 3383-3385",
    standing: "memory",
  },
  "DILUTION-BALANCE": {
    title: "Balance of a mixed volume in which a share is replaced at each top-up",
    edition: "textbook model",
    standing: "memory",
  },
  "ASTM-D7720": {
    title:
      "ASTM D7720, statistically evaluating measurand alarm limits when using oil analysis to monitor equipment and oil",
    edition: "2021",
    clause: "scope: percentiles of the population, or control limits where it is normal and in control",
    standing: "confirmed",
  },
  "ASTM-D7669": {
    title: "ASTM D7669, practical lubricant condition data trend analysis",
    edition: "scope",
    clause: "limits must lie further apart than the test repeats",
    standing: "confirmed",
  },
  "ASTM-D341-EXAMPLE": {
    title: "Calculation sheet of ASTM D341 through two points",
    edition: "document-sharing copy",
    clause: "32 mm²/s at 40 °C and 5.4 mm²/s at 100 °C, at 80 °C",
    standing: "single",
  },
  "FLUID-EXPANSION": {
    title: "Thermal expansion of fluid families",
    edition: "editable defaults",
    standing: "memory",
  },
  "ASTM-D664": {
    title: "ASTM D664, acid number by potentiometric titration",
    edition: "method A",
    clause: "15 and 16, precision",
    standing: "confirmed",
  },
  "ASTM-D974": {
    title: "ASTM D974, acid number by colour-indicator titration",
    edition: "precision by bands",
    standing: "memory",
  },
  "ASTM-D5770": {
    title: "ASTM D5770, semi-quantitative micro determination of acid number",
    edition: "clause 10",
    standing: "single",
  },
  "ASTM-D6304-SCOPE": {
    title: "ASTM D6304, water by coulometric Karl Fischer titration",
    edition: "2020",
    clause: "scope: 10 to 25 000 mg/kg",
    standing: "confirmed",
  },
  "ASTM-D6304": {
    title: "ASTM D6304, water by coulometric Karl Fischer titration, precision",
    edition: "2007 and 2016",
    standing: "memory",
  },
  "ISO-12937": {
    title: "ISO 12937, water by coulometric Karl Fischer titration, precision",
    edition: "2000",
    standing: "memory",
  },
  "ASTM-D445": {
    title: "ASTM D445, kinematic viscosity, precision for in-service formulated oils",
    edition: "40 and 100 °C",
    standing: "memory",
  },
  "ISO-3104": {
    title: "ISO 3104, kinematic viscosity, repeatability for formulated oils",
    edition: "older edition",
    clause: "14",
    standing: "single",
  },
  "ISO-4259": {
    title: "ISO 4259, application of precision data to limits",
    edition: "as restated by a marine fuel supplier; the factor is arithmetic",
    clause: "9",
    standing: "one-document",
  },
  "TBP-WATER": {
    title: "Solubility of water in undiluted tributyl phosphate",
    edition: "3.57 mol/L at 25 °C",
    standing: "single",
  },
  "OIL-SATURATION": {
    title: "Water saturation of mineral insulating oil, log10 S = 7.0895 − 1567/T",
    edition: "another class of product; editable default",
    standing: "memory",
  },
  "SATURATION-SPREAD": {
    title: "Two oils of equal water activity at 20 °C hold 78 and 358 ppm at saturation",
    edition: "sensor maker's explanation",
    standing: "single",
  },
  "NEW-FLUID-LIMITS": {
    title: "Water and acid number limits of new MIL-PRF and AS1241 fluids",
    edition: "editable defaults",
    standing: "memory",
  },
  "PHOSPHATE-ESTER-IN-SERVICE-SET": {
    title: "In-service set of AS1241 phosphate ester: viscosity, chlorine and metals",
    edition: "airline custom",
    standing: "memory",
  },
  "ESTER-LIFE": {
    title:
      "Raskin and Vizhankov: life of phosphate ester shortens when above 100 °C with more than 0.5 % water",
    edition: "Chem. Technol. Fuels Oils 51 (2016) 593-597, abstract",
    standing: "single",
  },
  "ESTER-HYDROLYSIS": {
    title:
      "Ester and water give acid and alcohol, which acid and heat speed up; a scavenger delays the rise until it is used up",
    edition: "several independent texts",
    standing: "confirmed",
  },
  "OIL-IN-ESTER": {
    title: "Mineral oil in industrial phosphate ester: monitor at 2 %, abnormal at 3 %, condemn at 4 %",
    edition: "laboratory's page",
    standing: "single",
  },
  "FTIR-MIXING": {
    title:
      "Cross-contamination of phosphate ester and hydrocarbon is seen by FTIR against reference spectra of both",
    edition: "trade magazine",
    standing: "single",
  },
  "CHLORINE-IN-FLUID": {
    title: "Chlorinated solvent in fluid is flushed out, not filtered; ASTM F862 measures it",
    edition: "manuals and ASTM F862",
    standing: "confirmed",
  },
  "JCGM-106": {
    title: "JCGM 106, the role of measurement uncertainty in conformity assessment",
    edition: "2012",
    clause: "conformance probability, guarded acceptance, risks",
    standing: "memory",
  },
  "JCGM-106-BEARINGS": {
    title: "JCGM 106, global risk of accepting ball bearings",
    edition: "2012; restated by a national laboratory, agrees with quadrature",
    clause: "9.5.4",
    standing: "confirmed",
  },
  "ISO-4021": {
    title: "ISO 4021, extraction of fluid samples from lines of an operating system",
    edition: "1992",
    clause: "scope: a turbulent section of a main line; the reservoir only where no sampler is fitted",
    standing: "confirmed",
  },
  "ISO-11500": {
    title: "ISO 11500, automatic counting of bottle samples",
    edition: "page on the method: look for cloudiness, visible particles and free water first",
    standing: "single",
  },
  "SE-SAMPLING": {
    title:
      "Sampling of support equipment: circulate 5 minutes at full flow, never stop the flow before filling",
    edition: "NAVEDTRA 14018 and TM 1-1520-238-23",
    standing: "confirmed",
  },
  "NAVEDTRA-14105": {
    title: "US Navy training manual NAVEDTRA 14105, fluid sampling",
    edition: "flush 1 to 2 line volumes; avoid dead legs, drains and filter bowls; one labelled point",
    standing: "single",
  },
  "TB-1-1520-238-20-116": {
    title: "US Army TB 1-1520-238-20-116, sampling of hydraulic fluid",
    edition: "90 mL to waste, rinse the bottle, leave 13 mm of air; agrees with TM 1-1520-238-23",
    standing: "confirmed",
  },
  "NAVEDTRA-14315-WATER": {
    title: "US Navy training manual NAVEDTRA 14315: free water that can be seen rejects the system",
    edition: "electronic particle count analysis",
    standing: "one-document",
  },
  "FLUID-COLOURS": {
    title: "Dye of hydraulic fluids: MIL-PRF-5606 and MIL-PRF-83282 red, phosphate ester purple",
    edition: "training texts and a specification",
    standing: "confirmed",
  },
  PRACTICE: {
    title: "Common practice",
    edition: "no source",
    standing: "practice",
  },
} as const satisfies Record<string, Source>;

/** A key of {@link SOURCES}. */
export type SourceKey = keyof typeof SOURCES;

const STANDING_WORDS: Record<SourceStanding, string> = {
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
 * describeSource("ISO-16889"); // => "ISO 16889, multi-pass method for evaluating the filtration performance of a filter element (2008 and 2022, definition of the filtration ratio; confirmed by independent pages)"
 */
export function describeSource(key: SourceKey): string {
  const source: Source = SOURCES[key];
  if (source.standing === "practice") return "Common practice, no source";
  const place = source.clause === undefined ? source.edition : `${source.edition}, ${source.clause}`;
  return `${source.title} (${place}; ${STANDING_WORDS[source.standing]})`;
}
