import type { AircraftFluid } from "../../src/fluids/index.js";

/** First day of the invented history. */
export const FIRST_DAY = "2024-12-02";
/** Last day a sample can be drawn on; the demo is judged on this day. */
export const LAST_DAY = "2026-11-20";

/** Something that a carts file records. */
export interface CircuitEvent {
  readonly on: string;
  readonly kind: "fluid-change" | "top-up" | "element-change";
  readonly note: string;
  /** Share of the circuit's fluid that was replaced by new fluid, 0 to 1; for a top-up. */
  readonly share?: number;
}

/** A hookup to an aircraft, as the log of the circuit has it. It changes no sample of the demo. */
export interface Hookup {
  readonly on: string;
  readonly at?: string;
  readonly aircraft: string;
  readonly minutes?: number;
}

/** Something that happened and that no file records; only the samples show it. */
export interface Incident {
  readonly on: string;
  /** Particles become this many times as many at once, and are then filtered out again. */
  readonly particlesTimes?: number;
  /** From this day on the fluid settles at this many times as many particles. */
  readonly settledTimes?: number;
  readonly waterPpm?: number;
}

/** One circuit with its technical data and its story. */
export interface CircuitStory {
  readonly circuit: string;
  readonly serves: string;
  readonly fluid: AircraftFluid;
  /** The fluid as written on the sample labels. */
  readonly label: string;
  /** On the label of the last sample, where that one differs. */
  readonly lastLabel?: string;
  readonly volume: string;
  readonly flow: string;
  readonly element: {
    readonly position: string;
    readonly betas: readonly { readonly sizeUmC: number; readonly beta: number }[];
  };
  readonly ingress?: readonly { readonly sizeUmC: number; readonly particlesPerMin: number }[];
  readonly events: readonly CircuitEvent[];
  /** Logged for the circuits that a trace is shown of. */
  readonly hookups?: readonly Hookup[];
  /** The most flow to an aircraft. */
  readonly deliveryFlow?: string;
  readonly incidents: readonly Incident[];
  /** Particles at the start, as a multiple of the usual spectrum; see `simulate.ts`. */
  readonly particles: number;
  /** Growth of the level the fluid settles at while the element ages, per year. */
  readonly particlesPerYear: number;
  readonly waterPpm: number;
  readonly waterPpmPerYear: number;
  readonly acidMgKohPerG: number;
  readonly acidMgKohPerGPerYear: number;
  /** No sample after this day. */
  readonly lastSampleBy: string;
}

/** A cart with its circuits. */
export interface CartStory {
  readonly cart: string;
  readonly note: string;
  readonly circuits: readonly CircuitStory[];
}

/** A fine element; the betas of all three are invented. */
export const FINE = {
  position: "pressure filter",
  betas: [
    { sizeUmC: 4, beta: 40 },
    { sizeUmC: 6, beta: 200 },
    { sizeUmC: 14, beta: 1000 },
  ],
};
/** A middling element. */
export const MIDDLE = {
  position: "pressure filter",
  betas: [
    { sizeUmC: 4, beta: 4 },
    { sizeUmC: 6, beta: 10 },
    { sizeUmC: 14, beta: 1000 },
  ],
};
/** A coarse element, as in a return line. */
export const COARSE = {
  position: "return filter",
  betas: [
    { sizeUmC: 4, beta: 1.6 },
    { sizeUmC: 6, beta: 2.5 },
    { sizeUmC: 14, beta: 75 },
    { sizeUmC: 21, beta: 1000 },
  ],
};

/** A circuit that nothing in particular happens to; stories say what is different. */
export function circuit(
  story: Pick<
    CircuitStory,
    "circuit" | "serves" | "fluid" | "label" | "volume" | "flow" | "waterPpm" | "waterPpmPerYear"
  > &
    Partial<CircuitStory>,
): CircuitStory {
  return {
    element: FINE,
    events: [],
    incidents: [],
    particles: 1,
    particlesPerYear: 0.15,
    acidMgKohPerG: 0.05,
    acidMgKohPerGPerYear: 0.03,
    lastSampleBy: LAST_DAY,
    ...story,
  };
}
