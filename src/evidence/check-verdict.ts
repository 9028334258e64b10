import {
  containsSignedHead,
  faultOfListing,
  misfitsOfPart,
  parseSignedHead,
  type VerdictComputedOtherwise,
} from "../book/index.js";
import { canonicalJson, type RecordedInput, recompute } from "../fitness/index.js";
import { VERSION } from "../provenance/index.js";
import { CHAIN_FILES, pathOfInput, SIGNED_HEAD } from "./content.js";
import type { EvidenceMisfit } from "./manifest.js";
import { sha256OfBytes } from "./pack-file.js";
import { type ReadContent, VERDICT_FILE } from "./shown-files.js";

/** Whether the entries follow each other, and the rows are those that they wrote. */
export function misfitsOfChain({ content: { chain } }: ReadContent): EvidenceMisfit[] {
  const { links, rows } = misfitsOfPart(chain);
  return [
    ...links.map(({ message }) => ({ file: CHAIN_FILES.entries, message })),
    ...rows.map(({ message }) => ({ file: CHAIN_FILES.lines, message })),
  ];
}

/** Whether the head that was signed is one of the chain; who signed it is checked with a key. */
export function misfitsOfSignedHead({ content: { signedHead, chain } }: ReadContent): EvidenceMisfit[] {
  if (signedHead === undefined) return [];
  try {
    if (containsSignedHead(chain.entries, parseSignedHead(signedHead))) return [];
  } catch (error) {
    return [{ file: SIGNED_HEAD, message: (error as Error).message }];
  }
  return [{ file: SIGNED_HEAD, message: "the chain does not contain the head that was signed" }];
}

/** Whether the inputs are those of the verdict, and a verdict of this version comes from them. */
export function misfitsOfVerdict({ content, written }: ReadContent): EvidenceMisfit[] {
  const { inputs, number } = content;
  if (inputs.length !== written.inputs.length) {
    return [
      {
        file: "inputs",
        message: `verdict ${number} has ${written.inputs.length} inputs, and here are ${inputs.length}`,
      },
    ];
  }
  const other = inputs.findIndex(({ role, text }, index) => {
    const kept = written.inputs[index];
    return kept?.role !== role || kept.sha256 !== sha256OfBytes(new TextEncoder().encode(text));
  });
  if (other !== -1) {
    return [
      { file: pathOfInput(inputs, other), message: `it is not what verdict ${number} was computed from` },
    ];
  }
  const file = VERDICT_FILE;
  if (sha256OfBytes(new TextEncoder().encode(written.result)) !== written.resultSha256) {
    return [{ file, message: "it does not have the hash that was kept with it" }];
  }
  const listed = faultOfListing(written, written.result);
  if (listed !== undefined) return [{ file: CHAIN_FILES.lines, message: `verdict ${number} ${listed}` }];
  if (written.version !== VERSION) return [];
  const again = computedAgain(inputs);
  return again.text === written.result ? [] : [{ file, message: again.fault }];
}

/**
 * A verdict of another version that comes out otherwise today; undefined where it comes out the same. It is what that version
 * wrote as far as the chain goes, so it is no misfit.
 */
export function computedOtherwise({ content, written }: ReadContent): VerdictComputedOtherwise | undefined {
  const { number, entry, cart, circuit, on, version, verdict } = written;
  const again = version === VERSION ? undefined : computedAgain(content.inputs);
  if (again === undefined || again.text === written.result) return undefined;
  return { number, entry, cart, circuit, on, version, recorded: verdict, today: again.verdict };
}

function computedAgain(inputs: readonly RecordedInput[]) {
  try {
    const verdict = recompute(inputs);
    const fault = "computed again from its inputs, the verdict is not the same";
    return { text: canonicalJson(verdict), verdict: verdict.verdict, fault };
  } catch (error) {
    return { verdict: null, fault: `it cannot be computed again: ${(error as Error).message}` };
  }
}
