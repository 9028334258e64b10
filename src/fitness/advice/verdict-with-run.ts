import type { FollowedSample } from "../../online/index.js";
import type { CircuitCase } from "../case.js";
import { checkCase } from "../check-case.js";
import { takenSamples } from "../checks/counter-in-line.js";
import { judgeCircuit } from "../judge.js";
import { JudgingDay } from "../judging-day.js";
import type { VerdictName } from "../reasons.js";
import type { Verdict } from "../verdict.js";

/** What a run of a counter in the line does to the verdict on its circuit. */
export interface VerdictWithRun {
  readonly verdict: VerdictName;
  /** Whether the run takes part in it. */
  readonly taken: boolean;
  /** What is to be said of the run: that it was taken, or why not; then what the verdict rests on where it is not "fit". */
  readonly why: string;
}

/**
 * The verdict on a circuit with the run that has just been followed. The run is not kept: the next verdict is made without it.
 *
 * @param input - what the verdict rests on without the run
 * @returns undefined where the requirement takes no counter in the line
 * @throws RangeError for what a case cannot hold
 */
export function verdictWithRun(input: CircuitCase, run: FollowedSample): VerdictWithRun | undefined {
  checkCase(input);
  if (input.requirement?.counterInLine === undefined) return undefined;
  if (run.kind === "none") return withReason(judgeCircuit(input), false, `the run shows nothing: ${run.why}`);
  const withRun = { ...input, samples: [...input.samples, run.sample] };
  const { taken, assumptions } = takenSamples({ ...withRun, day: new JudgingDay(input.on) });
  // One for each run, in their order.
  return withReason(judgeCircuit(withRun), taken.includes(run.sample), assumptions.at(-1)?.message ?? "");
}

function withReason(
  { verdict, reasons: [gravest], assumptions }: Verdict,
  taken: boolean,
  ofRun: string,
): VerdictWithRun {
  if (verdict === "fit" || gravest === undefined) return { verdict, taken, why: ofRun };
  const inDoubt = taken && assumptions.find(({ code }) => code === "several-samples-that-day");
  const order = inDoubt ? `. ${inDoubt.message}; give the time of the bottle with its zone` : "";
  return { verdict, taken, why: `${ofRun}. The verdict: ${gravest.message}${order}` };
}
