import { caseOf } from "../fitness/index.js";
import { IntakeError } from "../intake/index.js";
import type { Sample } from "../samples/index.js";
import { CHAIN_FILES } from "./content.js";
import { fileOfRows, isAsDelivered, type ReadAgain, readAgain, sampleIn, saySame } from "./laboratory.js";
import type { EvidenceMisfit } from "./manifest.js";
import { isSame } from "./pack-file.js";
import { type ReadContent, samplesOf } from "./shown-files.js";

/** A sample that was read again from the laboratory's files. */
export interface SampleReadAgain {
  readonly sample: string;
  readonly files: readonly string[];
  /** "not at hand": the rows by themselves make no file, and the file itself is not in the pack. */
  readonly result: "same" | "differs" | "not at hand";
  /** Whether all files are as the laboratory delivered them; otherwise their lines are. */
  readonly isAsDelivered: boolean;
}

interface SourceAgain extends ReadAgain {
  readonly isAsDelivered: boolean;
}

/** The laboratory's files read again, and whether the samples of the verdict are still what they say. */
export async function checkSamples(read: ReadContent): Promise<{
  readonly misfits: readonly EvidenceMisfit[];
  readonly samples: readonly SampleReadAgain[];
}> {
  const sources = await sourcesAgain(read);
  const recorded = caseOf(read.content.inputs).samples;
  const found = samplesOf(read.verdict).map((shown) => {
    // The verdict shows a sample as it was judged; its input says it as it was reported.
    const sample = recorded.find((one) => one.sample === shown.sample) ?? shown;
    return checkSample(sample, read, sources.read);
  });
  return {
    misfits: [...sources.misfits, ...found.flatMap(({ misfit }) => misfit ?? [])],
    samples: found.map(({ again }) => again),
  };
}

async function sourcesAgain({ content, files }: ReadContent) {
  const misfits: EvidenceMisfit[] = [];
  const read: SourceAgain[] = [];
  for (const { number, path, bytes } of content.laboratory) {
    const kept = files.find((one) => one.number === number);
    if (kept === undefined) continue;
    const isWhole = isAsDelivered({ kept, bytes });
    const lines = isWhole ? bytes : fileOfRows(kept);
    if (lines === undefined || !isSame(lines, bytes)) {
      const message = `it is neither ${kept.file} as delivered nor the rows that the book kept of it`;
      misfits.push({ file: path, message });
      continue;
    }
    try {
      const again = await readAgain({ kept, bytes });
      if (again.differs === undefined) read.push({ ...again, isAsDelivered: isWhole });
      else misfits.push({ file: path, message: again.differs });
    } catch (error) {
      if (!(error instanceof IntakeError || error instanceof RangeError)) throw error;
      misfits.push({ file: path, message: `it cannot be read again: ${error.message}` });
    }
  }
  return { misfits, read };
}

function checkSample(
  sample: Sample,
  { content, files }: ReadContent,
  read: readonly SourceAgain[],
): { readonly again: SampleReadAgain; readonly misfit?: EvidenceMisfit } {
  const names = [...new Set(sample.origin.map(({ file }) => file))];
  const wanted = files.filter(({ file }) => names.includes(file));
  const own = read.filter(({ kept }) => wanted.includes(kept));
  const isWhole = own.length === wanted.length && own.every((one) => one.isAsDelivered);
  const again = { sample: sample.sample, files: names, isAsDelivered: isWhole };
  const absent = names.find((name) => !wanted.some(({ file }) => file === name));
  if (absent !== undefined) {
    const message = `the rows of ${absent}, from which sample ${sample.sample} came, are not here`;
    return { again: { ...again, result: "not at hand" }, misfit: { file: CHAIN_FILES.lines, message } };
  }
  if (own.length < wanted.length) return { again: { ...again, result: "not at hand" } };
  const reported = sampleIn(own, sample);
  if (reported !== undefined && saySame(reported, sample)) return { again: { ...again, result: "same" } };
  const file = content.laboratory.find(({ number }) => number === wanted[0]?.number)?.path ?? "laboratory";
  const message = `sample ${sample.sample}, read again, is not the one that the verdict was computed from`;
  return { again: { ...again, result: "differs" }, misfit: { file, message } };
}
