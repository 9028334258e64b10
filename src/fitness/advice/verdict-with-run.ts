import type { FollowedSample } from "../../online/index.js";
import type { CircuitCase } from "../case.js";
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
 */
export function verdictWithRun(input: CircuitCase, run: FollowedSample): VerdictWithRun | undefined {
  if (input.requirement?.counterInLine === undefined) return undefined;
  if (run.kind === "none")
    return { verdict: judgeCircuit(input).verdict, taken: false, why: `the run shows nothing: ${run.why}` };
  const { verdict, assumptions } = judgeCircuit({ ...input, samples: [...input.samples, run.sample] });
  const said = assumptions.find(({ message }) => message.includes(`"${run.sample.sample}"`));
  return { verdict, taken: said?.code === "counter-in-line-taken", why: said?.message ?? "" };
}
