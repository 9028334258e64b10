import { followingOfCircuit } from "../../../src/fitness/index.js";
import {
  type FollowedCircuit,
  type FollowedSample,
  Following,
  type FollowingSettings,
  followedSample,
  minuteOf,
  type OnlineAnswer,
  type StatedCounter,
} from "../../../src/online/index.js";
import type { Circuit, Requirement } from "../../../src/samples/index.js";

/** How a counter in the line of a circuit was run. */
export interface CounterRunCase {
  readonly circuit: Circuit;
  readonly requirement: Requirement;
  readonly minutes: number;
  /** What the circuit holds in each minute, as a share of 17/15/12. */
  readonly share: (minute: number) => number;
  readonly at?: string;
  readonly temperatureC?: number | ((minute: number) => number | undefined) | null;
  readonly flowLpm?: number | ((minute: number) => number) | null;
  readonly port?: "upstream" | "downstream";
  readonly stated?: StatedCounter;
  readonly isClass?: boolean;
  /** The counter stands still from this minute on. */
  readonly stuckFrom?: number;
  /** The sizes that it counts. */
  readonly sizesUm?: readonly number[];
}

const LIMITS = { 4: 1300, 6: 320, 14: 40 } as Readonly<Record<number, number>>;

/** The answers of a run, with the settings that the requirement gives. */
export function answersOf(run: CounterRunCase): { settings: FollowingSettings; answers: OnlineAnswer[] } {
  const { circuit, requirement, minutes, share, stuckFrom = Number.POSITIVE_INFINITY } = run;
  const { at = "2026-11-20T10:00:00Z", temperatureC = 42, flowLpm = 45, sizesUm = [4, 6, 14] } = run;
  const found = followingOfCircuit({ circuit, requirement }, run.stated ?? {}, run.port ?? "upstream");
  if (found.kind !== "settings") throw new Error(found.why);
  const following = new Following(found.settings);
  const [temperature, flow] = [temperatureC, flowLpm].map((given) =>
    typeof given === "function" ? given : () => given ?? undefined,
  ) as [(minute: number) => number | undefined, (minute: number) => number | undefined];
  const answers = Array.from({ length: minutes }, (_, minute) => {
    const shown = Math.min(minute, stuckFrom);
    const [warm, flowing] = [temperature(minute), flow(minute)];
    return following.take({
      minute: minuteOf(Date.parse(at)) + minute,
      // Counts of a counter are never the same twice.
      counts: sizesUm.map((sizeUmC, index) => ({
        sizeUmC,
        perMl: (LIMITS[sizeUmC] as number) * share(shown) * (1 + 0.03 * Math.sin(7 * shown + index)),
      })),
      ...(warm !== undefined && { temperatureC: warm }),
      ...(flowing !== undefined && { flowLpm: flowing }),
      ...(run.isClass === true && { isClass: true }),
      readings: 1,
    });
  });
  return { settings: found.settings, answers };
}

/** The sample that a run ends with. */
export function sampleOfRun(run: CounterRunCase, of: Partial<FollowedCircuit> = {}): FollowedSample {
  const { settings, answers } = answersOf(run);
  return followedSample(answers, settings, { cart: "C-1", circuit: run.circuit.circuit, ...of });
}
