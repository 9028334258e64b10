import { FLUID_BASES, FLUID_DATA, readFluidSpecification } from "../fluids/index.js";
import type { Assumption } from "../provenance/index.js";
import {
  type Circuit,
  compareWithRange,
  type Measured,
  type Range,
  type Requirement,
  type Sample,
  sayMeasured,
} from "../samples/index.js";
import type { Finding } from "./assessed.js";
import { sayLimits } from "./limits.js";
import { type Reason, reason } from "./reasons.js";

/** How far viscosity may lie from the recalled value of the family before it speaks against it (common practice). */
const VISCOSITY_TOLERANCE = 0.25;
/** The same for density; the bases differ by 15 % and more. */
const DENSITY_TOLERANCE = 0.05;

/** Is it the right fluid: the one the system takes, and the one the circuit is declared to hold? */
export function checkIdentity(
  circuit: Circuit,
  requirement: Requirement,
  sample: Sample | undefined,
): Finding {
  const allowed = requirement.fluids.join(" or ");
  const declared = requirement.fluids.includes(circuit.fluid)
    ? reason("fluid-allowed", `${circuit.fluid} is allowed in ${requirement.system}`)
    : reason(
        "fluid-not-allowed",
        `the circuit holds ${circuit.fluid}; ${requirement.system} takes ${allowed}`,
      );
  if (sample === undefined) return { reasons: [declared] };
  const findings = [checkLabel(circuit, requirement, sample), ...checkResults(circuit, requirement, sample)];
  return {
    reasons: [declared, ...findings.flatMap(({ reasons }) => reasons), ...checkColour(requirement, sample)],
    assumptions: findings.flatMap(({ assumptions }) => assumptions ?? []),
  };
}

function checkLabel(circuit: Circuit, { sampling }: Requirement, { sample, fluid }: Sample): Finding {
  if (fluid === undefined) {
    if (sampling?.labelled) {
      const message = `neither label nor report of sample ${sample} names the fluid, which is asked for`;
      return { reasons: [reason("fluid-not-stated", message)] };
    }
    return { reasons: [], assumptions: [asDeclared(sample, circuit)] };
  }
  const labelled = readFluidSpecification(fluid);
  if (labelled === circuit.fluid) return { reasons: [] };
  if (labelled === undefined) {
    const message = `the label of sample ${sample} says "${fluid}", which is no specification known here; expected ${circuit.fluid}`;
    return { reasons: [reason("fluid-label-not-recognised", message)] };
  }
  const message = `the label of sample ${sample} says ${labelled}, the circuit is declared to hold ${circuit.fluid}`;
  return { reasons: [reason("fluid-contradicts-label", message)] };
}

function asDeclared(sample: string, circuit: Circuit): Assumption {
  return {
    code: "fluid-as-declared",
    message: `the report of sample ${sample} names no fluid; it was taken as the declared ${circuit.fluid}`,
  };
}

/** Results that tell one fluid from another: by the requirement's ranges, or by recalled values that say so. */
function checkResults({ fluid }: Circuit, { identity = {} }: Requirement, sample: Sample): Finding[] {
  const data = FLUID_DATA[fluid];
  const nominal = (value: number, tolerance: number) => ({
    min: value * (1 - tolerance),
    max: value * (1 + tolerance),
  });
  const viscosity = nominal(data.viscosity[0].mm2PerS, VISCOSITY_TOLERANCE);
  const density = nominal(data.densityKgPerM3, DENSITY_TOLERANCE);
  const { chlorinePpmMax } = identity;
  return [
    contradiction(fluid, "viscosity", "viscosity at 40 °C", "mm²/s", sample.viscosity40Mm2PerS, {
      asked: identity.viscosity40Mm2PerS,
      recalled: viscosity,
    }),
    contradiction(fluid, "density", "density at 15 °C", "kg/m³", sample.density15KgPerM3, {
      asked: identity.density15KgPerM3,
      recalled: density,
    }),
    contradiction(fluid, "chlorine", "chlorine", "ppm by mass", sample.chlorinePpm, {
      asked: chlorinePpmMax === undefined ? undefined : { max: chlorinePpmMax },
    }),
  ];
}

function contradiction(
  fluid: Circuit["fluid"],
  stem: "viscosity" | "density" | "chlorine",
  name: string,
  unit: string,
  measured: Measured | undefined,
  { asked, recalled }: { asked: Range | undefined; recalled?: Range },
): Finding {
  if (measured === undefined) {
    return {
      reasons:
        asked === undefined
          ? []
          : [
              reason(
                `${stem}-not-measured`,
                `the ${name} was not measured, and tells whether it is ${fluid}`,
              ),
            ],
    };
  }
  const range = asked ?? recalled;
  if (range === undefined) return { reasons: [] };
  const outcome = compareWithRange(measured, range);
  const numbers = `${sayMeasured(measured)} ${unit}, ${sayLimits(range)}`;
  const assumptions = asked === undefined ? [recalledRange(fluid, name)] : [];
  if (outcome === "outside") {
    const message = `the ${name} speaks against ${fluid}: ${numbers}; it may be another fluid or a mixture`;
    return { reasons: [reason(`fluid-contradicts-${stem}`, message)], assumptions };
  }
  if (outcome === "not-known" && asked !== undefined) {
    const message = `the ${name} does not tell whether it is ${fluid}: ${numbers}`;
    return { reasons: [reason("identity-not-known", message)], assumptions };
  }
  return { reasons: [], assumptions };
}

function recalledRange(fluid: Circuit["fluid"], name: string): Assumption {
  return {
    code: "identity-from-memory",
    message: `the ${name} was held against a recalled value of ${fluid} with a wide tolerance; give the range of your fluid in the requirement`,
    source: "FLUID-DATA",
  };
}

function checkColour({ identity }: Requirement, { sample, colour }: Sample): Reason[] {
  if (identity?.colours === undefined) return [];
  const expected = identity.colours.join(" or ");
  if (colour === undefined) {
    return [
      reason("colour-not-reported", `the colour of sample ${sample} was not reported; expected ${expected}`),
    ];
  }
  const words = colour.toLowerCase().split(/[^\p{L}]+/u);
  if (identity.colours.some((name) => words.includes(name))) return [];
  return [
    reason(
      "fluid-contradicts-colour",
      `sample ${sample} is reported as "${colour}"; the fluid is ${expected}`,
    ),
  ];
}

/** Whether two circuits hold fluids of different bases, which must never meet. */
export function mustNeverMeet(a: Circuit, b: Circuit): boolean {
  return (FLUID_BASES[a.fluid] === "phosphate ester") !== (FLUID_BASES[b.fluid] === "phosphate ester");
}
