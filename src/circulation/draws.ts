import type { RandomSource } from "./random.js";

/**
 * Draws from the standard normal distribution, by Marsaglia's polar method.
 *
 * Written here because one answer takes a million draws; the tests hold it against a library, draw by draw.
 *
 * @source MARSAGLIA-POLAR
 */
export class NormalDraws {
  private second = 0;
  private hasSecond = false;

  constructor(private readonly random: RandomSource) {}

  next(): number {
    if (this.hasSecond) {
      this.hasSecond = false;
      return this.second;
    }
    let [x, y, square] = [0, 0, 0];
    do {
      x = this.random() * 2 - 1;
      y = this.random() * 2 - 1;
      square = x * x + y * y;
    } while (square === 0 || square > 1);
    const factor = Math.sqrt((-2 * Math.log(square)) / square);
    this.second = x * factor;
    this.hasSecond = true;
    return y * factor;
  }
}

/**
 * Draws from a gamma distribution with scale 1, by the method of Marsaglia and Tsang.
 *
 * @source MARSAGLIA-TSANG
 */
export class GammaDraws {
  private readonly normal: NormalDraws;
  private readonly d: number;
  private readonly c: number;

  /** @param shape - more than 0 */
  constructor(
    private readonly shape: number,
    private readonly random: RandomSource,
  ) {
    this.normal = new NormalDraws(random);
    this.d = (shape < 1 ? shape + 1 : shape) - 1 / 3;
    this.c = 1 / (3 * Math.sqrt(this.d));
  }

  next(): number {
    const { c, d, random, shape } = this;
    for (;;) {
      const x = this.normal.next();
      const root = 1 + c * x;
      if (root <= 0) continue;
      const v = root * root * root;
      const u = 1 - random();
      if (u >= 1 - 0.0331 * x * x * x * x && Math.log(u) >= 0.5 * x * x + d * (1 - v + Math.log(v))) continue;
      return shape < 1 ? d * v * random() ** (1 / shape) : d * v;
    }
  }
}
