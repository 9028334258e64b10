import { uniformFloat64 } from "pure-rand/distribution/uniformFloat64";
import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus";

/** Draws from a seeded generator: the same seed gives the same numbers on every run. */
export interface Draws {
  /** A whole number from `from` to `to`, both included. */
  readonly whole: (from: number, to: number) => number;
  /** Standard normal. */
  readonly normal: () => number;
  /** Lognormal with median 1; `sigma` is the standard deviation of the natural logarithm. */
  readonly lognormal: (sigma: number) => number;
  /** Poisson with the given mean; meant for means up to about 50. */
  readonly poisson: (mean: number) => number;
}

/**
 * Starts a stream of draws.
 *
 * Streams of one seed are parts of one long sequence, 2^64 draws apart. Neighbouring seeds would not do instead: their
 * first draws are nearly the same.
 *
 * @param seed - whole number
 * @param stream - whole number of 1 or more
 */
export function drawsFrom(seed: number, stream: number): Draws {
  const generator = xoroshiro128plus(seed);
  for (let jumps = 0; jumps < stream; jumps += 1) generator.jump();
  const uniform = () => uniformFloat64(generator);
  // Box and Muller; 1 − u keeps the logarithm away from zero.
  const normal = () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
  return {
    whole: (from, to) => from + Math.floor(uniform() * (to - from + 1)),
    normal,
    lognormal: (sigma) => Math.exp(sigma * normal()),
    // Multiplies uniforms until they fall below e^−mean; the number of factors is Poisson.
    poisson: (mean) => {
      const end = Math.exp(-mean);
      let factors = 0;
      for (let product = uniform(); product > end; product *= uniform()) factors += 1;
      return factors;
    },
  };
}
