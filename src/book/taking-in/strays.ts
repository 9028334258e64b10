import type { NamedCart, UnreadResult } from "../../fitness/index.js";
import type { QuarantinedRow } from "../../intake/index.js";
import { describeOrigin } from "../../provenance/index.js";
import { NameIndex, type Origin } from "../../samples/index.js";
import { CircuitFinder, otherCartsIn } from "../judging/fleet.js";
import { type Connection, rowsOf } from "../storage/database.js";
import { type SampleRow, SELECT_SAMPLES, sampleOf } from "../storage/sample-row.js";
import { dropEmptyCircuits } from "./empty-circuits.js";
import { quarantineInserter, rowsOfReport } from "./quarantine-rows.js";
import { removeSample, reportsOf } from "./reports-of-sample.js";

/** The code of the assumption that a file's names were taken as they stand, because the book knew no carts. */
export const UNCHECKED_NAMES = "names-not-checked";

/** Files that came in before the book knew carts. */
const IS_UNCHECKED = `file.assumptions LIKE '%"${UNCHECKED_NAMES}"%'`;

/**
 * The newest sample of each circuit that is not among some carts, where it may be a sample of one that is.
 *
 * A sample that came in while the book knew its circuit is surely of that one, although a later carts file leaves the circuit
 * out. Such a sample is given only where its names could be taken for those of a circuit of the carts.
 */
export function samplesOfNoCircuit(db: Connection, carts: readonly NamedCart[]): UnreadResult[] {
  const index = new NameIndex(carts.map(({ cart }) => cart));
  const circuitsOf = new Map(
    carts.map(({ cart, circuits }) => [cart, new NameIndex(circuits.map(({ circuit }) => circuit))]),
  );
  const isKnown = (cart: string, circuit: string) => circuitsOf.get(cart)?.names.includes(circuit) ?? false;
  const isLikeAKnownOne = (cart: string, circuit: string) =>
    index.alike(cart).some((name) => circuitsOf.get(name)?.alike(circuit).length);
  const all = rowsOf<{ id: number; cart: string; circuit: string; described: number }>(
    db,
    "SELECT circuit.id, cart, circuit, body IS NOT NULL AS described FROM circuit JOIN cart ON cart.id = cart_id",
  );
  return all.flatMap(({ id, cart, circuit, described }) => {
    if (isKnown(cart, circuit)) return [];
    if (isLikeAKnownOne(cart, circuit)) return newestOf(db, id, "TRUE");
    return described ? [] : newestOf(db, id, IS_UNCHECKED);
  });
}

function newestOf(db: Connection, circuitId: number, condition: string): UnreadResult[] {
  return rowsOf<SampleRow>(
    db,
    `${SELECT_SAMPLES} WHERE circuit_id = ? AND ${condition} ORDER BY drawn_on DESC, sample.id LIMIT 1`,
    circuitId,
  ).map((row) => {
    const { cart, circuit, sample, drawnOn, origin } = sampleOf(row);
    const [first] = origin as [Origin];
    const where = describeOrigin({ ...first, rows: first.rows.slice(0, 1) });
    return { cart, circuit, drawnOn, sample, where };
  });
}

/**
 * Puts samples into quarantine that came in before the book knew its carts and that name none of their circuits: what an
 * import would have done had it known them.
 *
 * @returns the rows that are now in quarantine, but for those of carts of other bases
 */
export function setStraysAside(db: Connection): QuarantinedRow[] {
  const strays = rowsOf<SampleRow>(
    db,
    `${SELECT_SAMPLES} WHERE body IS NULL AND ${IS_UNCHECKED} ORDER BY sample.id`,
  );
  if (strays.length === 0) return [];
  const circuits = new CircuitFinder(db);
  const rows = strays.flatMap((row) => setAside(db, row, circuits));
  dropEmptyCircuits(db);
  const others = new Set<string | undefined>(otherCartsIn(db));
  return rows.filter(({ cart }) => !others.has(cart));
}

function setAside(db: Connection, stray: SampleRow, circuits: CircuitFinder): QuarantinedRow[] {
  const finding = circuits.whyUnknown(sampleOf(stray));
  // With every report that the sample was put together from.
  const reports = reportsOf(db, stray);
  removeSample(db, stray.id);
  const keep = quarantineInserter(db);
  return reports.flatMap((report) => {
    const rows = rowsOfReport(db, report, [finding]);
    for (const row of rows) keep(report.fileId, row);
    return rows;
  });
}
