import type { Sample } from "../../samples/index.js";
import { isOlder } from "../evidence/evidence.js";
import { latestSamples } from "../latest.js";

/** A stretch of time in which a circuit was not known to be good. */
export interface Span {
  /** The last good sample before it; absent where no good sample came before; the stretch then begins with the log. */
  readonly lastGood?: Sample;
  /** The bad samples in it, oldest first; none where nothing bad is known. */
  readonly bad: readonly Sample[];
  /** The good sample that ends it; absent where none does. */
  readonly nextGood?: Sample;
}

/** The stretch that is open today, and those of the past that had a bad sample, newest first. */
export interface Spans {
  readonly current: Span;
  readonly earlier: readonly Span[];
}

/**
 * Puts good and bad samples of one quantity together to stretches.
 *
 * A good sample begins or ends a stretch only where it was surely drawn before or after the bad ones: of two bottles whose order
 * is not known, the good one clears nothing.
 */
export function spansOf(good: readonly Sample[], bad: readonly Sample[]): Spans {
  const spans = new Map<string, { span: Span; bad: Sample[] }>();
  for (const sample of bad) {
    const lastGood = latestSamples(good.filter((one) => isOlder(one, sample)))[0];
    const nextGood = oldest(good.filter((one) => isOlder(sample, one)));
    const key = JSON.stringify([lastGood?.sample, nextGood?.sample]);
    const known = spans.get(key);
    if (known !== undefined) known.bad.push(sample);
    else
      spans.set(key, {
        span: { ...(lastGood && { lastGood }), bad: [], ...(nextGood && { nextGood }) },
        bad: [sample],
      });
  }
  const all = [...spans.values()].map(({ span, bad: own }) => ({ ...span, bad: inOrder(own) }));
  const open = all.filter(({ nextGood }) => nextGood === undefined);
  const ended = all.filter(({ nextGood }) => nextGood !== undefined);
  const [last] = latestSamples(good);
  return {
    current: joined(open) ?? { bad: [], ...(last && { lastGood: last }) },
    earlier: ended.sort((a, b) => compareDrawn(b.bad[0] as Sample, a.bad[0] as Sample)),
  };
}

/** Open stretches that begin with different samples are one: it begins with the older. */
function joined(open: readonly Span[]): Span | undefined {
  const bad = inOrder(open.flatMap((span) => span.bad));
  if (bad.length === 0) return undefined;
  const starts = open.flatMap(({ lastGood }) => (lastGood === undefined ? [] : [lastGood]));
  const lastGood = starts.length === open.length ? oldest(starts) : undefined;
  return { bad, ...(lastGood && { lastGood }) };
}

function oldest(samples: readonly Sample[]): Sample | undefined {
  return inOrder(samples)[0];
}

/** Oldest first, by day and by the time as it is written. */
export function inOrder(samples: readonly Sample[]): Sample[] {
  return [...samples].sort(compareDrawn);
}

function compareDrawn(a: Sample, b: Sample): number {
  const [one, other] = [a, b].map(
    ({ drawnOn, drawnTime = "", sample }) => `${drawnOn} ${drawnTime} ${sample}`,
  );
  return (one as string) < (other as string) ? -1 : one === other ? 0 : 1;
}
