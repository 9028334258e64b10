/**
 * Probability of each Kendall score when n values without ties come in any order.
 *
 * Entry k is the probability of k falling pairs, so of the score n(n − 1)/2 − 2k.
 *
 * @param n - number of values
 */
function fallingPairs(n: number): number[] {
  let probabilities = [1];
  for (let size = 2; size <= n; size += 1) {
    // The value added last falls against 0 to size − 1 of those before it, each equally likely.
    const next = new Array<number>(probabilities.length + size - 1).fill(0);
    for (const [pairs, probability] of probabilities.entries()) {
      for (let more = 0; more < size; more += 1) {
        next[pairs + more] = (next[pairs + more] as number) + probability / size;
      }
    }
    probabilities = next;
  }
  return probabilities;
}

/**
 * Probability that the score of independent blocks, all without ties, is `score` or further from 0, on either side.
 *
 * @param sizes - number of values of each block
 * @source KENDALL-EXACT
 * @example
 * exactTail([8], 16); // => 0.061
 */
export function exactTail(sizes: readonly number[], score: number): number {
  return exactTails(sizes)(score);
}

/** As {@link exactTail}, for many scores of the same blocks. */
export function exactTails(sizes: readonly number[]): (score: number) => number {
  let probabilities = [1];
  for (const size of sizes) probabilities = spread(probabilities, fallingPairs(size));
  const most = probabilities.length - 1;
  return (score) => {
    const tail = probabilities.reduce(
      (sum, probability, falling) =>
        Math.abs(most - 2 * falling) >= Math.abs(score) ? sum + probability : sum,
      0,
    );
    return Math.min(1, tail);
  };
}

function spread(a: readonly number[], b: readonly number[]): number[] {
  const sum = new Array<number>(a.length + b.length - 1).fill(0);
  for (const [i, p] of a.entries())
    for (const [j, q] of b.entries()) sum[i + j] = (sum[i + j] as number) + p * q;
  return sum;
}
