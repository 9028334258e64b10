import type { Bin, ChannelOfBins, CircuitOfBins } from "./circuit.js";
import { firstInside, firstOutside } from "./crossing.js";
import { removalInSeries } from "./elements.js";
import { type BinSplit, type Mixing, newSplit, passesCounted, splitBin } from "./mixing.js";
import { ModeTable } from "./modes.js";

/** What one case multiplies the stated values by; all 1 is the plan itself. */
export interface Factors {
  volume: number;
  flow: number;
  /** On β − 1 of every element. */
  beta: number;
  ingress: number;
  /** On the odds s/(1 − s) of the slow zone. */
  slowZone: number;
  /** Particles per mL at the start, one number for each bin. */
  readonly startPerMl: Float64Array;
}

/** Factors of the plan itself. */
export function statedFactors(circuit: CircuitOfBins): Factors {
  return {
    volume: 1,
    flow: 1,
    beta: 1,
    ingress: 1,
    slowZone: 1,
    startPerMl: Float64Array.from(circuit.bins, (bin) => bin.startPerMl),
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
  private readonly splits: readonly BinSplit[];
  private readonly removals: Float64Array;
  private readonly tables: readonly ModeTable[];
  private readonly zones: { kind: "two-zone"; slowFraction: number; exchangePerPass: number };
  private readonly mixing: Mixing;
  private factors: Factors;
  /** Whether no channel ever rises in this case, so that what is inside stays inside. */
  private onlyFalls = true;
  private lastInside = 0;
  /** What is left of each mode of each bin, two for each. */
  private readonly left: Float64Array;
  /** All bins as one channel, which the others are parts of; absent where two channels differ in what enters in a bin. */
  private readonly whole: { readonly channel: ChannelOfBins; readonly table: ModeTable } | undefined;
  private readonly modesOfBin: 1 | 2;

  constructor(circuit: CircuitOfBins) {
    this.circuit = circuit;
    this.splits = circuit.bins.map(newSplit);
    this.removals = new Float64Array(circuit.bins.length);
    this.left = new Float64Array(2 * circuit.bins.length);
    const capacity = 2 * circuit.bins.length;
    const channel = wholeOf(circuit);
    this.whole = channel && { channel, table: new ModeTable(capacity) };
    this.modesOfBin = circuit.mixing.kind === "two-zone" && circuit.mixing.slowFraction > 0 ? 2 : 1;
    this.tables = circuit.limited.map(
      ({ firstBin }) => new ModeTable(capacity, this.whole?.table, firstBin * this.modesOfBin),
    );
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
    for (let index = 0; index < circuit.bins.length; index += 1) {
      const bin = circuit.bins[index] as Bin;
      const main = removalInSeries(bin.mainBetas, circuit.mainBypasses, factors.beta);
      const side = this.sideRemoval(bin);
      this.removals[index] = main + sidePerMain * side;
      splitBin(this.mixing, main, side, sidePerMain, this.splits[index] as BinSplit);
    }
    this.onlyFalls = true;
    if (this.whole !== undefined) this.fill(this.whole.table, this.whole.channel, "circuit");
    for (let index = 0; index < this.tables.length; index += 1) {
      const table = this.tables[index] as ModeTable;
      const channel = circuit.limited[index] as ChannelOfBins;
      if (this.whole === undefined) this.fill(table, channel, "circuit");
      else table.lookAt((channel.endBin - channel.firstBin) * this.modesOfBin);
      if (table.rises) this.onlyFalls = false;
    }
  }

  private sideRemoval(bin: Bin): number {
    if (bin.sideBeta === undefined) return 0;
    return (1 - this.circuit.sideBypass) * (1 - 1 / (1 + (bin.sideBeta - 1) * this.factors.beta));
  }

  /** Minutes that one pass takes in this case. */
  get minutesPerPass(): number {
    return (this.circuit.volumeL * this.factors.volume) / (this.circuit.flowLpm * this.factors.flow);
  }

  /** Fraction of a bin that one pass holds back, side stream included; more than 1 is possible with one. */
  removalOfBin(index: number): number {
    return this.removals[index] as number;
  }

  /** Particles per mL and pass that enter, for particles per minute entering the whole circuit. */
  inflowPerPass(particlesPerMin: number): number {
    return (particlesPerMin * this.factors.ingress) / (this.circuit.flowLpm * this.factors.flow * ML_PER_L);
  }

  /** The modes of a channel, for the average of the circuit or for a sampling port in the flow. */
  modesOf(channel: ChannelOfBins, seenFrom: "circuit" | "port"): ModeTable {
    const table = new ModeTable(2 * this.circuit.bins.length);
    this.fill(table, channel, seenFrom);
    return table;
  }

  private fill(table: ModeTable, channel: ChannelOfBins, seenFrom: "circuit" | "port"): void {
    table.clear();
    for (let index = channel.firstBin; index < channel.endBin; index += 1) {
      const split = this.splits[index] as BinSplit;
      const shares = seenFrom === "port" ? split.portShare : split.share;
      const start = this.factors.startPerMl[index] as number;
      const inflow = this.inflowPerPass(channel.ingressPerMin[index - channel.firstBin] as number);
      for (let mode = 0; mode < split.count; mode += 1) {
        const share = shares[mode] as number;
        table.add(start * share, inflow * share * split.inflowFactor, split.rate[mode] as number);
      }
    }
  }

  /**
   * Passes until one limited channel is inside, from the stated start.
   *
   * @param trustCounts - take a channel that is inside by the counts as reported as inside
   */
  passesToLimit(channel: number, trustCounts: boolean, from = 0): number {
    const { limit, insideAtStart } = this.circuit.limited[channel] as CircuitOfBins["limited"][number];
    const table = this.tables[channel] as ModeTable;
    if (from === 0 && trustCounts && insideAtStart) return 0;
    let passes = firstInside(table, limit, from);
    while (this.circuit.mixing.kind === "plug" && Number.isFinite(passes) && !Number.isInteger(passes)) {
      passes = firstInside(table, limit, Math.ceil(passes));
    }
    return passes;
  }

  /**
   * Passes until all limited channels are inside at the same moment.
   *
   * @param trustCounts - see {@link passesToLimit}
   * @returns passes; Infinity when that never happens
   */
  passesToAll(trustCounts: boolean): number {
    if (this.onlyFalls && this.circuit.mixing.kind !== "plug") return this.passesToLast(trustCounts);
    let passes = 0;
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
   * Passes until the last channel is inside. The channel that was the last one in the case before is asked first: mostly it
   * is so again, and the others are inside by then.
   */
  private passesToLast(trustCounts: boolean): number {
    const first = this.lastInside;
    let passes = this.passesToLimit(first, trustCounts, 0);
    this.letPass(passes);
    for (let channel = 0; channel < this.tables.length; channel += 1) {
      if (channel === first || passes === Number.POSITIVE_INFINITY || this.isWellInside(channel)) continue;
      const own = this.passesToLimit(channel, trustCounts, passes);
      if (own > passes) {
        passes = own;
        this.lastInside = channel;
      }
    }
    return passes;
  }

  /** Works out what is left of every mode; all channels share the bins' rates. */
  private letPass(passes: number): void {
    for (let index = 0; index < this.splits.length; index += 1) {
      const { count, rate } = this.splits[index] as BinSplit;
      for (let mode = 0; mode < count; mode += 1) {
        this.left[2 * index + mode] = Math.exp(-(rate[mode] as number) * passes);
      }
    }
  }

  /** Whether a channel is inside then by more than rounding; it stays inside, for nothing rises. */
  private isWellInside(channel: number): boolean {
    const { firstBin, endBin, limit } = this.circuit.limited[channel] as ChannelOfBins & { limit: number };
    const table = this.tables[channel] as ModeTable;
    let level = table.floor;
    let entry = 0;
    for (let index = firstBin; index < endBin; index += 1) {
      const { count } = this.splits[index] as BinSplit;
      for (let mode = 0; mode < count; mode += 1) {
        const above = (table.start[entry] as number) - (table.settled[entry] as number);
        level += above * (this.left[2 * index + mode] as number);
        entry += 1;
      }
    }
    return level < limit * (1 - 1e-9);
  }

  /** Level of one limited channel in particles per mL; whole passes count when the fluid moves as a plug. */
  levelAfter(channel: number, passes: number): number {
    return (this.tables[channel] as ModeTable).levelAfter(passesCounted(this.circuit.mixing, passes));
  }

  /** Passes until one channel that is inside at `from` leaves again; Infinity when it stays. */
  passesToLeave(channel: number, from: number): number {
    const { limit } = this.circuit.limited[channel] as CircuitOfBins["limited"][number];
    return firstOutside(this.tables[channel] as ModeTable, limit, from);
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

/** All bins with what enters in each; undefined where two channels say different things of one bin. */
function wholeOf({ bins, limited }: CircuitOfBins): ChannelOfBins | undefined {
  const ingressPerMin = bins.map((_, bin) => {
    const said = limited
      .filter(({ firstBin, endBin }) => bin >= firstBin && bin < endBin)
      .map((channel) => channel.ingressPerMin[bin - channel.firstBin] as number);
    return said.every((entering) => entering === said[0]) ? (said[0] ?? 0) : undefined;
  });
  if (!ingressPerMin.every((entering) => entering !== undefined)) return undefined;
  return { name: "all", fromUm: bins[0]?.fromUm ?? 0, firstBin: 0, endBin: bins.length, ingressPerMin };
}
