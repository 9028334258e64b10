import {
  type DatedCounts,
  datedCounts,
  describeUnusual,
  LOOK_BACK,
  unusualCounts,
} from "../../fitness/index.js";
import { CHECKS, type CheckCode, type Finding } from "../../intake/index.js";
import { type Circuit, circuitSchema, type Sample } from "../../samples/index.js";
import type { Connection } from "../storage/database.js";

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
    this.#select = db.prepare(
      `SELECT drawn_on, count_volume_ml, counts FROM sample WHERE circuit_id = ? AND counts IS NOT NULL
         ORDER BY drawn_on DESC, id DESC LIMIT ${RETAINED}`,
    );
    this.#selectBody = db.prepare("SELECT body FROM circuit WHERE id = ?");
  }

  /**
   * Whether the counts of a sample are far from what its circuit has shown before.
   *
   * @returns a finding, or undefined when they are not or when too little is known of the circuit
   */
  check(circuitId: number, sample: Sample): Finding | undefined {
    const counted = datedCounts(sample);
    if (counted === undefined) return undefined;
    const all = this.#usual(circuitId);
    const isLatest = (all.at(-1)?.drawnOn ?? "") <= counted.drawnOn;
    const earlier = isLatest ? all : all.filter(({ drawnOn }) => drawnOn <= counted.drawnOn);
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
  add(circuitId: number, sample: Sample): void {
    const counted = datedCounts(sample);
    if (counted === undefined) return;
    const usual = this.#usual(circuitId);
    const after = usual.findLastIndex(({ drawnOn }) => drawnOn <= counted.drawnOn);
    usual.splice(after + 1, 0, counted);
    if (usual.length > RETAINED) usual.shift();
  }

  /** Looks up what is usual for a circuit, before samples are put into the book that are not part of it. */
  #usual(circuitId: number): DatedCounts[] {
    const known = this.#byCircuit.get(circuitId);
    if (known !== undefined) return known;
    const rows = this.#select.all(circuitId) as {
      drawn_on: string;
      count_volume_ml: number;
      counts: string;
    }[];
    const usual = rows.reverse().map(({ drawn_on, count_volume_ml, counts }): DatedCounts => {
      const bySize = Object.entries(JSON.parse(counts) as Record<string, number>);
      return {
        drawnOn: drawn_on,
        sizesUm: bySize.map(([size]) => Number(size)),
        perMl: bySize.map(([, count]) => count / count_volume_ml),
      };
    });
    this.#byCircuit.set(circuitId, usual);
    return usual;
  }

  /** The circuit as a carts file describes it; undefined when none has. */
  #circuit(circuitId: number): Circuit | undefined {
    const row = this.#selectBody.get(circuitId) as { body: string | null } | undefined;
    return row?.body == null ? undefined : circuitSchema.parse(JSON.parse(row.body));
  }
}
