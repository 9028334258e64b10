/** What to do with a circuit. */
export const VERDICTS = ["fit", "circulate", "exchange-fluid", "resample", "do-not-connect"] as const;

/** See {@link VERDICTS}; the list runs from the mildest to the strictest, and the strictest reason decides. */
export type VerdictName = (typeof VERDICTS)[number];

/** Every reason a verdict can have, and the verdict it calls for. */
export const REASONS = {
  "no-requirement": "do-not-connect",
  "fluid-not-allowed": "do-not-connect",
  "fluid-contradicts-label": "do-not-connect",
  "particles-out-of-reach": "do-not-connect",
  "no-sample": "resample",
  "sample-too-old": "resample",
  "sample-after-judging-date": "resample",
  "drawn-before-event": "resample",
  "result-in-quarantine": "resample",
  "fluid-label-not-recognised": "resample",
  "particles-not-measured": "resample",
  "water-not-measured": "resample",
  "acid-not-measured": "resample",
  "water-not-known": "resample",
  "acid-not-known": "resample",
  "water-outside": "exchange-fluid",
  "acid-outside": "exchange-fluid",
  "particles-outside": "circulate",
  "fluid-allowed": "fit",
  "sample-recent": "fit",
  "particles-inside": "fit",
  "water-inside": "fit",
  "acid-inside": "fit",
} as const satisfies Record<string, VerdictName>;

/** Stable short name of a reason. */
export type ReasonCode = keyof typeof REASONS;

/** One reason, with the numbers that led to it. */
export interface Reason {
  readonly code: ReasonCode;
  /** The verdict that this reason alone calls for. */
  readonly callsFor: VerdictName;
  readonly message: string;
}

/** Makes a reason. */
export function reason(code: ReasonCode, message: string): Reason {
  return { code, callsFor: REASONS[code], message };
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
