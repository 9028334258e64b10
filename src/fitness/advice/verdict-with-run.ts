import type { FollowedSample } from "../../online/index.js";
import type { CircuitCase } from "../case.js";
import { checkCase } from "../check-case.js";
import { takenSamples } from "../checks/counter-in-line.js";
import { judgeCircuit } from "../judge.js";
import type { VerdictName } from "../reasons.js";

/** What a run of a counter in the line does to the verdict on its circuit. */
export interface VerdictWithRun {
  readonly verdict: VerdictName;
  /** Whether the run takes part in it. */
  readonly taken: boolean;
  /** What is to be said of the run: that it was taken, or why not. */
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
  if (run.kind === "none")
    return { verdict: judgeCircuit(input).verdict, taken: false, why: `the run shows nothing: ${run.why}` };
  const withRun = { ...input, samples: [...input.samples, run.sample] };
  const { taken, assumptions } = takenSamples(withRun);
  return {
    verdict: judgeCircuit(withRun).verdict,
    taken: taken.includes(run.sample),
    // One for each run, in their order.
    why: assumptions.at(-1)?.message ?? "",
  };
}
