import {
  formatTarget,
  limitsOfTarget,
  NAVY_ACCEPTABLE,
  type ParticleLimit,
  parseTarget,
} from "../../cleanliness/index.js";
import {
  CONDITION_LIMITS,
  type ConditionLimit,
  conditionLimitsOf,
  FLUID_BASES,
  FLUID_DATA,
  type FluidSpecification,
  viscosityAt,
  viscosityLine,
} from "../../fluids/index.js";
import { type Assumption, SOURCES, type SourceKey } from "../../provenance/index.js";
import { type Circuit, type LimitRange, maximumOf, type Requirement } from "../../samples/index.js";
import { inFourDigits } from "../../units/index.js";
import type { Finding } from "../assessed.js";

/**
 * Says where a requirement asks for less than every limit known for the fluid.
 *
 * The document decides, so this changes no verdict: a slip in typing it would otherwise call any fluid fit in silence.
 */
export function remarkOn({ fluid }: Circuit, requirement: Requirement): Finding {
  return {
    reasons: [],
    assumptions: [
      ...measuresOf(requirement).flatMap((measure) => mildMeasure(fluid, measure)),
      ...mildViscosity(fluid, requirement.viscosity40Mm2PerS),
      ...mildCleanliness(requirement),
      ...bothBases(requirement),
      ...notLimited(fluid, requirement),
    ],
  };
}

/** The largest value that a field of the requirement allows. */
interface Asked {
  readonly field: string;
  readonly measure: ConditionLimit["measure"];
  readonly max: number | undefined;
}

function measuresOf({ waterPpmMax, acidMgKohPerGMax, ...more }: Requirement): Asked[] {
  const { chlorinePpmMax, metalsPpmMax = {}, identity } = more;
  const metals = (["calcium", "potassium", "sodium"] as const).map((metal) => ({
    field: `metalsPpmMax.${metal}`,
    measure: metal,
    max: metalsPpmMax[metal],
  }));
  return [
    { field: "waterPpmMax", measure: "water", max: maximumOf(waterPpmMax) },
    { field: "acidMgKohPerGMax", measure: "acid", max: maximumOf(acidMgKohPerGMax) },
    { field: "chlorinePpmMax", measure: "chlorine", max: chlorinePpmMax },
    { field: "identity.chlorinePpmMax", measure: "chlorine", max: identity?.chlorinePpmMax },
    ...metals,
  ];
}

function mildMeasure(fluid: FluidSpecification, { field, measure, max }: Asked): Assumption[] {
  const mildest = max === undefined ? undefined : mildestOf(fluid, measure);
  if (max === undefined || mildest === undefined || max <= mildest.maximum) return [];
  const { maximum, unit, of, source } = mildest;
  return [
    milder(`${field} allows ${inFourDigits(max)} ${unit}`, `${inFourDigits(maximum)} (${of})`, fluid, source),
  ];
}

interface Mildest {
  readonly maximum: number;
  readonly unit: string;
  /** What it is the limit of. */
  readonly of: string;
  readonly source: SourceKey;
}

/**
 * The mildest limit known for a fluid in service; else of a fluid of the same kind, or for acid of a
 * hydrocarbon what practice allows above the limit of new fluid.
 */
function mildestOf(fluid: FluidSpecification, measure: ConditionLimit["measure"]): Mildest | undefined {
  const known = CONDITION_LIMITS.filter((limit) => limit.measure === measure && limit.state === "in-service");
  const own = known.filter(({ fluids }) => fluids.includes(fluid));
  const kin = known.filter(({ fluids }) => fluids.every((other) => isEster(other) === isEster(fluid)));
  const limits = (own.length > 0 ? own : kin).flatMap(({ fluids, maximum, unit, where, source }) =>
    maximum === undefined ? [] : [{ maximum, unit, of: `${fluids.join(", ")}, ${where}`, source }],
  );
  const mildest = limits.sort((a, b) => b.maximum - a.maximum)[0];
  return mildest ?? (measure === "acid" ? acidOfNew(fluid) : undefined);
}

/** How far the acid number of a hydrocarbon may rise above the limit of new fluid: common practice, no source. */
const ACID_RISE = 0.2;

function acidOfNew(fluid: FluidSpecification): Mildest | undefined {
  const fresh = conditionLimitsOf(fluid).find(({ measure, state }) => measure === "acid" && state === "new");
  if (fresh?.maximum === undefined) return undefined;
  const maximum = Number((fresh.maximum + ACID_RISE).toPrecision(12));
  return { maximum, unit: fresh.unit, of: `${ACID_RISE} above new ${fluid}`, source: "PRACTICE" };
}

/** The in-service set limits phosphate ester at 38 °C; the recalled viscosity line carries its limits to 40 °C. */
function mildViscosity(fluid: FluidSpecification, limits: LimitRange | undefined): Assumption[] {
  const known = conditionLimitsOf(fluid).find(({ measure }) => measure === "viscosity38");
  if (limits === undefined || known === undefined) return [];
  const line = viscosityLine(...FLUID_DATA[fluid].viscosity);
  const at40 = (at38: number) => (at38 * viscosityAt(line, 40).value) / viscosityAt(line, 38).value;
  const [min, max] = [at40(known.minimum as number), at40(known.maximum as number)];
  const isMild =
    (limits.min ?? 0) < min - ROUNDING || (limits.max ?? Number.POSITIVE_INFINITY) > max + ROUNDING;
  if (!isMild) return [];
  const allows = `viscosity40Mm2PerS allows ${limits.min ?? "any"} to ${limits.max ?? "any"} mm²/s`;
  const of = `${min.toFixed(1)} to ${max.toFixed(1)} (${known.minimum} to ${known.maximum} at 38 °C, ${known.where})`;
  return [milder(allows, of, fluid, known.source)];
}

/** A document may give the limits of 38 °C as those of 40 °C; that is no slip. */
const ROUNDING = 1;

/**
 * The mildest cleanliness known in service, class 9, in each standard a target is written in; in ISO 4406 the code that
 * holds just its counts.
 *
 * @source CLEANLINESS-IN-SERVICE
 */
const MILDEST_TARGETS = {
  "ISO 4406": "19/18/15",
  "AS4059 cumulative": "AS4059 cumulative 9A-F",
  "AS4059 differential": "AS4059 differential 9",
  "NAS 1638": "NAS 1638 9",
  "NAVAIR 01-1A-17": `NAVAIR 01-1A-17 ${NAVY_ACCEPTABLE.aircraftSystem}`,
} as const;

/** Sizes in µm(c) that every known limit reaches down to. */
const MIN_LIMITED_UM = 6;

function mildCleanliness({ cleanliness }: Requirement): Assumption[] {
  if (cleanliness.length === 0) return [];
  // Of several targets, all have to be met, so one that is strict enough at a size is enough.
  const limits = cleanliness.flatMap((target) => {
    const mildest = mildestLimitsOf(target.standard);
    return limitsOfTarget(target).map((limit) => {
      const known = mildest.find(({ channel }) => channel === limit.channel);
      const isMild = known !== undefined && limit.limit / limit.volumeMl > known.limit / known.volumeMl;
      return { target, limit, known, isMild };
    });
  });
  const strict = limits.filter(({ isMild }) => !isMild);
  const found = limits.flatMap(({ target, limit, known, isMild }) => {
    const isCovered = strict.some((other) => other.limit.fromUm === limit.fromUm);
    if (!isMild || isCovered || known === undefined) return [];
    const allows = `cleanliness ${formatTarget(target)} allows ${inFourDigits(limit.limit / limit.volumeMl)} per mL in channel ${limit.channel}`;
    const of = `${inFourDigits(known.limit / known.volumeMl)} (${MILDEST_TARGETS[target.standard]})`;
    const source = target.standard === "NAVAIR 01-1A-17" ? "NAVEDTRA-14315" : "CLEANLINESS-IN-SERVICE";
    return [milder(allows, of, "any fluid", source)];
  });
  if (limits.some(({ limit }) => limit.fromUm <= MIN_LIMITED_UM)) return found.slice(0, 1);
  const smallest = Math.min(...limits.map(({ limit }) => limit.fromUm));
  const allows = `cleanliness limits no particles below ${smallest} µm(c)`;
  return [
    ...found.slice(0, 1),
    milder(allows, `from ${MIN_LIMITED_UM} µm(c) up`, "any fluid", "CLEANLINESS-IN-SERVICE"),
  ];
}

function mildestLimitsOf(standard: keyof typeof MILDEST_TARGETS): readonly ParticleLimit[] {
  const known = MILDEST_LIMITS.get(standard) ?? limitsOfTarget(parseTarget(MILDEST_TARGETS[standard]));
  MILDEST_LIMITS.set(standard, known);
  return known;
}

/** By standard, of those that were asked for. */
const MILDEST_LIMITS = new Map<string, readonly ParticleLimit[]>();

function milder(allows: string, known: string, fluid: string, source: SourceKey): Assumption {
  const standing = SOURCES[source].standing === "memory" ? ", from memory" : "";
  return {
    code: "limit-milder-than-published",
    message: `the requirement is milder than every limit known for ${fluid}: ${allows}; the mildest known in service is ${known}${standing}; compare it with the aircraft's manual`,
    source,
  };
}

/** What the document leaves out is said with every verdict: nothing has looked at it. */
function notLimited(fluid: FluidSpecification, requirement: Requirement): Assumption[] {
  const { system, waterPpmMax, acidMgKohPerGMax } = requirement;
  return (
    [
      ["water", "water", waterPpmMax],
      ["the acid number", "acid", acidMgKohPerGMax],
    ] as const
  ).flatMap(([name, measure, limit]) => {
    if (maximumOf(limit) !== undefined) return [];
    const known = mildestOf(fluid, measure);
    const published =
      known === undefined
        ? ""
        : `; the mildest limit known is ${inFourDigits(known.maximum)} ${known.unit} (${known.of})`;
    const message = `nobody limits ${name} in ${system}: the requirement leaves it out, and the verdict says nothing about it${published}`;
    return [{ code: "quantity-not-limited", message, ...(known && { source: known.source }) }];
  });
}

function bothBases({ system, fluids }: Requirement): Assumption[] {
  const [ester, other] = [fluids.find(isEster), fluids.find((fluid) => !isEster(fluid))];
  if (ester === undefined || other === undefined) return [];
  const message = `${system} takes both ${ester} and ${other}, which never mix and attack each other's seals; check the requirement`;
  return [{ code: "system-takes-both-bases", message, source: "PHOSPHATE-ESTER-MIXING" }];
}

function isEster(fluid: FluidSpecification): boolean {
  return FLUID_BASES[fluid] === "phosphate ester";
}
