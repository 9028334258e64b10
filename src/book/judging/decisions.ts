import {
  type CircuitDecision,
  type DecisionEntry,
  decisionToLift,
  faultOfDecision,
  faultOfLifting,
  type LiftingEntry,
  type NamedCircuit,
  plainCircuit,
  type Verdict,
  type VerdictName,
} from "../../fitness/index.js";
import { inEntry, type Step } from "../chain/entry.js";
import { verdictChecker } from "../chain/trust.js";
import { BookError, type Connection, firstOf, rowsOf } from "../storage/database.js";
import { given } from "../storage/given.js";
import { inserterInto } from "../storage/insert.js";
import { unpack } from "./pack-record.js";

/** What a person decided against a verdict. */
export interface Override extends DecisionEntry {
  readonly at: string;
}

/** Who enters a decision, for the record; the person who decided when absent. */
export interface EnteredBy {
  readonly by?: string;
}

/** Columns of a decision and of its lifting. */
export interface DecisionRow {
  readonly id: number;
  readonly cart: string;
  readonly circuit: string;
  readonly at: string;
  readonly person: string;
  readonly second: string | null;
  readonly decision: VerdictName;
  readonly reason: string;
  readonly until: string | null;
  readonly lifted_at: string | null;
  readonly lifted_by: string;
  readonly lifted_because: string;
}

/**
 * Everything that people decided about circuits, oldest first, with what was lifted.
 *
 * @throws BookError when a verdict that one was made on was damaged
 */
export function decisionsIn(db: Connection): CircuitDecision[] {
  return rowsOf<DecisionRow & { readonly result: Buffer | null; readonly result_sha256: string }>(
    db,
    `SELECT override.*, result, result_sha256, lifting.at AS lifted_at, lifting.person AS lifted_by,
       lifting.reason AS lifted_because
     FROM override LEFT JOIN verdict ON verdict.id = verdict_id LEFT JOIN lifting ON override_id = override.id
     ORDER BY override.id`,
  ).map(({ result, result_sha256, ...row }) =>
    asDecision(row, result === null ? undefined : unpack(result, result_sha256, "the verdict")),
  );
}

/**
 * A decision as its rows have it.
 *
 * @param madeOn - the verdict that it was made on, as text
 */
export function asDecision(row: DecisionRow, madeOn: string | undefined): CircuitDecision {
  const { id, cart, circuit, at, person, second, decision, reason, until, lifted_at } = row;
  return {
    ...given({ number: id, cart, circuit, at, person, second, decision, reason, until }),
    ...(madeOn !== undefined && { madeOn: partOfVerdict(madeOn) }),
    ...(lifted_at !== null && {
      lifted: { at: lifted_at, person: row.lifted_by, reason: row.lifted_because },
    }),
  };
}

function partOfVerdict(text: string): NonNullable<CircuitDecision["madeOn"]> {
  const { verdict, on, reasons, sample } = JSON.parse(text) as Verdict;
  return { verdict, on, reasons, ...(sample && { sample }) };
}

/** The decisions that were made on one verdict, oldest first. */
export function overridesOf(db: Connection, verdictId: number): Override[] {
  return rowsOf<Pick<DecisionRow, "at" | "person" | "second" | "decision" | "reason" | "until">>(
    db,
    "SELECT at, person, second, decision, reason, until FROM override WHERE verdict_id = ? ORDER BY id",
    verdictId,
  ).map(given);
}

/**
 * Keeps what a person decided against a verdict. The verdict stays as it was computed.
 *
 * @throws BookError when there is no such verdict, or the decision cannot be entered; see `faultOfDecision`
 */
export function keepOverride(
  db: Connection,
  verdictId: number,
  override: Override,
  entered: EnteredBy,
): CircuitDecision {
  return inEntry(db, decided(override, entered), () => {
    const row = firstOf<NamedCircuit & { verdict: VerdictName; on: string }>(
      db,
      'SELECT cart, circuit, verdict, judged_on AS "on" FROM verdict WHERE id = ?',
      verdictId,
    );
    if (row === undefined) throw new BookError(`the book has no verdict number ${verdictId}`);
    verdictChecker(db)(verdictId);
    const { cart, circuit, verdict, on } = row;
    const fault = faultOfDecision(override, { verdict, on }, decisionsAbout(db, row));
    if (fault !== undefined) throw new BookError(fault);
    return insert(db, override, { cart, circuit }, verdictId);
  });
}

/**
 * Keeps what a person decided about a circuit that has no verdict.
 *
 * @throws BookError when the book does not know the circuit, or the decision cannot be entered; see `faultOfDecision`
 */
export function keepUnjudged(
  db: Connection,
  named: NamedCircuit,
  override: Override,
  entered: EnteredBy,
): CircuitDecision {
  return inEntry(db, decided(override, entered), () => {
    const circuits = rowsOf<NamedCircuit>(
      db,
      "SELECT cart, circuit FROM circuit JOIN cart ON cart.id = cart_id ORDER BY cart, circuit",
    );
    const { cart, circuit } = named;
    if (!circuits.some((known) => known.cart === cart && known.circuit === circuit)) {
      const known = circuits.map((entry) => `${entry.cart} / ${entry.circuit}`).join(", ") || "none";
      throw new BookError(`the book has no circuit "${circuit}" of cart "${cart}"; it has ${known}`);
    }
    const fault = faultOfDecision(override, undefined, decisionsAbout(db, named));
    if (fault !== undefined) {
      throw new BookError(`the book has no verdict on circuit "${circuit}" of cart "${cart}": ${fault}`);
    }
    return insert(db, override, { cart, circuit }, null);
  });
}

function decided({ person }: Override, { by = person }: EnteredBy): Step<CircuitDecision> {
  const subject = ({ number, cart, circuit, decision }: CircuitDecision) =>
    `decision ${number} about cart ${cart}, circuit ${circuit}: ${decision}`;
  return { kind: "override", by, subject };
}

function insert(
  db: Connection,
  override: Override,
  circuit: NamedCircuit,
  verdictId: number | null,
): CircuitDecision {
  const { at, person, second = null, decision, reason, until = null } = override;
  const row = { ...circuit, verdict_id: verdictId, at, person, second, decision, reason, until };
  const number = inserterInto(db, "override")(row).id;
  return decisionsAbout(db, circuit).find((kept) => kept.number === number) as CircuitDecision;
}

/**
 * Lifts a decision about a circuit. It stays in the book with who lifted it and why.
 *
 * @returns the decision as it is now
 * @throws BookError when no single decision can be meant, or person or reason are blank
 */
export function liftDecision(
  db: Connection,
  circuit: NamedCircuit,
  lifting: LiftingEntry & { readonly at: string },
  { by = lifting.person }: EnteredBy,
): CircuitDecision {
  const subject = ({ number }: CircuitDecision) =>
    `decision ${number} about cart ${circuit.cart}, circuit ${circuit.circuit}, lifted`;
  return inEntry(db, { kind: "lifting", by, subject }, () => {
    const fault = faultOfLifting(lifting);
    if (fault !== undefined) throw new BookError(fault);
    const found = decisionToLift(decisionsAbout(db, circuit), lifting.number);
    if (typeof found === "string")
      throw new BookError(`${circuit.cart}, circuit ${circuit.circuit}: ${found}`);
    const { at, person, reason } = lifting;
    inserterInto(db, "lifting")({ override_id: found.number, at, person, reason });
    return { ...found, lifted: { at, person, reason } };
  });
}

function decisionsAbout(db: Connection, circuit: NamedCircuit): CircuitDecision[] {
  return decisionsIn(db).filter((decision) => plainCircuit(decision) === plainCircuit(circuit));
}
