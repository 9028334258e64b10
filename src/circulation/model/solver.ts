import { type BinRating, removalInSeries } from "../equipment/elements.js";
import type { Bin, ChannelOfBins, CircuitOfBins } from "./circuit.js";
import { firstInside, firstOutside } from "./crossing.js";
import { type BinSplit, levelOver, type Mixing, newSplit, splitBin } from "./mixing.js";
import { ModeTable } from "./modes.js";
import { apartFromStirring, STIRRED_AFTER_PASSES, STIRRED_PER_PASS, stirredShare } from "./settled.js";

/** What one case makes of the stated values: factors of 1, no leakage and the limits as they are, for the plan itself. */
export interface Factors {
  volume: number;
  flow: number;
  /** On β − 1 of every element. */
  beta: number;
  ingress: number;
  /** On the odds s/(1 − s) of the slow zone. */
  slowZone: number;
  /** Fraction of the flow that gets past the seal of each element. */
  leakage: number;
  /** Particles per mL at the start, one number for each bin. */
  readonly startPerMl: Float64Array;
  /** Particles per mL that each limited channel must come down to. */
  readonly limitPerMl: Float64Array;
}

/** Factors of the plan itself. */
export function statedFactors(circuit: CircuitOfBins): Factors {
  return {
    volume: 1,
    flow: 1,
    beta: 1,
    ingress: 1,
    slowZone: 1,
    leakage: 0,
    startPerMl: Float64Array.from(circuit.bins, (bin) => bin.startPerMl),
    limitPerMl: Float64Array.from(circuit.limited, ({ limit }) => limit),
  };
}

const ML_PER_L = 1000;

/**
 * Solves one circuit for many cases without allocating: set the factors, then ask.
 *
 * It is the one place where bins, elements and mixing become modes, for the plan as for every drawn case.
 */
export class CircuitSolver {
  private readonly circuit: CircuitOfBins;
  /** For each bin; neighbours with the same filtration, such as all above the largest rated size, have one in common. */
  private readonly filtered: readonly FilteredBin[];
  private readonly distinct: readonly FilteredBin[];
  /** Of each limited channel. */
  private readonly tables: readonly ModeTable[];
  private readonly insideAtStart: readonly boolean[];
  private readonly zones: { kind: "two-zone"; slowFraction: number; exchangePerPass: number };
  private readonly mixing: Mixing;
  private factors: Factors;
  /** Whether no channel ever rises in this case, so that what is inside stays inside. */
  private onlyFalls = true;
  private lastInside = 0;
  /** All bins as one channel, which the others are parts of; absent where two channels differ in what enters in a bin. */
  private readonly whole: { readonly channel: Entered; readonly table: ModeTable } | undefined;
  private readonly modesOfBin: number;
  /** Passes from which a level counts. */
  private readonly earliest: number;
  /** Level of each mode and all later modes together, after the latest {@link advanceTo}. */
  private readonly levelFrom: Float64Array;

  constructor(circuit: CircuitOfBins) {
    this.circuit = circuit;
    this.filtered = filteredBins(circuit.bins);
    this.distinct = [...new Set(this.filtered)];
    const zones = circuit.mixing.kind === "two-zone" && circuit.mixing.slowFraction > 0 ? 2 : 1;
    this.modesOfBin = circuit.settled > 0 ? zones + 1 : zones;
    this.earliest = circuit.settled > 0 ? STIRRED_AFTER_PASSES : 0;
    const modes = this.modesOfBin * circuit.bins.length;
    this.levelFrom = new Float64Array(modes);
    const channel = wholeOf(circuit);
    this.whole = channel && { channel, table: new ModeTable(modes) };
    this.tables = circuit.limited.map(
      ({ firstBin, endBin }) =>
        new ModeTable((endBin - firstBin) * this.modesOfBin, this.whole?.table, firstBin * this.modesOfBin),
    );
    this.insideAtStart = circuit.limited.map(({ insideAtStart }) => insideAtStart);
    this.zones = { kind: "two-zone", slowFraction: 0, exchangePerPass: 0 };
    this.mixing = circuit.mixing.kind === "two-zone" ? this.zones : circuit.mixing;
    this.factors = statedFactors(circuit);
    this.set(this.factors);
  }

  /** Works out the modes of every limited channel for one case. */
  set(factors: Factors): void {
    const { circuit } = this;
    this.factors = factors;
    if (circuit.mixing.kind === "two-zone") {
      const { slowFraction, exchangePerPass } = circuit.mixing;
      const slow = slowFraction * factors.slowZone;
      this.zones.slowFraction = slow / (slow + 1 - slowFraction);
      this.zones.exchangePerPass = exchangePerPass;
    }
    const sidePerMain = circuit.sideFlowLpm / (circuit.flowLpm * factors.flow);
    for (const { main, side, split } of this.distinct) {
      const held = removalInSeries(main, circuit.mainBypasses, factors.beta, factors.leakage);
      const heldAside = removalInSeries(side, circuit.sideBypasses, factors.beta, factors.leakage);
      splitBin(this.mixing, held, heldAside, sidePerMain, split);
    }
    if (this.whole === undefined) {
      this.tables.forEach((table, index) => {
        this.fill(table, circuit.limited[index] as ChannelOfBins, "circuit");
      });
    } else this.fill(this.whole.table, this.whole.channel, "circuit");
    this.onlyFalls = this.whole?.table.rises === false || !this.tables.some(({ rises }) => rises);
  }

  /** Minutes that one pass takes in this case. */
  get minutesPerPass(): number {
    return (this.circuit.volumeL * this.factors.volume) / (this.circuit.flowLpm * this.factors.flow);
  }

  /** Fraction of a bin that one pass holds back, side stream included; more than 1 is possible with one. */
  removalOfBin(index: number): number {
    return (this.filtered[index] as FilteredBin).split.removal;
  }

  /** The modes of a channel; see {@link Port}. */
  modesOf(channel: ChannelOfBins, seenFrom: Port): ModeTable {
    const table = new ModeTable(this.modesOfBin * this.circuit.bins.length);
    this.fill(table, channel, seenFrom);
    return table;
  }

  private fill(table: ModeTable, channel: Entered, seenFrom: Port): void {
    table.clear();
    const { circuit, factors } = this;
    const { settled } = circuit;
    const passesPerMinMl = factors.ingress / (circuit.flowLpm * factors.flow * ML_PER_L);
    for (let index = channel.firstBin; index < channel.endBin; index += 1) {
      const { split } = this.filtered[index] as FilteredBin;
      const shares = seenFrom === "circuit" ? split.share : split.portShare;
      const seen = seenFrom === "downstream" ? split.letThrough : 1;
      const start = (factors.startPerMl[index] as number) * seen;
      const inflow = (channel.ingressPerMin[index - channel.firstBin] as number) * passesPerMinMl * seen;
      let toStir = 0;
      for (let mode = 0; mode < split.count; mode += 1) {
        const share = shares[mode] as number;
        const own = split.rate[mode] as number;
        const rate = settled > 0 ? apartFromStirring(own) : own;
        const stirred = settled > 0 ? settled * start * share * stirredShare(rate) : 0;
        table.add(start * share + stirred, inflow * share * split.inflowFactor, rate);
        toStir += stirred;
      }
      if (settled > 0) table.add(-toStir, 0, STIRRED_PER_PASS);
    }
  }

  /**
   * Passes until one limited channel is inside, from the stated start.
   *
   * @param trustCounts - take a channel that is inside by the counts as reported as inside
   */
  passesToLimit(channel: number, trustCounts: boolean, from = this.earliest): number {
    const limit = this.factors.limitPerMl[channel] as number;
    const table = this.tables[channel] as ModeTable;
    if (from === 0 && trustCounts && this.insideAtStart[channel]) return 0;
    return this.circuit.mixing.kind === "plug"
      ? this.plugPassesToLimit(channel, limit, from)
      : firstInside(table, limit, from);
  }

  /** The first whole pass that is inside, and on the straight line to it the crossing. */
  private plugPassesToLimit(channel: number, limit: number, from: number): number {
    if (this.levelAfter(channel, from) <= limit) return from;
    const table = this.tables[channel] as ModeTable;
    let whole = firstInside(table, limit, Math.ceil(from));
    while (Number.isFinite(whole) && !Number.isInteger(whole)) {
      whole = firstInside(table, limit, Math.ceil(whole));
    }
    if (whole === Number.POSITIVE_INFINITY) return whole;
    const [before, after] = [table.levelAfter(whole - 1), table.levelAfter(whole)];
    return whole - (limit - after) / (before - after);
  }

  /**
   * Passes until all limited channels are inside at the same moment.
   *
   * @param trustCounts - see {@link passesToLimit}
   * @returns passes; Infinity when that never happens
   */
  passesToAll(trustCounts: boolean): number {
    if (this.onlyFalls && this.circuit.mixing.kind !== "plug") return this.passesToLast(trustCounts);
    let passes = this.earliest;
    for (;;) {
      let latest = passes;
      for (let channel = 0; channel < this.tables.length; channel += 1) {
        latest = Math.max(latest, this.passesToLimit(channel, trustCounts, passes));
      }
      if (latest === passes || latest === Number.POSITIVE_INFINITY) return latest;
      passes = latest;
    }
  }

  /**
   * Passes until the last channel is inside. The channel that was the last one in the previous case is tried first: mostly it
   * is so again, and the others are inside by then.
   */
  private passesToLast(trustCounts: boolean): number {
    const first = this.lastInside;
    let passes = this.passesToLimit(first, trustCounts, 0);
    this.advanceTo(passes, first);
    for (let channel = 0; channel < this.tables.length; channel += 1) {
      if (passes === Number.POSITIVE_INFINITY) return passes;
      if (channel === first || this.isWellInside(channel, passes)) continue;
      const own = this.passesToLimit(channel, trustCounts, passes);
      if (own > passes) {
        passes = own;
        this.lastInside = channel;
      }
    }
    return passes;
  }

  /** Works out what is left of the modes that the crossing of one channel has not worked out already, and the levels. */
  private advanceTo(passes: number, crossed: number): void {
    if (this.whole === undefined) return;
    const { count, rate, settled, above, left } = this.whole.table;
    const known = this.tables[crossed] as ModeTable;
    // A channel that is inside from the start needs no crossing.
    const knownTo = passes === 0 ? known.from : known.from + known.count;
    for (let mode = 0; mode < known.from; mode += 1) left[mode] = Math.exp(-(rate[mode] as number) * passes);
    for (let mode = knownTo; mode < count; mode += 1) left[mode] = Math.exp(-(rate[mode] as number) * passes);
    let level = 0;
    for (let mode = count - 1; mode >= 0; mode -= 1) {
      level += (settled[mode] as number) + (above[mode] as number) * (left[mode] as number);
      this.levelFrom[mode] = level;
    }
  }

  /** Whether a channel is inside by more than rounding; it stays inside, for nothing rises. */
  private isWellInside(channel: number, passes: number): boolean {
    const bound = (this.factors.limitPerMl[channel] as number) * (1 - 1e-9);
    const table = this.tables[channel] as ModeTable;
    if (this.whole === undefined) return table.levelAfter(passes) < bound;
    if ((this.levelFrom[table.from] as number) < bound) return true;
    // A channel that ends below the largest particles has less than all from its size on.
    return table.from + table.count < this.whole.table.count && table.levelAfter(passes) < bound;
  }

  /** Level of one limited channel in particles per mL; see {@link levelOver}. */
  levelAfter(channel: number, passes: number): number {
    const table = this.tables[channel] as ModeTable;
    return levelOver(this.circuit.mixing, passes, (at) => table.levelAfter(at));
  }

  /** Passes until one channel that is inside at `from` leaves again; Infinity when it stays. */
  passesToLeave(channel: number, from: number): number {
    const limit = this.factors.limitPerMl[channel] as number;
    const table = this.tables[channel] as ModeTable;
    if (this.circuit.mixing.kind !== "plug") return firstOutside(table, limit, from);
    const whole = Math.ceil(from);
    return table.levelAfter(whole) > limit ? from : firstOutside(table, limit, whole);
  }

  /** Passes until the first channel that is inside at `from` leaves again; Infinity when all stay. */
  passesToLeaveAny(from: number): number {
    if (this.onlyFalls) return Number.POSITIVE_INFINITY;
    let earliest = Number.POSITIVE_INFINITY;
    for (let channel = 0; channel < this.tables.length; channel += 1) {
      earliest = Math.min(earliest, this.passesToLeave(channel, from));
    }
    return earliest;
  }
}

/**
 * Where a level is seen: the average of the whole circuit, a port in the flow before the elements of the main stream, or one
 * downstream of them all.
 */
export type Port = "circuit" | "upstream" | "downstream";

/** Some neighbouring bins and what enters in each. */
type Entered = Pick<ChannelOfBins, "firstBin" | "endBin"> & { readonly ingressPerMin: ArrayLike<number> };

/** What acts on one bin or some, and what it makes of their particles. */
interface FilteredBin {
  readonly main: readonly BinRating[];
  /** One rating, or none without a side stream. */
  readonly side: readonly BinRating[];
  readonly split: BinSplit;
}

function filteredBins(bins: readonly Bin[]): FilteredBin[] {
  const filtered: FilteredBin[] = [];
  for (const bin of bins) {
    const [main, side] = [bin.main, bin.side === undefined ? [] : [bin.side]];
    const last = filtered.at(-1);
    const same = last !== undefined && areSame(last.main, main) && areSame(last.side, side);
    filtered.push(same ? last : { main, side, split: newSplit() });
  }
  return filtered;
}

function areSame(some: readonly BinRating[], others: readonly BinRating[]): boolean {
  return some.every((one, index) => {
    const other = others[index] as BinRating;
    return RATING_FIELDS.every((field) => one[field] === other[field]);
  });
}

const RATING_FIELDS = ["lower", "least", "upper", "above"] as const;

/** All bins with what enters in each; undefined where two channels say different things of one bin. */
function wholeOf({ bins, limited }: CircuitOfBins): Entered | undefined {
  const ingressPerMin = bins.map((_, bin) => {
    const said = limited
      .filter(({ firstBin, endBin }) => bin >= firstBin && bin < endBin)
      .map((channel) => channel.ingressPerMin[bin - channel.firstBin] as number);
    return said.every((entering) => entering === said[0]) ? (said[0] ?? 0) : undefined;
  });
  if (!ingressPerMin.every((entering) => entering !== undefined)) return undefined;
  return { firstBin: 0, endBin: bins.length, ingressPerMin: Float64Array.from(ingressPerMin) };
}
