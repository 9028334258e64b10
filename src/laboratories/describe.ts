import type { LaboratoryComparison } from "./compare.js";
import {
  type Bias,
  type ComparedLaboratory,
  type ComparedQuantity,
  MEAN_OF_ALL,
  MIN_MATERIALS,
} from "./quantity.js";
import type { ComparedSpread } from "./spreads.js";

/** What a comparison says, the answer first. */
export interface DescribedComparison {
  readonly answer: string;
  /** A sentence for each difference and for each quantity in which laboratories agree. */
  readonly findings: readonly string[];
  /** Titles and rows of a table of every laboratory in every quantity; a quantity is named in its first row. */
  readonly head: readonly string[];
  readonly rows: readonly (readonly string[])[];
  /** What covers all laboratories in each quantity, to be stated in a requirement. */
  readonly cover: readonly string[];
}

/** Whether any laboratory was found to read otherwise than the others. */
export function hasDifference({ quantities }: LaboratoryComparison): boolean {
  return quantities.some(({ laboratories }) => laboratories.some(({ bias }) => isDifferent(bias)));
}

/** Whether any two laboratories could be compared. */
export function hasComparison({ quantities }: LaboratoryComparison): boolean {
  return quantities.some(isCompared);
}

/**
 * Says whether laboratories agree.
 *
 * @returns the answer in one sentence, the findings, and a table of all numbers in three digits
 */
export function describeLaboratories(comparison: LaboratoryComparison): DescribedComparison {
  const { quantities } = comparison;
  const compared = quantities.filter(isCompared);
  const hasRuns = quantities.some(({ laboratories }) => laboratories.some(({ runs }) => runs !== undefined));
  return {
    answer: answerOf(comparison),
    findings: compared.flatMap(findingsOf),
    head: [
      "quantity",
      "laboratory",
      "fluids",
      "bias",
      "spread of bottles",
      ...(hasRuns ? ["of counts"] : []),
    ],
    rows: quantities.flatMap((quantity) =>
      quantity.laboratories.map(({ laboratory, bias, bottles, runs }, index) => [
        index === 0 ? quantity.quantity : "",
        laboratory,
        String(bias.materials),
        biasInTable(bias, quantity),
        spreadInTable(bottles, quantity),
        ...(hasRuns ? [runs === undefined ? "" : spreadInTable(runs, quantity)] : []),
      ]),
    ),
    cover: compared.flatMap(({ quantity, coverAll, unit }) =>
      coverAll === undefined
        ? []
        : [`${quantity}: ${unit === undefined ? `${percent(coverAll)} %` : `${digits(coverAll)} ${unit}`}`],
    ),
  };
}

function answerOf(comparison: LaboratoryComparison): string {
  const { quantities } = comparison;
  if (quantities.length === 0)
    return "No result names its laboratory or counter, so there is nothing to compare.";
  const compared = quantities.filter(isCompared);
  if (compared.length === 0) {
    const most = Math.max(
      ...quantities.flatMap(({ laboratories }) => laboratories.map(({ bias }) => bias.materials)),
    );
    return `Too few pairs to say: two laboratories share at most ${most} ${most === 1 ? "fluid" : "fluids"}, and ${MIN_MATERIALS} are needed.`;
  }
  const different = compared.filter(({ laboratories }) => laboratories.some(({ bias }) => isDifferent(bias)));
  if (different.length === 0) {
    return `No difference between laboratories was found in ${howMany(compared.length)} compared.`;
  }
  return `Laboratories differ in ${different.length} of ${howMany(compared.length)} compared.`;
}

function howMany(count: number): string {
  return count === 1 ? "1 quantity" : `${count} quantities`;
}

/** Each laboratory that differs; where all agree, within what. */
function findingsOf(quantity: ComparedQuantity): string[] {
  const different = quantity.laboratories.filter(({ bias }) => isDifferent(bias));
  if (different.length > 0) return different.map((one) => differenceOf(one, quantity));
  const members = quantity.laboratories.filter(({ bias }) => bias.kind !== "too-few");
  const names = listed(members.map(({ laboratory }) => laboratory));
  const ends = members.flatMap(({ bias }) => (bias.kind === "compared" ? [bias.low, bias.high] : []));
  if (ends.length === 0) return [`${names}: the same ${quantity.quantity} each time, to the last digit.`];
  const within =
    quantity.unit === undefined
      ? `a factor of ${digits(Math.max(...ends.map((end) => Math.max(end, 1 / end))))}`
      : `${digits(Math.max(...ends.map(Math.abs)))} ${quantity.unit}`;
  return [`${names} agree within ${within}: ${quantity.quantity}.`];
}

function differenceOf(
  { laboratory, bias }: ComparedLaboratory,
  { quantity, unit }: ComparedQuantity,
): string {
  if (bias.kind === "no-scatter") {
    const by =
      unit === undefined ? `a factor of ${digits(bias.estimate)}` : `${signed(bias.estimate)} ${unit}`;
    return `${laboratory} differs from ${bias.against} by ${by} each time: ${quantity}.`;
  }
  if (bias.kind !== "compared") return "";
  const { estimate, low, high, against, materials } = bias;
  const from = `(${digits(low)} to ${digits(high)}; ${materials} fluids)`;
  if (unit === undefined) {
    const of = against === MEAN_OF_ALL ? against : `what ${against} counts`;
    return `${laboratory} counts ${digits(estimate)} times ${of} ${from}: ${quantity}.`;
  }
  const [least, most] = low > 0 ? [low, high] : [-high, -low];
  return (
    `${laboratory} reads ${digits(Math.abs(estimate))} ${unit} ${low > 0 ? "higher" : "lower"} than ${against} ` +
    `(${digits(least)} to ${digits(most)}; ${materials} fluids): ${quantity}.`
  );
}

function biasInTable(bias: Bias, { unit }: ComparedQuantity): string {
  if (bias.kind === "reference") return "reference";
  if (bias.kind === "too-few") return `too few, ${bias.needed} needed`;
  const estimate = unit === undefined ? `× ${digits(bias.estimate)}` : `${signed(bias.estimate)} ${unit}`;
  if (bias.kind === "no-scatter") return `${estimate} each time`;
  return `${estimate} (${digits(bias.low)} to ${digits(bias.high)})`;
}

function spreadInTable(spread: ComparedSpread, { unit }: ComparedQuantity): string {
  if (spread.kind === "too-few")
    return spread.degreesOfFreedom === 0 ? "" : `too few (${spread.degreesOfFreedom})`;
  if (spread.kind === "all-equal") return "all equal";
  const [sd, low, high] = [spread.sd, spread.low, spread.high].map(unit === undefined ? percent : digits);
  return `${sd} ${unit ?? "%"} (${low} to ${high})`;
}

function isCompared({ laboratories }: ComparedQuantity): boolean {
  return laboratories.some(({ bias }) => bias.kind === "compared" || bias.kind === "no-scatter");
}

function isDifferent(bias: Bias): boolean {
  return (bias.kind === "compared" || bias.kind === "no-scatter") && bias.differs;
}

function listed(names: readonly string[]): string {
  return names.length < 2 ? names.join("") : `${names.slice(0, -1).join(", ")} and ${names.at(-1)}`;
}

/** Three digits are more than any interval deserves. */
function digits(value: number): string {
  return String(Number(value.toPrecision(3)));
}

function percent(fraction: number): string {
  return String(Number((100 * fraction).toPrecision(2)));
}

function signed(value: number): string {
  return value > 0 ? `+${digits(value)}` : digits(value);
}
