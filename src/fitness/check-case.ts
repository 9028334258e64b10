import { checkNumbers } from "../numeric/index.js";
import { type Circuit, maximumOf, type Requirement, type Sample } from "../samples/index.js";

/**
 * Refuses numbers of a case that are none, which a caller without a compiler may give; files are checked when they are read.
 *
 * @throws RangeError naming the field, its range and the value
 */
export function checkCase({
  circuit,
  requirement,
  samples,
}: {
  readonly circuit: Circuit;
  readonly requirement?: Requirement;
  readonly samples: readonly Sample[];
}): void {
  checkCircuit(circuit);
  if (requirement !== undefined) checkRequirement(requirement);
  for (const { waterPpm, acidMgKohPerG, viscosity40Mm2PerS } of samples) {
    // A value that is not a number is out of limits, so only another kind is refused.
    checkNumbers("number", {
      waterPpm: waterPpm?.value,
      acidMgKohPerG: acidMgKohPerG?.value,
      viscosity40Mm2PerS: viscosity40Mm2PerS?.value,
    });
  }
}

/** See {@link checkCase}. */
export function checkCircuit({ volumeL, flowLpm, element }: Circuit): void {
  checkNumbers("positive", { volumeL, flowLpm });
  for (const { sizeUmC, beta } of element?.betas ?? []) checkNumbers("positive", { sizeUmC, beta });
}

/** See {@link checkCase}. */
function checkRequirement({ waterPpmMax, acidMgKohPerGMax, ...others }: Requirement): void {
  const { sampleAgeDaysMax, topUpShareMax } = others;
  checkNumbers("positive", {
    waterPpmMax: waterPpmMax && maximumOf(waterPpmMax),
    acidMgKohPerGMax: acidMgKohPerGMax && maximumOf(acidMgKohPerGMax),
    sampleAgeDaysMax,
  });
  checkNumbers("share", { topUpShareMax });
}
