import {
  AIMED_BELOW,
  type DryingNeed,
  EXCHANGE_STEPS,
  type ExchangeNeed,
  type ExchangePlan,
  exchangeAim,
  isWithinReach,
  needsFluid,
  planDrying,
  planExchange,
  WHOLE_CIRCUIT,
} from "../../../circulation/index.js";
import { type Assumption, CART_CAUTIONS, joinAssumptions } from "../../../provenance/index.js";
import {
  formatOnGauge,
  formatQuantity,
  type QuantityKind,
  type ShownIn,
  shownAsTyped,
  shownInSystem,
} from "../../../units/index.js";
import { answerOf } from "../../answer.js";
import { readFraction, readQuantityOption } from "../../arguments.js";
import { type ExitCode, type Io, printJson, UsageError } from "../../io.js";
import { describeAssumptions, describeCautions, describeMore, drawLines, formatNumber } from "../../text.js";
import { readUnits } from "../../units-option.js";

/** Options of `siltbook exchange`. */
export interface ExchangeOptions {
  readonly volume: string;
  readonly water?: string;
  readonly waterLimit?: string;
  readonly freshWater?: string;
  readonly acid?: string;
  readonly acidLimit?: string;
  readonly freshAcid?: string;
  readonly drain?: string;
  readonly dry?: string;
  readonly driest?: string;
  readonly units?: string;
  /** All there is to say, not only the answer. */
  readonly explain?: boolean;
  readonly json?: boolean;
}

/** What one dissolved contaminant needs. */
interface Contaminant {
  readonly name: "water" | "acid";
  readonly unit: string;
  readonly present: number;
  readonly limit: number;
  /** What the exchange is to reach. */
  readonly aim: number;
  readonly fresh: number;
  readonly plan: ExchangePlan;
  readonly drying?: DryingNeed;
}

/** Prints the fresh fluid, or the drying, that water and acid need; filters remove neither. */
export function runExchange(options: ExchangeOptions, io: Io): ExitCode {
  const assumptions: Assumption[] = [];
  const quantity = (option: string, text: string, kind: QuantityKind): number => {
    const read = readQuantityOption(option, text, kind);
    if (read.value < 0) throw new UsageError(`${option}: expected 0 or more, found "${text}"`);
    assumptions.push(...read.assumptions);
    return read.value;
  };
  const volumeL = quantity("--volume", options.volume, "volume");
  const drainFraction = readDrain(options.drain, volumeL, assumptions);
  const contaminants = (
    [
      ["water", options.water, options.waterLimit, options.freshWater, "waterContent", "ppm by mass"],
      ["acid", options.acid, options.acidLimit, options.freshAcid, "acidNumber", "mg KOH/g"],
    ] as const
  ).flatMap(([name, present, limit, fresh, kind, unit]): Contaminant[] => {
    if (present === undefined) {
      if (limit !== undefined || fresh !== undefined)
        throw new UsageError(`--${name}: the present value is needed`);
      return [];
    }
    if (limit === undefined || fresh === undefined) {
      throw new UsageError(`--${name}: it needs --${name}-limit and --fresh-${name}`);
    }
    const values = {
      present: quantity(`--${name}`, present, kind),
      limit: quantity(`--${name}-limit`, limit, kind),
      fresh: quantity(`--fresh-${name}`, fresh, kind),
    };
    const aim = values.present > values.limit ? exchangeAim(values) : values.limit;
    const plan = planExchange({
      ...values,
      volumeL,
      limit: aim,
      ...(drainFraction !== undefined && { drainFraction }),
    });
    assumptions.push(...(aim < values.limit ? [AIMED_BELOW] : []), ...plan.assumptions);
    const drying =
      name === "water" && options.dry !== undefined ? readDrying(options, values, quantity) : undefined;
    return [{ name, unit, ...values, aim, plan, ...(drying && { drying }) }];
  });
  if (contaminants.length === 0) throw new UsageError("--water or --acid: at least one is needed");
  if (options.dry !== undefined && options.water === undefined) {
    throw new UsageError("--dry: a dehydrator takes out water only; --water is needed");
  }
  const all = joinAssumptions(assumptions);
  const units = readUnits(options.units);
  const typed = shownAsTyped([[options.volume, "volume"]]);
  const shownIn = units === undefined ? typed : shownInSystem(units);
  const volume = { volumeL, drainFraction: drainFraction ?? WHOLE_CIRCUIT };
  if (options.json)
    printJson(
      io,
      answerOf("exchange", {
        ...volume,
        contaminants: contaminants.map(asJson),
        assumptions: all,
        cautions: CART_CAUTIONS,
      }),
    );
  else
    io.out(
      describeExchange(volume, contaminants, shownIn) +
        (options.explain
          ? describeSteps(contaminants) + describeAssumptions(all) + describeCautions(CART_CAUTIONS)
          : describeMore("the steps, assumptions, all cautions", all)),
    );
  return contaminants.every(({ plan, drying }) => isWithinReach(plan, drying)) ? 0 : 1;
}

/** One drain as a fraction of the circuit; a volume is turned into one. Undefined where the option is absent. */
function readDrain(text: string | undefined, volumeL: number, assumptions: Assumption[]): number | undefined {
  if (text === undefined) return undefined;
  if (/%\s*$/.test(text) || /^[\d.]+$/.test(text.trim())) return readFraction("--drain", text);
  const drained = readQuantityOption("--drain", text, "volume");
  assumptions.push(...drained.assumptions);
  if (!(drained.value <= volumeL)) {
    throw new UsageError(`--drain: expected at most the volume of the circuit, found "${text}"`);
  }
  return drained.value / volumeL;
}

function readDrying(
  options: ExchangeOptions,
  values: { readonly present: number; readonly limit: number },
  quantity: (option: string, text: string, kind: QuantityKind) => number,
): DryingNeed {
  const match = /^(.+?)\s*(?:per hour|\/ ?h)$/i.exec((options.dry as string).trim());
  if (match === null)
    throw new UsageError(`--dry: expected a rate such as "30 % per hour", found "${options.dry}"`);
  const driest =
    options.driest === undefined ? undefined : quantity("--driest", options.driest, "waterContent");
  return planDrying({
    present: values.present,
    limit: values.present > values.limit ? exchangeAim({ ...values, fresh: driest ?? 0 }) : values.limit,
    ratePerHour: readFraction("--dry", match[1] as string),
    ...(driest !== undefined && { driest }),
  });
}

function asJson({ name, unit, present, limit, aim, fresh, plan, drying }: Contaminant) {
  return {
    name,
    unit,
    present,
    limit,
    aim,
    fresh,
    once: plan.once,
    repeated: plan.repeated,
    feedAndBleed: plan.feedAndBleed,
    drying: drying ?? null,
  };
}

function describeExchange(
  { volumeL, drainFraction }: { readonly volumeL: number; readonly drainFraction: number },
  contaminants: readonly Contaminant[],
  shownIn: ShownIn,
): string {
  const rows = contaminants.flatMap(({ name, unit, present, limit, aim, fresh, plan, drying }) => {
    if (present <= limit) {
      const inside = `${name}: ${formatNumber(present)} ${unit} is within its limit of ${formatNumber(limit)}; nothing has to be exchanged for it.`;
      return [`${inside.charAt(0).toUpperCase()}${inside.slice(1)}`];
    }
    const below = aim < limit ? `, limit ${formatNumber(limit)}` : "";
    const what = `${name}: ${formatNumber(present)} to ${formatNumber(aim)} ${unit}${below}, fresh fluid ${formatNumber(fresh)}`;
    const ways: [string, string][] = [
      ["one drain and fill", describeNeed(plan.once, shownIn)],
      [`drains of ${formatNumber(100 * drainFraction)} %`, describeNeed(plan.repeated, shownIn)],
      ["feed and bleed", describeNeed(plan.feedAndBleed, shownIn)],
      ...(drying === undefined
        ? []
        : [
            [
              "dehydrator",
              drying.kind === "hours" ? `${Math.ceil(10 * drying.hours) / 10} hours` : drying.why,
            ] as [string, string],
          ]),
    ];
    return [
      `${what.charAt(0).toUpperCase()}${what.slice(1)}:`,
      ...ways.map(([way, need]) => `- ${way}: ${need}`),
    ];
  });
  return drawLines([
    ...rows,
    `Circuit of ${formatQuantity("volume", volumeL, shownIn)}. Filters take out neither water nor acid; circulating alone does not help.`,
  ]);
}

function describeSteps(contaminants: readonly Contaminant[]): string {
  if (!contaminants.some(({ plan }) => needsFluid(plan))) return "";
  const steps = EXCHANGE_STEPS.map((step, index) => `  ${index + 1}. ${step}\n`);
  return `\nSteps (common practice; the cart's instructions and the aircraft manual come first):\n${steps.join("")}`;
}

function describeNeed(need: ExchangeNeed, shownIn: ShownIn): string {
  if (need.kind === "out-of-reach") return need.why;
  const times = need.times === undefined ? "" : need.times === 1 ? "once, " : `${need.times} times, `;
  return `${times}${formatOnGauge("volume", need.litres, "up", shownIn)}, leaves ${formatNumber(need.leaves)}`;
}
