import type { Source } from "./source.js";

/** Classes of cleanliness, counting, sampling and specifications of new fluid. */
export const CLEANLINESS = {
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
  "FED-STD-791D": {
    title: "FED-STD-791D, method 3012, particulate contamination by automatic counter",
    edition: "2007",
    clause: "at least two runs of at least 20 mL",
    standing: "single",
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
} as const satisfies Record<string, Source>;
