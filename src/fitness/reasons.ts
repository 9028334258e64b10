import { frozen } from "../provenance/index.js";
import { type Actor, NOT_FOR_THE_CREW } from "./actors.js";

/** What to do with a circuit. */
export const VERDICTS = frozen(["fit", "circulate", "exchange-fluid", "resample", "do-not-connect"] as const);

/** See {@link VERDICTS}; the list runs from the mildest to the strictest, and the strictest reason decides. */
export type VerdictName = (typeof VERDICTS)[number];

/** What people read for each verdict; data carry its name. */
export const VERDICT_WORDS: Readonly<Record<VerdictName, string>> = {
  fit: "fit",
  circulate: "circulate",
  "exchange-fluid": "exchange the fluid",
  resample: "take a new sample",
  "do-not-connect": "do not connect",
};

/** Every reason a verdict can have, and the verdict it calls for. */
export const REASONS = frozen({
  "no-requirement": "do-not-connect",
  "cannot-be-judged": "do-not-connect",
  "fluid-not-allowed": "do-not-connect",
  "fluid-contradicts-label": "do-not-connect",
  "fluid-contradicts-viscosity": "do-not-connect",
  "fluid-contradicts-density": "do-not-connect",
  "fluid-contradicts-chlorine": "do-not-connect",
  "fluid-contradicts-colour": "do-not-connect",
  "two-layers-seen": "do-not-connect",
  "particles-out-of-reach": "do-not-connect",
  "indicator-persistent": "do-not-connect",
  "element-loaded": "do-not-connect",
  "laboratory-rejects": "do-not-connect",
  "level-alarm": "do-not-connect",
  "temperature-tripped": "do-not-connect",
  "seals-damaged": "do-not-connect",
  "cart-state-not-entered": "do-not-connect",
  "cart-state-too-old": "do-not-connect",
  "no-sample": "resample",
  "no-evidence": "resample",
  "sample-too-old": "resample",
  "sample-after-judging-date": "resample",
  "drawn-before-event": "resample",
  "topped-up-beyond-share": "resample",
  "top-up-not-entered": "resample",
  "trend-past-limit": "resample",
  "sample-overdue-by-trend": "resample",
  "result-in-quarantine": "resample",
  "fluid-label-not-recognised": "resample",
  "fluid-not-stated": "resample",
  "circuits-may-mix": "resample",
  "sample-point-not-stated": "resample",
  "sample-point-unsuited": "resample",
  "flow-not-stated": "resample",
  "drawn-without-flow": "resample",
  "blank-not-counted": "resample",
  "blank-too-high": "resample",
  "replicates-missing": "resample",
  "replicates-scatter": "resample",
  "counted-volume-not-stated": "resample",
  "counted-volume-too-small": "resample",
  "calibration-not-stated": "resample",
  "calibration-overdue": "resample",
  "counts-unlike-history": "resample",
  "appearance-not-reported": "resample",
  "words-not-understood": "resample",
  "laboratory-doubts": "resample",
  "stated-class-outside": "resample",
  "stated-class-unexplained": "resample",
  "cloudy-seen": "resample",
  "particles-seen": "resample",
  "smell-unusual": "resample",
  "patch-stained": "resample",
  "patch-not-measured": "resample",
  "patch-unsuited": "resample",
  "patch-not-known": "resample",
  "particles-not-measured": "resample",
  "particles-estimated": "resample",
  "particles-not-sure": "resample",
  "water-not-measured": "resample",
  "water-not-known": "resample",
  "water-not-sure": "resample",
  "saturation-not-known": "resample",
  "saturation-not-sure": "resample",
  "acid-not-measured": "resample",
  "acid-not-known": "resample",
  "acid-not-sure": "resample",
  "viscosity-not-measured": "resample",
  "viscosity-not-known": "resample",
  "viscosity-not-sure": "resample",
  "chlorine-not-measured": "resample",
  "chlorine-not-known": "resample",
  "chlorine-not-sure": "resample",
  "metals-not-measured": "resample",
  "metals-not-known": "resample",
  "metals-not-sure": "resample",
  "density-not-measured": "resample",
  "colour-not-reported": "resample",
  "identity-not-known": "resample",
  "identity-in-doubt": "resample",
  "colour-of-another-fluid": "resample",
  "colour-not-understood": "resample",
  "together-not-sure": "resample",
  "water-outside": "exchange-fluid",
  "saturation-outside": "exchange-fluid",
  "free-water-seen": "exchange-fluid",
  "acid-outside": "exchange-fluid",
  "viscosity-outside": "exchange-fluid",
  "chlorine-outside": "exchange-fluid",
  "metals-outside": "exchange-fluid",
  "particles-outside": "circulate",
  "patch-outside": "circulate",
  "particles-too-close": "circulate",
  "sizes-not-counted": "circulate",
  "laboratory-agrees": "circulate",
  "not-circulated-since": "circulate",
  "fluid-allowed": "fit",
  "cart-state-sound": "fit",
  "sample-recent": "fit",
  "particles-inside": "fit",
  "patch-inside": "fit",
  "water-inside": "fit",
  "saturation-inside": "fit",
  "acid-inside": "fit",
  "viscosity-inside": "fit",
  "chlorine-inside": "fit",
  "metals-inside": "fit",
} as const satisfies Record<string, VerdictName>);

/** Stable short name of a reason. */
export type ReasonCode = keyof typeof REASONS;

/** One reason, with the numbers that led to it. */
export interface Reason {
  readonly code: ReasonCode;
  /** The verdict that this reason alone calls for. */
  readonly callsFor: VerdictName;
  /** Who can do something about it; absent where nothing is to be done. */
  readonly actor?: Actor;
  readonly message: string;
}

const SETTLED_BY: Readonly<Record<Exclude<Actor, "crew">, readonly ReasonCode[]>> = NOT_FOR_THE_CREW;

function actorOf(code: ReasonCode): Actor {
  if (SETTLED_BY.laboratory.includes(code)) return "laboratory";
  return SETTLED_BY.engineer.includes(code) ? "engineer" : "crew";
}

/** Makes a reason. */
export function reason(code: ReasonCode, message: string): Reason {
  const callsFor = REASONS[code];
  return { code, callsFor, ...(callsFor !== "fit" && { actor: actorOf(code) }), message };
}

/**
 * Orders verdicts from mild to strict.
 *
 * @returns less than 0 when `a` is milder than `b`
 */
export function compareVerdicts(a: VerdictName, b: VerdictName): number {
  return VERDICTS.indexOf(a) - VERDICTS.indexOf(b);
}

/**
 * The verdict that a list of reasons leads to: the strictest that any of them calls for.
 *
 * @returns "do-not-connect" for an empty list, because nothing has shown that the circuit is fit
 */
export function decide(reasons: readonly Reason[]): VerdictName {
  return (
    reasons
      .map((entry) => entry.callsFor)
      .sort(compareVerdicts)
      .at(-1) ?? "do-not-connect"
  );
}
