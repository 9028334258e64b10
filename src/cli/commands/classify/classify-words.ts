import {
  type ClassesConfidence,
  type ClassifiedChannel,
  type ClassResult,
  type CleanlinessTarget,
  type FullClassification,
  formatIso4406,
  formatSize,
  formatTarget,
  ISO_4406_SIZES_UM,
  type JointProbability,
  NAVY_CLASSES,
  type ProbabilityRange,
  pairedUm,
  SIZE_PAIRS,
  type TableCounts,
  type TargetAssessment,
} from "../../../cleanliness/index.js";
import { bringToVolume } from "../../../counts/index.js";
import { SOURCES } from "../../../provenance/index.js";
import { formatPercent, inTwoDigits } from "../../../units/index.js";
import { drawLines, drawList, drawTable, formatCount, formatNumber } from "../../text.js";

/** The classes in a line each, with the channel that governs and its count. */
export function formatClassesInBrief(counts: TableCounts, classes: FullClassification): string {
  const per = counts.volumeMl === 1 ? "per mL" : `per ${counts.volumeMl} mL`;
  const { iso4406, milStd1246 } = classes;
  const lines = servedClasses(classes).map((result): [string, string[]] => {
    const channel = result.channels.find((entry) => entry.channel === result.governing);
    const found =
      channel === undefined ? "" : `: ${formatChannel(counts, result)}, ${formatCount(channel.count)} ${per}`;
    return [result.standard, [`${describeClass(result.class)}${found}`]];
  });
  if (iso4406 !== undefined) lines.unshift(["ISO 4406", [formatIso4406(iso4406)]]);
  if (milStd1246 !== undefined)
    lines.push([milStd1246.standard, [`level ${formatNumber(milStd1246.level)}`]]);
  return drawList(lines);
}

/** Whether the target is met, in a line. */
export function describeTargetInBrief(
  counts: TableCounts,
  target: CleanlinessTarget,
  { outcome, channels, probability }: TargetAssessment,
): string {
  const words = { inside: "is met", outside: "is exceeded", "not-known": "cannot be judged" }[outcome];
  const named = channels.flatMap((entry) => {
    if (entry.outcome === "inside") return [];
    if (entry.outcome === "not-measured") return [`${entry.limit.channel} not measured`];
    const limit = bringToVolume(entry.limit.limit, entry.limit.volumeMl, counts.volumeMl);
    return [`${entry.limit.channel} ${formatCount(entry.count)}, limit ${formatCount(limit)}`];
  });
  const sure = probability === undefined ? "" : `; probability of being inside ${describeJoint(probability)}`;
  return drawLines([
    `Target ${formatTarget(target)} ${words}${named.length === 0 ? "" : `: channel ${named.join("; ")}`}${sure}.`,
  ]);
}

/** The classes as a table, and a sentence for each standard on the channel that governs. */
export function formatClasses(counts: TableCounts, classes: FullClassification): string {
  const served = servedClasses(classes);
  const rows = served.map((result) => [
    result.standard,
    result.class,
    result.channels.map((channel) => `${channel.channel}: ${channel.class}${mark(channel)}`).join("  "),
    result.governing,
  ]);
  const { iso4406, milStd1246 } = classes;
  if (iso4406 !== undefined) {
    const sizes = ISO_4406_SIZES_UM.slice(counts.scale === "um(c)" ? 0 : 1);
    rows.unshift([
      "ISO 4406",
      formatIso4406(iso4406),
      `at ${sizes.map((size) => formatSize(counts, size)).join(", ")}`,
      "",
    ]);
  }
  if (milStd1246 !== undefined) {
    const byUm = milStd1246.channels
      .map(({ sizeUm, level }) => `${sizeUm}: ${formatNumber(level)}`)
      .join("  ");
    rows.push([milStd1246.standard, formatNumber(milStd1246.level), byUm, String(milStd1246.governingUm)]);
  }
  const marked = served.some((result) => result.channels.some((channel) => mark(channel) !== ""));
  const note = marked ? "c: read at a size converted or paired from another scale; e: estimated\n" : "";
  return `${drawTable(["standard", "class", "by channel", "governing"], rows)}${note}\n${served
    .map((result) => `${describeGoverning(counts, result)}\n`)
    .join("")}`;
}

function servedClasses(classes: FullClassification): ClassResult<string, string>[] {
  const results: readonly (ClassResult<string, string> | undefined)[] = [
    classes.as4059Cumulative,
    classes.as4059Differential,
    classes.nas1638,
    classes.navy,
    classes.gost17216,
  ];
  return results.filter((result) => result !== undefined);
}

function mark({ basis }: ClassifiedChannel<string, string>): string {
  return { measured: "", converted: " c", estimated: " e" }[basis];
}

/** One sentence on why a sample has its class. */
function describeGoverning(counts: TableCounts, result: ClassResult<string, string>): string {
  const channel = result.channels.find((entry) => entry.channel === result.governing);
  if (channel === undefined) return "";
  const per = counts.volumeMl === 1 ? "per mL" : `per ${counts.volumeMl} mL`;
  const number = (perTable: number) =>
    formatCount(bringToVolume(perTable, result.limitVolumeMl, counts.volumeMl));
  const found = `${result.standard} is ${describeClass(result.class)} because of ${formatChannel(counts, result)}: ${formatCount(channel.count)} ${per}`;
  const also = result.channels
    .filter((entry) => entry.class === result.class && entry.channel !== channel.channel)
    .map((entry) => entry.channel);
  const together =
    also.length === 0 ? "" : ` ${also.join(", ")} ${also.length === 1 ? "is" : "are"} in it too.`;
  if (channel.margin < 0) {
    return `${found}, ${inTwoDigits(channel.share)} times the ${number(channel.limit)} that the last class allows.${together}`;
  }
  const from = channel.moreThan === undefined ? "" : `from above ${number(channel.moreThan)} `;
  return (
    `${found}. ${capital(describeClass(result.class))} runs ${from}up to ${number(channel.limit)}, ` +
    `so ${formatCount(channel.margin)} are left.${together}`
  );
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

function describeClass(name: string): string {
  return name.startsWith("beyond") ? `beyond class ${name.slice("beyond ".length)}` : `class ${name}`;
}

const SIZE_CODE = /^[A-F]$/;

function formatChannel(counts: TableCounts, result: ClassResult<string, string>): string {
  const name = result.governing;
  if (!SIZE_CODE.test(name)) {
    const printed = result.standard === NAVY_CLASSES.standard || result.source === "GOST-17216";
    return name.startsWith(">")
      ? `particles above ${printed ? `${name.slice(1)} µm` : describeEnd(counts, name.slice(1))}`
      : `the range ${
          printed
            ? `${name} µm`
            : name
                .split("-")
                .map((end) => describeEnd(counts, end))
                .join(" to ")
        }`;
  }
  const umC = SIZE_PAIRS.filter((pair) => pair.umC !== 10)["ABCDEF".indexOf(name)]?.umC ?? Number.NaN;
  return `size ${name}, particles above ${formatSize(counts, umC)}`;
}

function describeEnd(counts: TableCounts, end: string): string {
  return counts.scale === "um(c)" ? `${end} µm(c)` : `${pairedUm(Number(end)) ?? end} µm`;
}

/** Limits of new fluid, with how well each is confirmed. */
export function describeNewFluid({ newFluid }: FullClassification): string {
  if (newFluid.length === 0) return "";
  const rows = newFluid.map(({ specification, outcome, source }) => [
    specification,
    outcome === "not-known" ? "not known" : outcome,
    SOURCES[source].standing,
  ]);
  const doubts = newFluid.flatMap(({ specification, doubt }) =>
    doubt === undefined ? [] : [`${specification}: ${doubt}.\n`],
  );
  const head = "\nCompared with limits for new fluid, which do not apply in service:\n";
  return head + drawTable(["specification", "counts are", "limits stand on"], rows) + doubts.join("");
}

/** What the sizes could not serve. */
export function describeUnserved(counts: TableCounts, { unserved }: FullClassification): string {
  const unit = counts.scale === "um(c)" ? "µm(c)" : "µm";
  const required = {
    all: (sizes: string) => `all of ${sizes} ${unit}`,
    one: (sizes: string) => `one of ${sizes} ${unit}`,
    "two neighbours": (sizes: string) => `two adjacent sizes of ${sizes} ${unit}`,
    "two neighbours or the last": (sizes: string) => `two adjacent sizes of ${sizes} ${unit}, or at the last`,
  };
  return unserved
    .map(({ standard, needsUm, needs }) => {
      return `No ${standard} class: it needs counts at ${required[needs](needsUm.join(", "))}.\n`;
    })
    .join("");
}

/** How sure the classes are. */
export function describeCertainty(certainty: ClassesConfidence): string {
  const tables = [
    ["ISO 4406", certainty.iso4406],
    ["AS4059 cumulative", certainty.as4059Cumulative],
    ["AS4059 differential", certainty.as4059Differential],
    ["NAS 1638", certainty.nas1638],
  ] as const;
  const rows = tables.flatMap(([standard, table]) =>
    (table?.channels ?? []).map((entry) =>
      entry.kind === "known"
        ? [
            standard,
            entry.channel,
            formatNumber(entry.raw),
            `${formatNumber(entry.rawInterval.low)} to ${formatNumber(entry.rawInterval.high)}`,
            entry.classes
              .filter(({ probability }) => probability >= 0.001)
              .map((part) => `${part.class}: ${formatProbability(part.probability)}`)
              .join("  "),
          ]
        : [standard, entry.channel, "", "", entry.why],
    ),
  );
  const code = certainty.iso4406?.code;
  const whole = code
    ? `Probability that the fluid has this ISO 4406 code as a whole: ${describeJoint(code)}.\n`
    : "";
  const rests =
    certainty.reproducibility === undefined
      ? "from counting alone; laboratories differ by more (--lab-rsd)"
      : "from counting and the laboratory's reproducibility";
  return `\nHow sure the classes are, ${rests}:\n${drawTable(
    ["standard", "channel", "particles counted", "95 % by counting", "probable classes"],
    rows,
  )}${whole}`;
}

/** Whether the target is met. */
export function describeTargetOutcome(
  counts: TableCounts,
  target: CleanlinessTarget,
  { outcome, channels, probability }: TargetAssessment,
): string {
  const words = { inside: "is met", outside: "is exceeded", "not-known": "cannot be judged" }[outcome];
  const rows = channels.map((entry) => [
    entry.limit.channel,
    entry.outcome === "not-measured" ? "not measured" : entry.outcome,
    entry.outcome === "not-measured" ? "" : formatCount(entry.count),
    formatCount(bringToVolume(entry.limit.limit, entry.limit.volumeMl, counts.volumeMl)),
    entry.probability === undefined ? "" : formatProbability(entry.probability),
  ]);
  const sure =
    probability === undefined ? "" : ` Probability that the fluid meets it: ${describeJoint(probability)}.`;
  return `\nThe target ${formatTarget(target)} ${words}.${sure}\n${drawTable(
    ["channel", "counts are", "count", "limit", "probability of being inside"],
    rows,
  )}`;
}

function describeJoint(joint: JointProbability): string {
  const wide = formatRange(joint);
  const alike = formatRange(joint.ifLaboratoryErrsAlike);
  return wide === alike ? wide : `${wide} (${alike} if the laboratory errs alike in all channels)`;
}

function formatRange({ atLeast, atMost }: ProbabilityRange): string {
  const low = formatProbability(atLeast);
  const high = formatProbability(atMost);
  return low === high ? low : `${low} to ${high}`;
}

/** A probability for reading; near the ends it is never said to be certain. */
function formatProbability(probability: number): string {
  if (probability > 0.999) return "over 99.9 %";
  if (probability < 0.001) return "under 0.1 %";
  return formatPercent(probability);
}
