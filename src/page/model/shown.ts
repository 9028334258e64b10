import {
  briefOf,
  isHeld,
  nextSampleBy,
  standsAs,
  type VerdictName,
  type VerdictOnCircuit,
} from "../../fitness/index.js";
import { describeFreshness, type Freshness } from "./freshness.js";

/** What the page shows as the largest thing: a verdict, or why there is none. Only "fit" lets a circuit be connected. */
export type Sign = VerdictName | "held" | "too-old" | "clock-wrong";

/** The words of each sign. */
export const SIGN_WORDS: Readonly<Record<Sign, string>> = {
  fit: "Fit to connect",
  circulate: "Circulate first",
  "exchange-fluid": "Exchange the fluid",
  resample: "Take a new sample",
  "do-not-connect": "Do not connect",
  held: "Held by a person",
  "too-old": "Data too old",
  "clock-wrong": "Wrong day",
};

/** What the page says of a circuit. */
export interface Shown {
  readonly sign: Sign;
  /** What to do. */
  readonly action: string;
  /** Why, what decides first. */
  readonly why: readonly string[];
  /** The day for the next sample, of a circuit that is fit. */
  readonly nextSampleBy?: string;
}

/** The word and the day of the next sample are shown larger; this is what remains to be said of a circuit that is fit. */
const ONLY_IF = "connect only if the manual and the people in charge say so";

/**
 * What the page says of a circuit: what the command line says, and "fit" only while the data are fresh enough.
 *
 * @param judged - the verdict for the day that the device shows
 */
export function shownOf(judged: VerdictOnCircuit, freshness: Freshness, dataOn: string): Shown {
  const brief = briefOf(judged);
  if (isHeld(judged)) return { sign: "held", ...brief };
  const sign = standsAs(judged);
  if (sign !== "fit") return { sign, ...brief };
  if (freshness.kind !== "current") {
    return {
      sign: freshness.kind,
      action: "do not connect: ask for a new page",
      why: [describeFreshness(freshness, dataOn, judged.verdict.on)],
    };
  }
  const due = nextSampleBy(judged);
  return { sign, action: ONLY_IF, why: brief.why, ...(due !== undefined && { nextSampleBy: due }) };
}

/**
 * What the page says of a circuit with a bottle or a cart that was typed on it: never simply "fit", because the book does
 * not hold it.
 */
export function shownOfTyped(judged: VerdictOnCircuit, freshness: Freshness, dataOn: string): Shown {
  const shown = shownOf(judged, freshness, dataOn);
  return shown.sign === "fit"
    ? {
        sign: "fit",
        action: "fit by what was typed here; have it entered in the book, and go by the book",
        why: shown.why,
      }
    : shown;
}
