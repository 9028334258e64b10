import {
  type DatedCounts,
  datedCounts,
  describeUnusual,
  LOOK_BACK,
  unusualCounts,
} from "../../fitness/index.js";
import { CHECKS, type CheckCode, type Finding } from "../../intake/index.js";
import { type Circuit, circuitSchema } from "../../samples/index.js";
import { type Connection, readerOf } from "../storage/database.js";
import { type SampleRow, SELECT_SAMPLES, sampleOf } from "../storage/sample-row.js";

/** So many of the latest counts of a circuit are kept at hand, so that a sample of an earlier day finds some before it. */
const RETAINED = 2 * LOOK_BACK;

/**
 * What the counts of each circuit usually are, for telling per mL from per 100 mL when a sample is brought in.
 *
 * An early notice: the verdict asks again, when all samples and events are known.
 */
export class UsualCounts {
  /** Oldest first. */
  readonly #byCircuit = new Map<number, DatedCounts[]>();
  readonly #select;
  readonly #selectBody;

  constructor(db: Connection) {
    this.#select = readerOf<SampleRow>(
      db,
      `${SELECT_SAMPLES} WHERE circuit_id = ? AND counts IS NOT NULL
         ORDER BY drawn_on DESC, sample.id DESC LIMIT ${RETAINED}`,
    );
    this.#selectBody = readerOf<{ body: string | null }>(db, "SELECT body FROM circuit WHERE id = ?");
  }

  /**
   * Whether the counts of a sample are far from what its circuit has shown before.
   *
   * @returns a finding, or undefined when they are not or when too little is known of the circuit
   */
  check(circuitId: number, counted: DatedCounts | undefined): Finding | undefined {
    if (counted === undefined) return undefined;
    const all = this.#usual(circuitId);
    const place = placeOf(counted, all);
    const earlier = place === all.length ? all : all.slice(0, place);
    const found = unusualCounts(counted, earlier, () => this.#circuit(circuitId));
    if (found === undefined) return undefined;
    const code: CheckCode = "factor-of-100";
    return {
      code,
      holds: "count",
      expected: `counts like the earlier ones of this circuit; these are ${describeUnusual(found)} (${CHECKS[code]})`,
    };
  }

  /** Adds the counts of a sample that was taken. */
  add(circuitId: number, counted: DatedCounts | undefined): void {
    if (counted === undefined) return;
    const usual = this.#usual(circuitId);
    usual.splice(placeOf(counted, usual), 0, counted);
    if (usual.length > RETAINED) usual.shift();
  }

  /** Looks up what is usual for a circuit, before samples are put into the book that are not part of it. */
  #usual(circuitId: number): DatedCounts[] {
    const known = this.#byCircuit.get(circuitId);
    if (known !== undefined) return known;
    const rows = this.#select.all(circuitId).reverse();
    const usual = rows.flatMap((row) => datedCounts(sampleOf(row)) ?? []);
    this.#byCircuit.set(circuitId, usual);
    return usual;
  }

  /** The circuit as a carts file describes it; undefined when none has. */
  #circuit(circuitId: number): Circuit | undefined {
    const row = this.#selectBody.first(circuitId);
    return row?.body == null ? undefined : circuitSchema.parse(JSON.parse(row.body));
  }
}

/** How many of some counts, oldest first, are of no later day. */
function placeOf({ drawnOn }: DatedCounts, all: readonly DatedCounts[]): number {
  let [low, high] = [0, all.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((all[middle] as DatedCounts).drawnOn > drawnOn) high = middle;
    else low = middle + 1;
  }
  return low;
}
