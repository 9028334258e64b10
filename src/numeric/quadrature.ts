/** A place where a function is looked at, and what the value there weighs. */
export interface Node {
  readonly at: number;
  readonly weight: number;
}

/**
 * The nodes of Simpson's rule in equal steps.
 *
 * @param steps - an even number
 */
export function simpsonNodes(from: number, to: number, steps: number): Node[] {
  const step = (to - from) / steps;
  return Array.from({ length: steps + 1 }, (_, index) => {
    const times = index === 0 || index === steps ? 1 : index % 2 === 1 ? 4 : 2;
    return { at: from + index * step, weight: (times * step) / 3 };
  });
}

/**
 * The integral of a function by Simpson's rule; 0 where `to` is not above `from`.
 *
 * @param steps - an even number
 * @example
 * integrate((x) => x ** 3, 0, 2, 2); // => 4
 */
export function integrate(of: (at: number) => number, from: number, to: number, steps: number): number {
  if (!(to > from)) return 0;
  return sumOver(simpsonNodes(from, to, steps), of);
}

/**
 * The nodes of the trapezoid rule over a bell-shaped density, with weights that sum to 1.
 *
 * Where nothing of a smooth bell is left at the ends, the rule is exact to the last digits.
 *
 * @param logDensity - logarithm of the density; a constant in it makes no difference
 */
export function bellNodes(
  from: number,
  to: number,
  steps: number,
  logDensity: (at: number) => number,
): Node[] {
  const nodes = Array.from({ length: steps + 1 }, (_, index) => {
    const at = from + ((to - from) * index) / steps;
    return { at, weight: Math.exp(logDensity(at)) };
  });
  const total = nodes.reduce((whole, node) => whole + node.weight, 0);
  return nodes.map(({ at, weight }) => ({ at, weight: weight / total }));
}

/** The weighted sum of a function over nodes. */
export function sumOver(nodes: readonly Node[], of: (at: number) => number): number {
  return nodes.reduce((sum, { at, weight }) => sum + weight * of(at), 0);
}
