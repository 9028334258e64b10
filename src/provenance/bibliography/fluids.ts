import type { Source } from "./source.js";

/** Fluids, what is measured of them, and how they circulate. */
export const FLUIDS = {
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
  "F-F-351F": {
    title: "F-F-351F, filters and filter elements, fluid pressure",
    edition:
      "table IX, seen on one page: mean is β = 2, absolute is β = 75; type IV class 4 has them at 10 and 25 µm",
    standing: "single",
  },
  "RFC-5545": {
    title: "RFC 5545, Internet Calendaring and Scheduling Core Object Specification (iCalendar)",
    edition: "2009",
    clause: "3.1, folding; 3.3.11, text; 3.6.1, entries",
    standing: "confirmed",
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
  "DROP-SCALING": {
    title: "Element drop grows with flow and dynamic viscosity, housing drop with density and flow squared",
    edition: "customary reading of ISO 3968 results",
    standing: "memory",
  },
  "LOADING-CURVE": {
    title: "The drop of an element rises about with the third power of the dirt it holds",
    edition: "entry of a hydraulics glossary",
    standing: "single",
  },
  "LOADING-RUNS": {
    title:
      "Mauthe, Bakir, Scheerer, Zeiler, Prognosis based on varying data quality, data set of clogging filters",
    edition: "2022; in 35 runs of a gas filter the rise grew with the 2.9th to 8.4th power of the dirt fed",
    standing: "computed",
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
  "NIST-SP-811": {
    title: "NIST Special Publication 811, guide for the use of the International System of Units",
    edition: "2008",
    clause: "appendix B",
    standing: "memory",
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
  "FLUID-COLOURS": {
    title: "Dye of hydraulic fluids: MIL-PRF-5606 and MIL-PRF-83282 red, phosphate ester purple",
    edition: "training texts and a specification",
    standing: "confirmed",
  },
} as const satisfies Record<string, Source>;
