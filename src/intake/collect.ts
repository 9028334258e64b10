import { isDeepStrictEqual } from "node:util";
import { type Cart, resultsOf, type Sample } from "../samples/index.js";
import type { IntakeIssue, QuarantinedRow } from "./issue.js";
import type { LabFile } from "./lab-file.js";

/** The samples of several files together. */
export interface Collection {
  readonly samples: readonly Sample[];
  readonly quarantine: readonly QuarantinedRow[];
  /** Samples that stood in more than one place with the same results, and were taken once. */
  readonly repeated: number;
}

/**
 * Puts the samples of several files together.
 *
 * A sample is known by cart, circuit and number. The same results again are taken once, with both origins. Different
 * results under one number are all quarantined, because it is not known which are right. A sample of a circuit that is
 * not in the carts file is quarantined.
 *
 * @param files - files as read
 * @param carts - the known carts
 */
export function collectSamples(files: readonly LabFile[], carts: readonly Cart[]): Collection {
  const byNumber = new Map<string, Sample[]>();
  for (const sample of files.flatMap((file) => file.samples)) {
    const key = JSON.stringify([sample.cart, sample.circuit, sample.sample]);
    byNumber.set(key, [...(byNumber.get(key) ?? []), sample]);
  }
  const known = new Set(
    carts.flatMap(({ cart, circuits }) => circuits.map(({ circuit }) => `${cart} / ${circuit}`)),
  );
  const expectedCircuit = `a circuit of the carts file (${sayKnown([...known])})`;
  const samples: Sample[] = [];
  const quarantine: QuarantinedRow[] = files.flatMap((file) => file.quarantine);
  let repeated = 0;
  for (const same of byNumber.values()) {
    const [first, ...others] = same as [Sample, ...Sample[]];
    if (!known.has(`${first.cart} / ${first.circuit}`)) {
      quarantine.push(
        ...same.flatMap((sample) => setAside(sample, "circuit-not-known", "circuit", expectedCircuit)),
      );
    } else if (others.every((other) => isDeepStrictEqual(resultsOf(other), resultsOf(first)))) {
      const accepted = [...new Set(same.flatMap(({ acceptedChecks = [] }) => acceptedChecks))];
      samples.push({
        ...first,
        ...(accepted.length > 0 && { acceptedChecks: accepted }),
        origin: same.flatMap((sample) => sample.origin),
      });
      repeated += others.length;
    } else {
      const expected = `the same results wherever sample ${first.sample} stands`;
      quarantine.push(
        ...same.flatMap((sample) => setAside(sample, "conflicting-results", "sample", expected)),
      );
    }
  }
  return { samples, quarantine, repeated };
}

/** A large fleet is not listed with every row. */
const MAX_LISTED = 30;

function sayKnown(names: readonly string[]): string {
  const more = names.length - MAX_LISTED;
  return names.slice(0, MAX_LISTED).join(", ") + (more > 0 ? `, and ${more} more` : "");
}

function setAside(
  sample: Sample,
  code: IntakeIssue["code"],
  column: "sample" | "circuit",
  expected: string,
): QuarantinedRow[] {
  const value = column === "sample" ? sample.sample : `${sample.cart} / ${sample.circuit}`;
  return sample.origin.flatMap(({ file, sheet, rows }) =>
    rows.map((row) => ({
      file,
      ...(sheet !== undefined && { sheet }),
      row,
      text: JSON.stringify(resultsOf(sample)),
      issues: [{ code, file, ...(sheet !== undefined && { sheet }), row, column, value, expected }],
      cart: sample.cart,
      circuit: sample.circuit,
      drawnOn: sample.drawnOn,
    })),
  );
}
