import { temperatureAt, type ViscosityLine, viscosityAt } from "../../fluids/index.js";
import { checkNumbers } from "../../numeric/index.js";
import { type Assumption, joinAssumptions } from "../../provenance/index.js";
import type { Hose } from "../../samples/index.js";
import { formatOnGauge, type ShownIn } from "../../units/index.js";

/** Above this a flow flushes: turbulence carries settled dirt along. */
export const FLUSHING_RE = 4000;

/** Below this a flow only washes what it meets. */
export const WASHING_RE = 3000;

/** Below this the flow in a pipe is laminar. */
export const LAMINAR_RE = 2300;

/** How the fluid flows where it flows most quietly. */
export interface FlowRegime {
  /** Reynolds number in the widest hose, at the coldest fluid. */
  readonly reynolds: number;
  readonly boreMm: number;
  readonly temperatureC: number;
  readonly mm2PerS: number;
  readonly kind: "flushes" | "may-flush" | "washes" | "laminar";
  /** What would make the flow flush; absent where it does. */
  readonly toFlush?: {
    /** L/min at this temperature. */
    readonly flowLpm: number;
    /** °C at this flow; absent where no temperature is enough. */
    readonly temperatureC?: number;
  };
  readonly assumptions: readonly Assumption[];
}

/** What the flow is judged by. */
export interface FlowRegimeInput {
  readonly flowLpm: number;
  readonly hoses: readonly Pick<Hose, "boreMm">[];
  readonly viscosity: ViscosityLine;
  /** Temperature of the coldest fluid in the loop, in °C. */
  readonly coldestC: number;
}

/**
 * Reynolds number of the flow in a round bore, v·d/ν = 4·Q/(π·d·ν).
 *
 * @param flowLpm - L/min
 * @param boreMm - mm
 * @param mm2PerS - kinematic viscosity in mm²/s
 * @source REYNOLDS
 * @example
 * reynoldsNumber(45, 25, 14); // => 2728
 */
export function reynoldsNumber(flowLpm: number, boreMm: number, mm2PerS: number): number {
  checkNumbers("positive", { flowLpm, boreMm, mm2PerS });
  return (4 * flowLpm * MM3_PER_S_PER_LPM) / (Math.PI * boreMm * mm2PerS);
}

/** A L/min in mm³/s. */
const MM3_PER_S_PER_LPM = 1e6 / 60;

/** No fluid is circulated hotter than this, in °C; a temperature beyond it is no remedy. */
const MAX_C = 135;

/** The line of a fluid ends at 0.3 mm²/s. */
const THINNEST_MM2_PER_S = 0.3;

/**
 * Whether a circulation flushes its hoses: how the coldest fluid flows in the widest of them, and what would change it.
 *
 * @throws RangeError for a flow or bore that is not above 0
 * @source ISO-23309
 * @source ISO-28521
 */
export function flowRegime({ flowLpm, hoses, viscosity, coldestC }: FlowRegimeInput): FlowRegime {
  for (const hose of hoses) checkNumbers("positive", { boreMm: hose.boreMm });
  const boreMm = Math.max(...hoses.map((hose) => hose.boreMm));
  checkNumbers("positive", { flowLpm, boreMm });
  const now = viscosityAt(viscosity, coldestC);
  const reynolds = reynoldsNumber(flowLpm, boreMm, now.value);
  const found = { reynolds, boreMm, temperatureC: coldestC, mm2PerS: now.value };
  if (reynolds > FLUSHING_RE) return { ...found, kind: "flushes", assumptions: now.assumptions };
  const thinEnough = (now.value * reynolds) / FLUSHING_RE;
  const warm = thinEnough >= THINNEST_MM2_PER_S ? temperatureAt(viscosity, thinEnough) : undefined;
  const isWarm = warm !== undefined && warm.value <= MAX_C;
  return {
    ...found,
    kind: reynolds < LAMINAR_RE ? "laminar" : reynolds < WASHING_RE ? "washes" : "may-flush",
    toFlush: {
      flowLpm: (flowLpm * FLUSHING_RE) / reynolds,
      ...(isWarm && { temperatureC: warm.value }),
    },
    assumptions: joinAssumptions(now.assumptions, isWarm ? warm.assumptions : []),
  };
}

/** Says how the fluid flows and what would change it, such as a warning that the flow is laminar. */
export function describeFlowRegime(
  { reynolds, boreMm, temperatureC, kind, toFlush }: FlowRegime,
  shownIn?: ShownIn,
): string {
  const where = `in the hose of ${boreMm} mm at ${formatOnGauge("temperature", temperatureC, "near", shownIn)} (Reynolds number ${Number(reynolds.toPrecision(2))})`;
  if (toFlush === undefined) return `the flow flushes: it is turbulent ${where}`;
  const warmer =
    toFlush.temperatureC === undefined
      ? ""
      : ` or fluid of ${formatOnGauge("temperature", toFlush.temperatureC, "up", shownIn)}`;
  const then = `more than ${formatOnGauge("flow", toFlush.flowLpm, "up", shownIn)}${warmer} would flush (above ${FLUSHING_RE})`;
  const words = {
    laminar: `the flow is laminar ${where}: dirt that has settled stays and comes loose later; ${then}`,
    washes: `the flow only washes ${where}, below ${WASHING_RE}; ${then}`,
    "may-flush": `the flow may not flush ${where}; ${then}`,
  };
  return kind === "flushes" ? "" : words[kind];
}
