import { type CleanlinessTarget, formatTarget, limitsOfTarget } from "../cleanliness/index.js";
import type { Assumption } from "../provenance/index.js";
import { formatShare, inFourDigits } from "../units/index.js";
import type { FollowingSettings } from "./following.js";

/** What is stated of a counter, and of how sure it has to be. */
export type StatedCounter = Partial<Omit<FollowingSettings, "limits">>;

/** What is taken where nothing is stated. Common practice, no source. */
const USUAL: Omit<FollowingSettings, "limits"> = {
  confidence: 0.95,
  countedMlPerMin: 10,
  repeatability: 0.1,
  bias: 0.2,
};

const SAID: Readonly<Record<keyof typeof USUAL, (value: number) => string>> = {
  confidence: (value) => `${formatShare(value)} confidence`,
  countedMlPerMin: (value) => `${inFourDigits(value)} mL counted in a minute`,
  repeatability: (value) => `a scatter of ${formatShare(value)} from minute to minute`,
  bias: (value) => `a lasting error of ${formatShare(value)}`,
};

/**
 * How a counter is followed towards a target.
 *
 * @param stated - what is known of the counter; usual values are taken for the rest, and said
 * @returns the settings with what they rest on
 */
export function followingSettings(
  target: CleanlinessTarget,
  stated: StatedCounter,
): {
  readonly settings: FollowingSettings;
  readonly target: string;
  readonly assumptions: readonly Assumption[];
} {
  const usual = (Object.keys(USUAL) as (keyof typeof USUAL)[]).filter((name) => stated[name] === undefined);
  const given = Object.fromEntries(Object.entries(stated).filter(([, value]) => value !== undefined));
  return {
    settings: { limits: limitsOfTarget(target), ...USUAL, ...given },
    target: formatTarget(target),
    assumptions: [
      ...(usual.length === 0
        ? []
        : [
            {
              code: "usual-counter",
              message: `taken, because nothing is stated: ${usual.map((name) => SAID[name](USUAL[name])).join(", ")}`,
            },
          ]),
      {
        code: "counter-sees-the-circuit",
        message:
          "the counter is taken to see what the circuit holds: upstream of the elements, or in the return",
      },
    ],
  };
}
