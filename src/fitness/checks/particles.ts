import { planCirculation } from "../../circulation/index.js";
import {
  type CleanlinessTarget,
  type ComparedLimit,
  compareWithLimits,
  formatTarget,
  limitsOfTarget,
  mostUsed,
  readChannel,
} from "../../cleanliness/index.js";
import type { CountSet } from "../../counts/index.js";
import type { Assumption } from "../../provenance/index.js";
import type { Circuit, Requirement, Sample } from "../../samples/index.js";
import type { AssessedChannel, Conformance, Finding } from "../assessed.js";
import { conformanceOfCounts } from "../confidence/counting-conformance.js";
import { describeSettlement } from "../confidence/settle.js";
import { type Reason, reason } from "../reasons.js";
import { formatPercent } from "../text.js";
import { countsToHold } from "./counted.js";
import { describeInPlaceOf, describeInPlaceOfCounts } from "./said-otherwise.js";

/** A target with its limits held against the counts. */
interface HeldTarget {
  readonly target: CleanlinessTarget;
  readonly held: readonly ComparedLimit[];
}

/** Holds particles against every target of the requirement, plans a circulation, and says how sure "inside" is. */
export function checkParticles(circuit: Circuit, requirement: Requirement, sample: Sample): Finding {
  const { counts } = sample;
  if (counts === undefined) {
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
  const worst = countsToHold(sample, counts);
  const targets = requirement.cleanliness.map((target) => ({
    target,
    held: compareWithLimits(worst, limitsOfTarget(target)),
  }));
  const held = targets.flatMap((entry) => entry.held);
  const measured = held.filter((entry) => entry.outcome !== "not-measured");
  const estimated = measured.filter(({ limit }) => {
    const reading = readChannel(counts, limit.fromUm, limit.toUm);
    return reading !== undefined && reading.basis !== "measured";
  });
  const inside = measured.every((entry) => entry.outcome === "inside");
  const dirty = measured.some((entry) => entry.outcome === "outside" && !estimated.includes(entry));
  const complete = measured.length === held.length && estimated.length === 0;
  const sure = complete
    ? conformanceOfCounts(sample, counts, requirement)
    : { assumptions: [], byChannel: [] };
  const reasons = [
    ...targets.flatMap((entry) => describeTargets(entry, worst.volumeMl, sample, dirty)),
    ...describeEstimated(estimated, dirty),
    ...(inside ? describeNotSure(sure.conformance) : []),
  ];
  const channels = targets.flatMap((entry) => channelsOf(entry, worst.volumeMl, sure.byChannel));
  const outcome = !inside ? "outside" : complete ? "inside" : "not-measured";
  const assessed = [
    {
      quantity: "particles" as const,
      outcome,
      channels,
      ...(sure.conformance && { conformance: sure.conformance }),
    },
  ] as const;
  if (inside) return { reasons, assessed, assumptions: sure.assumptions };
  const limits = measured.map((entry) => entry.limit);
  return { assessed, ...withPlan(circuit, worst, limits, reasons, sure.assumptions) };
}

function withPlan(
  circuit: Circuit,
  start: CountSet,
  limits: readonly ComparedLimit["limit"][],
  reasons: readonly Reason[],
  assumptions: readonly Assumption[],
): Finding {
  const circulation = planCirculation({
    volumeL: circuit.volumeL,
    flowLpm: circuit.flowLpm,
    betas: circuit.element.betas,
    start,
    limits,
    ...(circuit.ingress && { ingress: circuit.ingress }),
  });
  const all = [...assumptions, ...circulation.assumptions];
  if (circulation.reachable) return { reasons, circulation, assumptions: all };
  const message = `circulating through the ${circuit.element.position} element cannot get there: ${circulation.obstacle}`;
  return { reasons: [...reasons, reason("particles-out-of-reach", message)], circulation, assumptions: all };
}

function describeTargets(
  { target, held }: HeldTarget,
  volumeMl: number,
  sample: Sample,
  dirty: boolean,
): Reason[] {
  const name = formatTarget(target);
  const missing = held.filter((entry) => entry.outcome === "not-measured").map(({ limit }) => limit);
  const measured = held.filter((entry) => entry.outcome !== "not-measured");
  const outside = measured.filter((entry) => entry.outcome === "outside");
  const reasons: Reason[] = [];
  if (missing.length > 0) {
    const required = missing.map(({ channel }) => channel).join(", ");
    const instead = describeInPlaceOf(missing, sample);
    reasons.push(notCounted(`${name} asks for ${required}, which was not counted${instead}`, dirty));
  }
  const worst = mostUsed(outside.length > 0 ? outside : measured);
  if (worst === undefined) return reasons;
  const { limit } = worst;
  const [perMl, limitPerMl] = toldApart(worst.count / volumeMl, limit.limit / limit.volumeMl);
  const numbers = `channel ${limit.channel}: ${perMl} particles per mL, limit ${limitPerMl}`;
  if (outside.length > 0)
    reasons.push(reason("particles-outside", `${name} is exceeded, most at ${numbers}`));
  else if (missing.length === 0)
    reasons.push(reason("particles-inside", `${name} is met, closest at ${numbers}`));
  return reasons;
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

function describeEstimated(estimated: readonly ComparedLimit[], dirty: boolean): Reason[] {
  if (estimated.length === 0) return [];
  const channels = [...new Set(estimated.map(({ limit }) => limit.channel))].join(", ");
  const message = `channel ${channels} was estimated or converted, and has to be counted`;
  return [
    dirty
      ? reason("sizes-not-counted", `${message} in the verifying sample`)
      : reason("particles-estimated", message),
  ];
}

function describeNotSure(conformance: Conformance | undefined): Reason[] {
  if (conformance === undefined || conformance.probability >= conformance.required) return [];
  const settle =
    conformance.settlement === undefined ? "" : `; ${describeSettlement(conformance.settlement)}`;
  return [
    reason(
      "particles-not-sure",
      `particles are measured inside, not sure enough: the chance that all channels conform is ` +
        `${formatPercent(conformance.probability)}, and ${formatPercent(conformance.required)} is asked for${settle}`,
    ),
  ];
}

function channelsOf(
  { target, held }: HeldTarget,
  volumeMl: number,
  byChannel: readonly { fromUm: number; toUm?: number; limitPerMl: number; probability: number }[],
): AssessedChannel[] {
  return held.map((entry) => {
    const { channel, fromUm, toUm, limit, volumeMl: per } = entry.limit;
    const limitPerMl = limit / per;
    const known = byChannel.find(
      (one) => one.fromUm === fromUm && one.toUm === toUm && one.limitPerMl === limitPerMl,
    );
    return {
      target: formatTarget(target),
      channel,
      limitPerMl,
      outcome: entry.outcome,
      ...(entry.outcome !== "not-measured" && { perMl: entry.count / volumeMl, share: entry.share }),
      ...(known && { probability: known.probability }),
    };
  });
}
