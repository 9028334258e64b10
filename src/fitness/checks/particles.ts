import {
  type CirculationStart,
  countsUpstream,
  planCirculation,
  startOfCode,
  statedCirculation,
} from "../../circulation/index.js";
import {
  type CleanlinessTarget,
  type DecidedLimit,
  decideLimits,
  formatTarget,
  isOfStandard,
  type LimitBasis,
  mostUsed,
  readChannel,
  tryParseIso4406,
} from "../../cleanliness/index.js";
import { type AnyCountSet, CountError, type CountSet, toCumulative } from "../../counts/index.js";
import { type Assumption, joinAssumptions } from "../../provenance/index.js";
import { type Circuit, circulates, type Requirement, type Sample } from "../../samples/index.js";
import { formatPercent } from "../../units/index.js";
import type { AssessedChannel, Conformance, Finding } from "../assessed.js";
import { conformanceOfCounts, type FoundLimit } from "../confidence/counting-conformance.js";
import { describeSettlement } from "../confidence/settle.js";
import { type Reason, reason } from "../reasons.js";
import { countsToHold } from "./counted.js";
import { microscopeRanges } from "./microscope-ranges.js";
import { describeInPlaceOf, describeInPlaceOfCounts } from "./said-otherwise.js";
import { trustedClasses } from "./stated-classes.js";

/** A target with its limits held against what the report gives. */
interface HeldTarget {
  readonly target: CleanlinessTarget;
  readonly held: readonly DecidedLimit[];
}

/** A limit that the report decides. */
type Decided = Exclude<DecidedLimit, { outcome: "not-measured" }>;

/** Holds particles against every target of the requirement, plans a circulation, and says how sure "inside" is. */
export function checkParticles(circuit: Circuit, requirement: Requirement, sample: Sample): Finding {
  const { counts, limitedCounts: limited } = sample;
  const classes = trustedClasses(sample);
  const worst = counts && countsToHold(sample, counts);
  const targets = requirement.cleanliness.map((target) => {
    const report = { counts: worst, limited, classes, ownRanges: microscopeRanges(sample, target) };
    return { target, held: decideLimits(report, target) };
  });
  const held = targets.flatMap((entry) => entry.held);
  const decided = held.filter(isDecided);
  if (counts === undefined && decided.length === 0) {
    return {
      reasons: [
        reason(
          "particles-not-measured",
          `sample ${sample.sample} has no particle counts${describeInPlaceOfCounts(sample)}`,
        ),
      ],
      assessed: [{ quantity: "particles", outcome: "not-measured", channels: [] }],
    };
  }
  const estimated = decided.filter(({ limit, basis }) => {
    const reading = counts && readChannel(counts, limit.fromUm, limit.toUm);
    return basis === "counted" && reading !== undefined && reading.basis !== "measured";
  });
  const inside = decided.every((entry) => entry.outcome === "inside");
  const dirty = decided.some((entry) => entry.outcome === "outside" && !estimated.includes(entry));
  const complete = decided.length === held.length && estimated.length === 0;
  const found = decided.filter((entry): entry is FoundLimit => entry.found !== undefined);
  const sure =
    complete && found.length === held.length
      ? conformanceOfCounts(sample, found, requirement)
      : { assumptions: [], byChannel: [] };
  const reasons = [
    ...outsideFirst(targets.flatMap((entry) => describeTargets(entry, sample, dirty))),
    ...describeEstimated(estimated, dirty),
    ...(inside ? describeNotSure(sure.conformance, found.every(isCountedAt) && circulates(circuit)) : []),
  ];
  const circulateOn = reasons.some(({ code }) => code === "particles-too-close");
  const channels = targets.flatMap((entry) => channelsOf(entry, sure.byChannel));
  const outcome = !inside ? "outside" : complete ? "inside" : "not-measured";
  const assessed = [
    {
      quantity: "particles" as const,
      outcome,
      channels,
      ...(sure.conformance && { conformance: sure.conformance }),
    },
  ] as const;
  const assumptions = [...restsOn(decided, sample, requirement), ...sure.assumptions];
  if (inside && !circulateOn) return { reasons, assessed, assumptions };
  return { assessed, ...withPlan(circuit, sample, found, reasons, assumptions) };
}

function isCountedAt({ basis }: FoundLimit): boolean {
  return basis !== "class" && basis !== "limit-value";
}

function isDecided(entry: DecidedLimit): entry is Decided {
  return entry.outcome !== "not-measured";
}

/** What stands for the counts of channels that were not counted. */
function restsOn(
  decided: readonly Decided[],
  { sample, reportedClasses = [] }: Sample,
  { cleanliness }: Requirement,
): Assumption[] {
  const channelsBy = (basis: LimitBasis) => [
    ...new Set(decided.flatMap((entry) => (entry.basis === basis ? [entry.limit.channel] : []))),
  ];
  const [byClass, wider, microscope] = [
    channelsBy("class"),
    channelsBy("wider-channel"),
    channelsBy("own-ranges"),
  ];
  const classes = reportedClasses
    .filter(({ standard }) => cleanliness.some((target) => isOfStandard(standard, target.standard)))
    .map(({ class: name }) => `"${name}"`)
    .join(", ");
  return [
    ...(byClass.length === 0
      ? []
      : [
          {
            code: "class-without-counts",
            message: `channel ${byClass.join(", ")} of sample ${sample} was decided by the reported class ${classes}, taken at its upper edge`,
          },
        ]),
    ...(wider.length === 0
      ? []
      : [
          {
            code: "channel-within-wider-one",
            message: `channel ${wider.join(", ")} of sample ${sample} was not counted; no more particles are in it than in the wider channel that was`,
          },
        ]),
    ...(microscope.length === 0
      ? []
      : [
          {
            code: "ranges-by-microscope",
            message: `channel ${microscope.join(", ")} of sample ${sample} was counted under the microscope, in the ranges that the standard is written for`,
          },
        ]),
  ];
}

/** Plans from one set of counts: those that show a limit exceeded. Where the report gives no number, there is no plan. */
function withPlan(
  circuit: Circuit,
  sample: Sample,
  found: readonly FoundLimit[],
  reasons: readonly Reason[],
  assumptions: readonly Assumption[],
): Finding {
  const outside = found.filter(({ outcome }) => outcome === "outside");
  const decisive = mostUsed(
    (outside.length > 0 ? outside : found).map((entry) => ({ entry, share: entry.found.share })),
  )?.entry;
  if (decisive === undefined || !circulates(circuit)) return { reasons, assumptions };
  const counted = cumulativeOf(decisive.found.reading.counts);
  if (counted === undefined) return { reasons, assumptions };
  const stated = statedCirculation(circuit);
  const isDownstream = sample.samplePoint === "downstream-of-element";
  const upstream = isDownstream && countsUpstream(counted, stated.circuit);
  const start = upstream ? upstream.counts : counted;
  const limits = found.flatMap(({ limit }) =>
    readChannel(start, limit.fromUm, limit.toUm) === undefined ? [] : [limit],
  );
  const input = { ...stated.circuit, start, limits, ...(upstream && { startDrawn: counted }) };
  const circulation = planCirculation(input);
  const planned = {
    input,
    drawn: {
      counts: counted,
      ...(decisive.basis === "class" && lowerEdgesOf(sample)),
      assumptions: joinAssumptions(assumptions, stated.assumptions),
    },
    ...(isDownstream && { port: "downstream" as const }),
    sample: sample.sample,
    drawnOn: sample.drawnOn,
    ...(sample.drawnTime !== undefined && { drawnTime: sample.drawnTime }),
  };
  const all = [
    ...assumptions,
    ...(upstream ? upstream.assumptions : []),
    ...stated.assumptions,
    ...circulation.assumptions,
  ];
  if (circulation.reachable) return { reasons, circulation, planned, assumptions: all };
  const message = `circulating through the ${circuit.element.position} element cannot get there: ${circulation.obstacle}`;
  return {
    reasons: [...reasons, reason("particles-out-of-reach", message)],
    circulation,
    planned,
    assumptions: all,
  };
}

/** Of counts that are the upper edges of a reported class: the particles that it is above. */
function lowerEdgesOf({ reportedClasses = [] }: Sample): Pick<CirculationStart, "lowerEdges"> {
  const iso = reportedClasses.find(({ standard }) => standard === "ISO 4406");
  const code = iso && tryParseIso4406(iso.class);
  return code === undefined ? {} : { lowerEdges: startOfCode(code).lowerEdges ?? [] };
}

/** Ranges that leave a gap, or are not open above, are no start of a plan. */
function cumulativeOf(counts: AnyCountSet<"um(c)">): CountSet | undefined {
  if (counts.form === "cumulative") return counts;
  try {
    return toCumulative(counts);
  } catch (error) {
    if (error instanceof CountError) return undefined;
    throw error;
  }
}

function describeTargets({ target, held }: HeldTarget, sample: Sample, dirty: boolean): Reason[] {
  const name = formatTarget(target);
  const missing = held.filter((entry) => !isDecided(entry)).map(({ limit }) => limit);
  const decided = held.filter(isDecided);
  const outside = decided.filter((entry) => entry.outcome === "outside");
  const reasons: Reason[] = [];
  if (missing.length > 0) {
    const required = missing.map(({ channel }) => channel).join(", ");
    const instead = describeInPlaceOf(missing, sample);
    reasons.push(notCounted(`${name} asks for ${required}, which was not counted${instead}`, dirty));
  }
  const shown = outside.length > 0 ? outside : decided;
  // What has no upper end is further out than any number.
  const worst =
    shown.find(({ found }) => found === undefined) ??
    mostUsed(shown.map((entry) => ({ entry, share: entry.found?.share ?? 0 })))?.entry;
  if (worst === undefined) return reasons;
  const numbers = describeNumbers(worst);
  if (outside.length > 0)
    reasons.push(reason("particles-outside", `${name} is exceeded, most at ${numbers}`));
  else if (missing.length === 0)
    reasons.push(reason("particles-inside", `${name} is met, closest at ${numbers}`));
  return reasons;
}

/** What is outside is why to circulate; what was not counted is only to be counted as well. */
function outsideFirst(reasons: readonly Reason[]): Reason[] {
  const isOutside = ({ code }: Reason) => code === "particles-outside";
  return [...reasons.filter(isOutside), ...reasons.filter((one) => !isOutside(one))];
}

function describeNumbers({ limit, basis, outcome, found }: Decided): string {
  const limitPerMl = limit.limit / limit.volumeMl;
  const from = basis === "class" ? " by the reported class" : "";
  if (found === undefined)
    return `channel ${limit.channel}: more than the limit, ${Number(limitPerMl.toPrecision(4))} per mL${from}`;
  const [perMl, shownLimit] = toldApart(found.count / found.volumeMl, limitPerMl);
  const most = basis === "counted" || basis === "own-ranges" || outcome === "outside" ? "" : "at most ";
  const edge = basis === "class" && outcome === "outside" ? "up to " : most;
  return `channel ${limit.channel}: ${edge}${perMl} particles per mL${from}, limit ${shownLimit}`;
}

/**
 * A size that was not counted could show anything; fluid that is known to be dirty needs circulating whatever it shows, and
 * the sample that verifies the circulation has to show it.
 */
function notCounted(message: string, dirty: boolean): Reason {
  return dirty
    ? reason("sizes-not-counted", `${message}; have it counted in the verifying sample`)
    : reason("particles-not-measured", message);
}

/** In four digits, or in as many as it takes to see on which side of its limit a count lies. */
function toldApart(count: number, limit: number): readonly [number, number] {
  let digits = 4;
  const short = (value: number) => Number(value.toPrecision(digits));
  while (count !== limit && short(count) === short(limit) && digits < 15) digits += 1;
  return [short(count), short(limit)];
}

function describeEstimated(estimated: readonly Decided[], dirty: boolean): Reason[] {
  if (estimated.length === 0) return [];
  const channels = [...new Set(estimated.map(({ limit }) => limit.channel))].join(", ");
  const message = `channel ${channels} was estimated or converted, and has to be counted`;
  return [
    dirty
      ? reason("sizes-not-counted", `${message} in the verifying sample`)
      : reason("particles-estimated", message),
  ];
}

/**
 * Says that measured inside is not sure enough. Where no counting would settle it only cleaner fluid does; a class or a limit value
 * stands for the most there can be, so there the counts themselves come first.
 */
function describeNotSure(conformance: Conformance | undefined, isCounted: boolean): Reason[] {
  if (conformance === undefined || conformance.probability >= conformance.required) return [];
  const settle =
    conformance.settlement === undefined ? "" : `; ${describeSettlement(conformance.settlement)}`;
  const tooClose = isCounted && conformance.settlement?.kind === "circulate-on";
  const then = tooClose ? "; only cleaner fluid settles it" : "";
  return [
    reason(
      tooClose ? "particles-too-close" : "particles-not-sure",
      `particles are measured inside, not sure enough: the chance that all channels conform is ` +
        `${formatPercent(conformance.probability)}, and ${formatPercent(conformance.required)} is required${settle}${then}`,
    ),
  ];
}

function channelsOf(
  { target, held }: HeldTarget,
  byChannel: readonly { fromUm: number; toUm?: number; limitPerMl: number; probability: number }[],
): AssessedChannel[] {
  return held.map((entry) => {
    const { channel, fromUm, toUm, limit, volumeMl: per } = entry.limit;
    const limitPerMl = limit / per;
    const known = byChannel.find(
      (one) => one.fromUm === fromUm && one.toUm === toUm && one.limitPerMl === limitPerMl,
    );
    const found = isDecided(entry) ? entry.found : undefined;
    return {
      target: formatTarget(target),
      channel,
      limitPerMl,
      outcome: entry.outcome,
      ...(found && { perMl: found.count / found.volumeMl, share: found.share }),
      ...(isDecided(entry) && entry.basis !== "counted" && { basis: entry.basis }),
      ...(known && { probability: known.probability }),
    };
  });
}
