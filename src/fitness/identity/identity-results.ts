import {
  fluidsOfDensity,
  fluidsOfViscosity,
  possibleDensity,
  possibleViscosity,
  usualDensities,
  usualViscosity,
} from "../../fluids/index.js";
import type { Assumption, SourceKey } from "../../provenance/index.js";
import {
  type Circuit,
  compareWithRange,
  formatMeasured,
  type LimitRange,
  type Measured,
  type Requirement,
  type Sample,
} from "../../samples/index.js";
import { inFourDigits } from "../../units/index.js";
import type { Finding } from "../assessed.js";
import { formatLimits } from "../checks/limits.js";
import { type Evidence, orMissingIn } from "../evidence/evidence.js";
import { reason } from "../reasons.js";

/** A result that tells one fluid from another. */
interface Telling {
  readonly stem: "viscosity" | "density" | "chlorine";
  readonly name: string;
  readonly unit: string;
  readonly measured: Measured | undefined;
  /** The range that the requirement gives. */
  readonly required: LimitRange | undefined;
  readonly recalled?: Recalled;
}

/** What is recalled of a fluid, where the requirement gives no range. */
interface Recalled {
  /** In one of these the result says nothing against the fluid. */
  readonly usual: readonly LimitRange[];
  /** What the document allows in service, which says as much for a value that is possible. */
  readonly inService?: LimitRange | undefined;
  /** Beyond this it is surely another fluid or a mixture; between, it is in doubt. */
  readonly possible: LimitRange;
  readonly mayBe: (value: number) => readonly string[];
  /** The field of the requirement that takes the range of the fluid at hand. */
  readonly field: string;
  readonly source: SourceKey;
}

/** Results that tell one fluid from another: by the requirement's ranges, or by recalled ones that say so. */
export function checkResults({ fluid }: Circuit, requirement: Requirement, evidence: Evidence): Finding[] {
  const [newest] = evidence.newest;
  if (newest === undefined) return [];
  return (["viscosity", "density", "chlorine"] as const).flatMap((stem) =>
    orMissingIn(newest, evidence.of(RESULT_OF[stem])).map((sample) =>
      tell(fluid, TELLING[stem](fluid, requirement, sample)),
    ),
  );
}

const RESULT_OF = {
  viscosity: "viscosity at 40 °C",
  density: "density at 15 °C",
  chlorine: "chlorine",
} as const;

const TELLING: Record<
  Telling["stem"],
  (fluid: Circuit["fluid"], requirement: Requirement, sample: Sample) => Telling
> = {
  viscosity: (fluid, requirement, sample) => ({
    stem: "viscosity",
    name: "viscosity at 40 °C",
    unit: "mm²/s",
    measured: sample.viscosity40Mm2PerS,
    required: requirement.identity?.viscosity40Mm2PerS,
    recalled: {
      usual: [usualViscosity(fluid)],
      inService: limitsInService(requirement),
      possible: possibleViscosity(fluid),
      mayBe: (value) => fluidsOfViscosity(value, fluid),
      field: "identity.viscosity40Mm2PerS",
      source: "FLUID-DATA",
    },
  }),
  density: (fluid, { identity }, sample) => ({
    stem: "density",
    name: "density at 15 °C",
    unit: "kg/m³",
    measured: sample.density15KgPerM3,
    required: identity?.density15KgPerM3,
    recalled: {
      usual: usualDensities(fluid, sample.fluid),
      possible: possibleDensity(fluid),
      mayBe: (value) => fluidsOfDensity(value, fluid),
      field: "identity.density15KgPerM3",
      source: "FLUID-DENSITY-RANGES",
    },
  }),
  chlorine: (_fluid, { identity: { chlorinePpmMax } = {} }, sample) => ({
    stem: "chlorine",
    name: "chlorine",
    unit: "ppm by mass",
    measured: sample.chlorinePpm,
    required: chlorinePpmMax === undefined ? undefined : { max: chlorinePpmMax },
  }),
};

/** A document that limits viscosity both ways says what the fluid may be in service; a single limit says less. */
function limitsInService({ viscosity40Mm2PerS: limits }: Requirement): LimitRange | undefined {
  return limits?.min === undefined || limits.max === undefined ? undefined : limits;
}

function tell(fluid: Circuit["fluid"], telling: Telling): Finding {
  const { stem, name, measured, required, recalled } = telling;
  if (measured === undefined) {
    if (required === undefined) return { reasons: [] };
    const message = `the ${name} was not measured, and tells whether it is ${fluid}`;
    return { reasons: [reason(`${stem}-not-measured`, message)] };
  }
  if (required !== undefined) return compareWithRequired(fluid, telling, measured, required);
  return recalled === undefined ? { reasons: [] } : holdAgainstRecalled(fluid, telling, measured, recalled);
}

function compareWithRequired(
  fluid: Circuit["fluid"],
  telling: Telling,
  measured: Measured,
  required: LimitRange,
): Finding {
  const { stem, name, unit, recalled } = telling;
  const outcome = compareWithRange(measured, required);
  const numbers = `${formatMeasured(measured)} ${unit}, ${formatLimits(required)}`;
  if (outcome === "outside") {
    const message = `the ${name} speaks against ${fluid}: ${numbers}; it may be another fluid or a mixture`;
    return { reasons: [reason(`fluid-contradicts-${stem}`, message)] };
  }
  if (outcome === "not-known") {
    const message = `the ${name} does not tell whether it is ${fluid}: ${numbers}`;
    return { reasons: [reason("identity-not-known", message)] };
  }
  // A range that has nothing in common with the recalled one is of a fluid that siltbook recalls wrongly.
  const isWide = recalled !== undefined && overlap(required, recalled.possible);
  if (!isWide || compareWithRange(measured, recalled.possible) !== "outside") return { reasons: [] };
  const message =
    `the ${name} is within the range of the requirement, which is too wide to tell ${fluid} from another fluid: ` +
    `${numbers}, recalled ${formatRanges(recalled.usual)}${describeMayBe(recalled, measured)}`;
  return { reasons: [reason("identity-in-doubt", message)] };
}

function overlap(a: LimitRange, b: LimitRange): boolean {
  const [from, to] = [Math.max(a.min ?? 0, b.min ?? 0), Math.min(a.max ?? Infinity, b.max ?? Infinity)];
  return from <= to;
}

function holdAgainstRecalled(
  fluid: Circuit["fluid"],
  { stem, name, unit }: Telling,
  measured: Measured,
  recalled: Recalled,
): Finding {
  const { usual, inService, possible, field, source } = recalled;
  const assumptions: Assumption[] = [
    {
      code: "identity-from-memory",
      message: `the ${name} was compared with a recalled range of ${fluid}; give the range of your fluid in the requirement`,
      source,
    },
  ];
  const numbers = `${formatMeasured(measured)} ${unit}, recalled ${formatRanges(usual)}`;
  const isUsual = [...usual, ...(inService === undefined ? [] : [inService])].some(
    (range) => compareWithRange(measured, range) !== "outside",
  );
  const isPossible = compareWithRange(measured, possible) !== "outside";
  if (isUsual && isPossible) return { reasons: [], assumptions };
  if (!isUsual && !isPossible) {
    const message = `the ${name} speaks against ${fluid}: ${numbers}${describeMayBe(recalled, measured)}`;
    return { reasons: [reason(`fluid-contradicts-${stem}`, message)], assumptions };
  }
  const message =
    `the ${name} is not what ${fluid} usually has: ${numbers}${describeMayBe(recalled, measured)}; where the fluid's own ` +
    `certificate bears it out, give its range in ${field}`;
  return { reasons: [reason("identity-in-doubt", message)], assumptions };
}

function formatRanges(ranges: readonly LimitRange[]): string {
  return ranges
    .map(({ min, max }) => `${inFourDigits(min as number)} to ${inFourDigits(max as number)}`)
    .join(" or ");
}

function describeMayBe({ mayBe }: Recalled, { value }: Measured): string {
  const fluids = mayBe(value);
  return `; it may be ${fluids.length === 0 ? "another fluid or a mixture" : fluids.join(", or ")}`;
}
