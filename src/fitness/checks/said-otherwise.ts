import type { ParticleLimit } from "../../cleanliness/index.js";
import { formatMeasured, nameOfCount, type Sample, wordedCounts } from "../../samples/index.js";

/**
 * What the report gives of particles where it gives no counts; empty when it gives nothing.
 *
 * Who reads that counts are missing looks into the report first, and must find there what the message speaks of.
 */
export function describeInPlaceOfCounts(sample: Sample): string {
  const { reportedClasses = [], otherScaleCounts = [], limitedCounts = [] } = sample;
  const said = [
    ...reportedClasses.map(({ standard, class: name }) =>
      name.startsWith(standard) ? name : `${standard} ${name}`,
    ),
    ...(otherScaleCounts.length > 0 ? ["counts on another size scale"] : []),
    ...limitedCounts.map(describeLimited),
    ...wordedCounts(sample).map(({ measurand, said }) => `"${said}" as ${measurand}`),
  ];
  return said.length === 0
    ? ""
    : `; its report gives ${said.join(", ")}, and limits are compared with counts in µm(c) or a class of the target's own ` +
        "standard and edition, written with its sizes or its table and no other note";
}

/** What the report gives at the sizes of limits that have no count; empty when it gives nothing. */
export function describeInPlaceOf(
  limits: readonly ParticleLimit[],
  { limitedCounts = [], wordedResults = [] }: Sample,
): string {
  const sizes = new Set(
    limits.flatMap(({ fromUm, toUm }) => (toUm === undefined ? [fromUm] : [fromUm, toUm])),
  );
  const said = [
    ...limitedCounts.filter(({ sizeUm }) => sizes.has(sizeUm)).map(describeLimited),
    ...wordedResults.flatMap(({ measurand, said }) =>
      [...sizes].some((size) => measurand === nameOfCount(size)) ? [`"${said}" as ${measurand}`] : [],
    ),
  ];
  return said.length === 0 ? "" : `; the report gives ${said.join(", ")}, which is no number`;
}

/** What the report says in words of a quantity that is no particle count; undefined when it says nothing. */
export function describeInWords({ wordedResults = [] }: Sample, quantity: string): string | undefined {
  return wordedResults.find(({ measurand }) => measurand === quantity)?.said;
}

function describeLimited({
  sizeUm,
  volumeMl,
  ...measured
}: NonNullable<Sample["limitedCounts"]>[number]): string {
  const volume = volumeMl === 1 ? "mL" : `${volumeMl} mL`;
  return `${formatMeasured({ value: measured.count, limit: measured.limit })} per ${volume} above ${sizeUm} µm(c)`;
}
