import { countBelow, countUpTo } from "../../numeric/index.js";

/** Counts values as they are added, in time that grows as the logarithm of their number (a Fenwick tree). */
export class RankedCounter {
  private readonly sorted: Float64Array;
  private readonly tree: Int32Array;

  /** @param values - all values that will ever be added */
  constructor(values: readonly number[]) {
    this.sorted = Float64Array.from(values).sort();
    this.tree = new Int32Array(values.length + 1);
  }

  add(value: number): void {
    for (let at = countBelow(this.sorted, value) + 1; at < this.tree.length; at += at & -at) {
      this.tree[at] = (this.tree[at] as number) + 1;
    }
  }

  addedUpTo(value: number): number {
    return this.sum(countUpTo(this.sorted, value));
  }

  addedBelow(value: number): number {
    return this.sum(countBelow(this.sorted, value));
  }

  private sum(places: number): number {
    let sum = 0;
    for (let at = places; at > 0; at -= at & -at) sum += this.tree[at] as number;
    return sum;
  }
}
