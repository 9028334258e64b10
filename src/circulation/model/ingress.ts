import { checkNumbers } from "../../numeric/index.js";
import type { Assumption } from "../../provenance/index.js";
import type { Ingress } from "../../samples/index.js";

/** Particles per minute that enter the whole circuit, one number for each bin of a channel. */
export interface ChannelIngress {
  readonly perBin: readonly number[];
  readonly assumptions: readonly Assumption[];
}

/** One bin's sizes in µm(c); the last bin of a sample has no upper size. */
export interface BinSizes {
  readonly fromUm: number;
  readonly toUm?: number;
}

/**
 * Shares ingress out over the bins of one channel.
 *
 * Ingress is given larger than some sizes. What enters between two of those sizes is put at the lower one, and what
 * straddles the channel's lower size is put there in full: it cannot be more, and the smallest particles are the
 * hardest to hold back, so the plan errs on the long side.
 *
 * @param ingress - cumulative ingress at some sizes, in any order; an empty list means none
 * @param bins - the bins of the channel, smallest first
 * @returns particles per minute for each bin
 * @throws RangeError when only larger sizes are given, when a size is given twice, or when ingress rises with size
 */
export function ingressOfChannel(ingress: readonly Ingress[], bins: readonly BinSizes[]): ChannelIngress {
  const given = checked(ingress);
  const perBin = bins.map(() => 0);
  const fromUm = (bins[0] as BinSizes).fromUm;
  const toUm = bins.at(-1)?.toUm ?? Number.POSITIVE_INFINITY;
  if (given.length === 0) return { perBin, assumptions: [] };
  if (!given.some((entry) => entry.sizeUmC <= fromUm)) {
    throw new RangeError(
      `ingress is needed at ${fromUm} µm(c) or below, to know what enters above ${fromUm} µm(c)`,
    );
  }
  given.forEach((entry, index) => {
    const next = given[index + 1];
    const placed = Math.max(entry.sizeUmC, fromUm);
    if (placed >= toUm || (next !== undefined && next.sizeUmC <= fromUm)) return;
    const bin = bins.findLastIndex((candidate) => candidate.fromUm <= placed);
    perBin[bin] = (perBin[bin] as number) + entry.particlesPerMin - (next?.particlesPerMin ?? 0);
  });
  return { perBin, assumptions: standIn(given, fromUm) };
}

function standIn(given: readonly Ingress[], sizeUm: number): Assumption[] {
  const nearest = given.filter((entry) => entry.sizeUmC <= sizeUm).at(-1);
  if (nearest === undefined || nearest.sizeUmC === sizeUm) return [];
  return [
    {
      code: "ingress-from-smaller-size",
      message: `ingress above ${sizeUm} µm(c) was not given; the ingress above ${nearest.sizeUmC} µm(c) was used, which errs on the long side`,
      source: "MASS-BALANCE",
    },
  ];
}

/** @throws RangeError for what is no size */
export function checkIngressSizes(ingress: readonly Ingress[]): void {
  for (const { sizeUmC } of ingress) checkNumbers("positive", { "the size of an ingress": sizeUmC });
}

function checked(ingress: readonly Ingress[]): Ingress[] {
  checkIngressSizes(ingress);
  const given = [...ingress].sort((a, b) => a.sizeUmC - b.sizeUmC);
  given.forEach((entry, index) => {
    const smaller = given[index - 1];
    if (!(entry.particlesPerMin >= 0 && Number.isFinite(entry.particlesPerMin))) {
      throw new RangeError(
        `ingress at ${entry.sizeUmC} µm(c) must be 0 or more, not ${entry.particlesPerMin}`,
      );
    }
    if (smaller?.sizeUmC === entry.sizeUmC) {
      throw new RangeError(`ingress at ${entry.sizeUmC} µm(c) is given twice`);
    }
    if (smaller !== undefined && entry.particlesPerMin > smaller.particlesPerMin) {
      throw new RangeError(
        `ingress is cumulative and cannot rise with size, as it does from ${smaller.sizeUmC} to ${entry.sizeUmC} µm(c)`,
      );
    }
  });
  return given;
}
