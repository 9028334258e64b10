import { logLikelihood } from "../circulation/index.js";

/**
 * Levels that are held against the one at stake, as shares of it. More of them find a level between two a little sooner.
 */
const SHARES = [0.85, 0.7, 0.5, 0.3, 0.1];

/** What the minutes so far say for a level below the one at stake. */
export interface Evidence {
  /** Minutes that were looked at. */
  readonly looks: number;
  /** For each of the shares: the products of the ratios of all runs of minutes up to now, by the weight of where each began. */
  readonly runs: readonly number[];
}

/** Before the first minute. */
export const NO_EVIDENCE: Evidence = { looks: 0, runs: SHARES.map(() => 0) };

/**
 * Adds a minute to the evidence.
 *
 * As long as the level is at or above the one at stake, the likelihood of a count under a lower level over that under the
 * one at stake is 1 on average at the most, whatever came before. Products of such ratios, from any minute on, can be
 * averaged with weights that were fixed beforehand, 1/(n·(n + 1)) for the minute n; so at no minute at all, however often
 * one looks, does the average reach 1/α with a probability above α (Ville's inequality). A level that was dirty for an hour
 * does not weigh on the runs that begin after it.
 *
 * @param before - what the minutes before say
 * @param counted - particles that were counted in this minute
 * @param atStake - particles that the level at stake would let expect
 * @param relativeVariance - square of the relative scatter of a minute; taken too large, the promise holds all the more
 * @param mayAdd - false for a minute that is not to be trusted: it can speak against, and not for
 */
export function afterMinute(
  before: Evidence,
  counted: number,
  atStake: number,
  relativeVariance: number,
  mayAdd: boolean,
): Evidence {
  const looks = before.looks + 1;
  const begins = 1 / (looks * (looks + 1));
  const under = (mean: number) => logLikelihood({ kind: "exact", count: counted }, mean, relativeVariance);
  const runs = SHARES.map((share, index) => {
    const ratio = Math.exp(under(share * atStake) - under(atStake));
    return (mayAdd ? ratio : Math.min(1, ratio)) * ((before.runs[index] as number) + begins);
  });
  return { looks, runs };
}

/**
 * What is carried to the next minute. Less than was shown can only make the average smaller, so the promise holds; all of it
 * would let an hour of clean fluid outweigh any dirt that comes after.
 *
 * @param most - of each run
 */
export function carried({ looks, runs }: Evidence, most: number): Evidence {
  return { looks, runs: runs.map((run) => Math.min(most, run)) };
}

/** Forgets what spoke for a clean level: what is happening now makes it worthless. */
export function withoutRuns({ looks }: Evidence): Evidence {
  return { looks, runs: SHARES.map(() => 0) };
}

/** How many times as likely the minutes are below the level at stake as at it; 1/α and more shows it with 1 − α. */
export function strengthOf({ looks, runs }: Evidence): number {
  // The runs that have not begun yet stand at 1, with all the weight that is left.
  return runs.reduce((sum, run) => sum + run, 0) / runs.length + 1 / (looks + 1);
}
