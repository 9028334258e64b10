import type { AircraftFluid } from "../../src/fluids/index.js";
import { dayAfter, daysFrom } from "./days.js";
import type { Draws } from "./random.js";
import { type CircuitEvent, type CircuitStory, FIRST_DAY, LAST_DAY } from "./story.js";

/** Sizes the laboratories count, in µm(c). */
export const SIZES_UM = [4, 6, 14, 21, 38, 70] as const;

/** Particles larger than each size per 100 mL in an ordinary clean circuit; falls with size like those of real fluids. */
export const USUAL_PER_100_ML = [45_000, 11_000, 1100, 210, 26, 1.6] as const;

/** What a circuit holds on a day, before any laboratory's scatter. */
export interface State {
  /** Particles as a multiple of {@link USUAL_PER_100_ML}. */
  readonly particles: number;
  readonly waterPpm: number;
  readonly acidMgKohPerG: number;
}

/** A measured value, or the reporting limit it lies below. */
export interface Reported {
  readonly value: number;
  readonly below: boolean;
}

/** One sample as every laboratory file tells it. */
export interface DemoSample {
  readonly sample: string;
  readonly cart: string;
  readonly circuit: string;
  readonly drawnOn: string;
  readonly fluid: string;
  /** Whole particles per 100 mL, for each of {@link SIZES_UM}. */
  readonly per100Ml: readonly number[];
  readonly waterPpm: Reported;
  readonly acidMgKohPerG: Reported;
  readonly viscosity40Mm2PerS: number;
}

const DAYS_PER_YEAR = 365.25;
/** The fluid moves towards its settled particle level by this share of the difference each day. */
const SETTLING_PER_DAY = 0.05;

const ESTER = {
  newWaterPpm: 1200,
  newAcid: 0.06,
  waterReportingLimit: 0,
  acidReportingLimit: 0.05,
} as const;
const HYDROCARBON = {
  newWaterPpm: 45,
  newAcid: 0.04,
  waterReportingLimit: 50,
  acidReportingLimit: 0.05,
} as const;

function kindOf(story: CircuitStory) {
  return story.fluid.startsWith("AS1241") ? ESTER : HYDROCARBON;
}

/** Viscosity at 40 °C in mm²/s about which each fluid scatters; recalled nominal values, for a plausible column only. */
const VISCOSITY_40: Record<AircraftFluid, number> = {
  "AS1241 Type IV": 10.6,
  "AS1241 Type V": 10.2,
  "MIL-PRF-5606": 13.4,
  "MIL-PRF-83282": 14.2,
  "MIL-PRF-87257": 6.9,
};

/**
 * What a circuit holds on every day of the history.
 *
 * Water rises steadily, faster in the wet half of the year. Acid in phosphate ester feeds its own rise, so the line
 * bends upward. Particles settle towards a level that grows as the element ages and falls when it is changed.
 */
export function historyOf(story: CircuitStory): ReadonlyMap<string, State> {
  const fluid = kindOf(story);
  const history = new Map<string, State>();
  let { particles, waterPpm, acidMgKohPerG } = story;
  let settled = story.particles;
  let elementYears = 0;
  const mixIn = (share: number) => {
    waterPpm += share * (fluid.newWaterPpm - waterPpm);
    acidMgKohPerG += share * (fluid.newAcid - acidMgKohPerG);
  };
  const meet = (event: CircuitEvent) => {
    if (event.kind === "top-up") {
      mixIn(event.share ?? 0);
      particles *= 1.25;
    } else if (event.kind === "fluid-change") {
      // Some of the old fluid always stays in hoses and corners.
      mixIn(0.95);
      particles *= 0.8;
    } else {
      elementYears = 0;
      particles *= 0.8;
    }
  };
  for (const day of daysFrom(FIRST_DAY, LAST_DAY)) {
    const wet = 1 + 0.5 * Math.cos((2 * Math.PI * (Number(day.slice(5, 7)) - 1)) / 12);
    waterPpm += (story.waterPpmPerYear / DAYS_PER_YEAR) * wet;
    const feedback = fluid === ESTER ? 1 + acidMgKohPerG / 0.6 : 1;
    acidMgKohPerG += (story.acidMgKohPerGPerYear / DAYS_PER_YEAR) * feedback;
    elementYears += 1 / DAYS_PER_YEAR;
    particles += SETTLING_PER_DAY * (settled * (1 + story.particlesPerYear * elementYears) - particles);
    for (const event of story.events) if (event.on === day) meet(event);
    for (const incident of story.incidents) {
      if (incident.on !== day) continue;
      particles *= incident.particlesTimes ?? 1;
      settled *= incident.settledTimes ?? 1;
      waterPpm += incident.waterPpm ?? 0;
    }
    history.set(day, { particles, waterPpm, acidMgKohPerG });
  }
  return history;
}

/** Uneven, roughly monthly days, none of them the day of an event. */
export function samplingDays(story: CircuitStory, draws: Draws): string[] {
  const eventDays = [...story.events, ...story.incidents].map((event) => event.on);
  const days: string[] = [];
  let day = dayAfter(FIRST_DAY, draws.whole(0, 20));
  while (day <= story.lastSampleBy) {
    while (eventDays.includes(day)) day = dayAfter(day, 1);
    if (day <= story.lastSampleBy) days.push(day);
    day = dayAfter(day, draws.whole(23, 37));
  }
  return days;
}

/** Draws a bottle and counts and measures it, with the scatter of drawing and of the laboratory. */
export function measure(
  naming: Pick<DemoSample, "sample" | "cart" | "circuit" | "drawnOn" | "fluid">,
  story: CircuitStory,
  state: State,
  draws: Draws,
): DemoSample {
  const fluid = kindOf(story);
  const bottle = draws.lognormal(0.18);
  let above = Number.POSITIVE_INFINITY;
  const per100Ml = USUAL_PER_100_ML.map((usual) => {
    const expected = usual * state.particles * bottle * draws.lognormal(0.08);
    // Few particles scatter because they are few; many are rounded as a counter rounds them.
    const counted = expected < 40 ? draws.poisson(expected) : roundAsCounted(expected);
    above = Math.min(above, counted);
    return above;
  });
  const waterPpm = Math.round(state.waterPpm * draws.lognormal(0.05));
  const acid = Math.max(0, round(state.acidMgKohPerG + 0.012 * draws.normal(), 2));
  return {
    ...naming,
    per100Ml,
    waterPpm: atLeast(waterPpm, fluid.waterReportingLimit),
    acidMgKohPerG: atLeast(acid, fluid.acidReportingLimit),
    viscosity40Mm2PerS: round(VISCOSITY_40[story.fluid] * (1 + 0.008 * draws.normal()), 1),
  };
}

/** Whole particles per mL for large counts, tenths for middling ones, all per 100 mL. */
function roundAsCounted(per100Ml: number): number {
  const step = per100Ml >= 10_000 ? 100 : per100Ml >= 1000 ? 10 : 1;
  return Math.round(per100Ml / step) * step;
}

function atLeast(value: number, reportingLimit: number): Reported {
  return value < reportingLimit ? { value: reportingLimit, below: true } : { value, below: false };
}

function round(value: number, places: number): number {
  return Number(value.toFixed(places));
}
