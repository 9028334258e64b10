import {
  type CleanlinessTarget,
  formatTarget,
  limitsOfTarget,
  type ParticleLimit,
} from "../cleanliness/index.js";
import { checkNumbers } from "../numeric/index.js";
import { type Assumption, frozen } from "../provenance/index.js";
import { formatShare, inFourDigits } from "../units/index.js";
import type { CounterCircuit } from "./circuit.js";
import type { FollowingSettings } from "./following.js";

/** What is stated of a counter, and of how sure it has to be. */
export type StatedCounter = Partial<Omit<FollowingSettings, "limits" | "circuit">>;

/** What is taken where nothing is stated. Common practice, no source. */
export const USUAL_COUNTER: Required<StatedCounter> = {
  confidence: 0.95,
  countedMlPerMin: 10,
  repeatability: 0.1,
  bias: 0.2,
};

const SAID: Readonly<Record<keyof typeof USUAL_COUNTER, (value: number) => string>> = {
  confidence: (value) => `${formatShare(value)} confidence`,
  countedMlPerMin: (value) => `${inFourDigits(value)} mL counted in a minute`,
  repeatability: (value) => `a scatter of ${formatShare(value)} from minute to minute`,
  bias: (value) => `a lasting error of ${formatShare(value)}`,
};

/**
 * How a counter is followed towards one or more targets.
 *
 * @param stated - what is known of the counter; usual values are taken for the rest, and said
 * @param circuit - the circuit that it sits in, where it is known
 * @returns the settings with what they rest on
 */
export function followingSettings(
  targets: readonly CleanlinessTarget[],
  stated: StatedCounter,
  circuit?: CounterCircuit,
): {
  readonly settings: FollowingSettings;
  readonly target: string;
  readonly assumptions: readonly Assumption[];
} {
  checkNumbers("share", { confidence: stated.confidence });
  checkNumbers("positive", { countedMlPerMin: stated.countedMlPerMin });
  checkNumbers("notNegative", { repeatability: stated.repeatability, bias: stated.bias });
  const usual = (Object.keys(USUAL_COUNTER) as (keyof typeof USUAL_COUNTER)[]).filter(
    (name) => stated[name] === undefined,
  );
  const given = Object.fromEntries(Object.entries(stated).filter(([, value]) => value !== undefined));
  return {
    settings: {
      limits: strictest(targets.flatMap(limitsOfTarget)),
      ...USUAL_COUNTER,
      ...given,
      ...(circuit && { circuit }),
    },
    target: targets.map(formatTarget).join(" and "),
    assumptions: [
      ...(usual.length === 0
        ? []
        : [
            {
              code: "usual-counter",
              message: `taken, because nothing is stated: ${usual.map((name) => SAID[name](USUAL_COUNTER[name])).join(", ")}`,
            },
          ]),
      circuit?.port === "downstream" ? SEES_WHAT_IS_DELIVERED : SEES_THE_CIRCUIT,
    ],
  };
}

/** Of several limits of one channel the lowest. */
function strictest(limits: readonly ParticleLimit[]): ParticleLimit[] {
  const perMl = ({ limit, volumeMl }: ParticleLimit) => limit / volumeMl;
  return limits.filter(
    (one, index) =>
      !limits.some(
        (other, at) =>
          other.fromUm === one.fromUm &&
          other.toUm === one.toUm &&
          (perMl(other) < perMl(one) || (perMl(other) === perMl(one) && at < index)),
      ),
  );
}

const SEES_THE_CIRCUIT: Assumption = frozen({
  code: "counter-sees-the-circuit",
  message: "the counter is taken to see what the circuit holds: upstream of the elements, or in the return",
});

const SEES_WHAT_IS_DELIVERED: Assumption = frozen({
  code: "counter-sees-what-is-delivered",
  message:
    "the counter sits downstream of the elements: what the circuit holds was taken as β times its counts, as the elements are " +
    "rated; elements that retain more hide more, so the circuit is never called clean by it",
  source: "ISO-16889",
});
