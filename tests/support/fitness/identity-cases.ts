import type { Requirement } from "../../../src/samples/index.js";
import { asking, type Case, CLEAN, sample, without } from "./bases.js";

const identity = (required: NonNullable<Requirement["identity"]>): Partial<Requirement> => ({
  identity: required,
});
const COLOURS = identity({ colours: ["red"] });
const VISCOSITY = identity({ viscosity40Mm2PerS: { min: 13, max: 15 } });
const DENSITY = identity({ density15KgPerM3: { min: 840, max: 860 } });

/** Is it the right fluid? */
export const IDENTITY_CASES: readonly Case[] = [
  ["a fluid that the system takes", {}, "fit", "fluid-allowed"],
  [
    "a fluid that the system does not take",
    asking({ fluids: ["AS1241 Type IV"] }),
    "do-not-connect",
    "fluid-not-allowed",
  ],
  [
    "a fluid of two that the system takes",
    asking({ fluids: ["MIL-PRF-87257", "MIL-PRF-83282"] }),
    "fit",
    "fluid-allowed",
  ],
  ["an older prefix and no revision on the label", sample({ fluid: "MIL-H-83282" }), "fit", "fluid-allowed"],
  [
    "a label that names another fluid",
    sample({ fluid: "MIL-PRF-5606H" }),
    "do-not-connect",
    "fluid-contradicts-label",
  ],
  [
    "a label that names no known fluid",
    sample({ fluid: "hyd oil" }),
    "resample",
    "fluid-label-not-recognised",
  ],
  ["no label and none asked for", { samples: [without(CLEAN, "fluid")] }, "fit", "fluid-allowed"],
  [
    "no label where one is required",
    { ...asking({ sampling: { labelled: true } }), samples: [without(CLEAN, "fluid")] },
    "resample",
    "fluid-not-stated",
  ],
  // Recalled viscosity of MIL-PRF-83282 at 40 °C is 14.0: 25 % either way is 10.5 to 17.5, and 40 % is 8.4 to 19.6.
  [
    "viscosity at the end of the recalled range",
    sample({ viscosity40Mm2PerS: { value: 10.5 } }),
    "fit",
    "fluid-allowed",
  ],
  [
    "viscosity just out of the recalled range",
    sample({ viscosity40Mm2PerS: { value: 10.4 } }),
    "resample",
    "identity-in-doubt",
  ],
  [
    "viscosity that the fluid may have at the least",
    sample({ viscosity40Mm2PerS: { value: 8.4 } }),
    "resample",
    "identity-in-doubt",
  ],
  [
    "viscosity that the fluid cannot have",
    sample({ viscosity40Mm2PerS: { value: 8.39 } }),
    "do-not-connect",
    "fluid-contradicts-viscosity",
  ],
  [
    "viscosity of MIL-PRF-87257 in MIL-PRF-83282",
    sample({ viscosity40Mm2PerS: { value: 6.8 } }),
    "do-not-connect",
    "fluid-contradicts-viscosity",
  ],
  [
    "viscosity exactly at the end of the range given",
    asking(VISCOSITY, { viscosity40Mm2PerS: { value: 13 } }),
    "fit",
    "fluid-allowed",
  ],
  [
    "viscosity one step out of the range given",
    asking(VISCOSITY, { viscosity40Mm2PerS: { value: 12.9 } }),
    "do-not-connect",
    "fluid-contradicts-viscosity",
  ],
  ["viscosity for identity not measured", asking(VISCOSITY), "resample", "viscosity-not-measured"],
  [
    "viscosity only known to be below 14",
    asking(VISCOSITY, { viscosity40Mm2PerS: { value: 14, limit: "below" } }),
    "resample",
    "identity-not-known",
  ],
  // Recalled density 838 to 857, in doubt for 20 more; phosphate ester is near 1000.
  [
    "density of a phosphate ester in a hydrocarbon",
    sample({ density15KgPerM3: { value: 998 } }),
    "do-not-connect",
    "fluid-contradicts-density",
  ],
  ["density near the recalled one", sample({ density15KgPerM3: { value: 846 } }), "fit", "fluid-allowed"],
  [
    "density exactly at the end of the range given",
    asking(DENSITY, { density15KgPerM3: { value: 860 } }),
    "fit",
    "fluid-allowed",
  ],
  [
    "density one step out of the range given",
    asking(DENSITY, { density15KgPerM3: { value: 861 } }),
    "do-not-connect",
    "fluid-contradicts-density",
  ],
  ["density for identity not measured", asking(DENSITY), "resample", "density-not-measured"],
  [
    "chlorine exactly at what the fluid may show",
    asking(identity({ chlorinePpmMax: 100 }), { chlorinePpm: { value: 100 } }),
    "fit",
    "fluid-allowed",
  ],
  [
    "more chlorine than the fluid may show",
    asking(identity({ chlorinePpmMax: 100 }), { chlorinePpm: { value: 101 } }),
    "do-not-connect",
    "fluid-contradicts-chlorine",
  ],
  [
    "chlorine for identity not measured",
    asking(identity({ chlorinePpmMax: 100 })),
    "resample",
    "chlorine-not-measured",
  ],
  ["the colour of the fluid", asking(COLOURS, { colour: "Red, clear" }), "fit", "fluid-allowed"],
  [
    "one of two colours that the fluid may have",
    asking(identity({ colours: ["red", "pink"] }), { colour: "slightly pink" }),
    "fit",
    "fluid-allowed",
  ],
  [
    "the colour of another fluid",
    asking(COLOURS, { colour: "purple" }),
    "do-not-connect",
    "fluid-contradicts-colour",
  ],
  [
    "a word that only contains the colour",
    asking(COLOURS, { colour: "reddish" }),
    "do-not-connect",
    "fluid-contradicts-colour",
  ],
  ["colour asked for and not reported", asking(COLOURS), "resample", "colour-not-reported"],
  [
    "the colour of another fluid where none is required",
    sample({ colour: "purple" }),
    "resample",
    "colour-of-another-fluid",
  ],
  ["a word that names no colour", sample({ colour: "off" }), "resample", "colour-not-understood"],
];
