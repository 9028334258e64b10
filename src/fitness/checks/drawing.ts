import { limitsOfTarget, type ParticleLimit, readChannel } from "../../cleanliness/index.js";
import { BLANK_SHARE_MAX, sampleSeenMl } from "../../counts/index.js";
import type { Assumption } from "../../provenance/index.js";
import {
  type Circuit,
  type CircuitEvent,
  circulates,
  type DescribedPart,
  mayFollow,
  type Requirement,
  type Sample,
  type SamplePoint,
  UNSUITED_POINTS,
} from "../../samples/index.js";
import { formatPercent, inFourDigits } from "../../units/index.js";
import type { Finding } from "../assessed.js";
import { needsSample } from "../evidence/event-effects.js";
import type { Evidence } from "../evidence/evidence.js";
import { requirementOf } from "../evidence/requirement-of.js";
import { type Reason, reason } from "../reasons.js";
import { type Pooled, poolOf } from "./counted.js";
import { tooFewToTell } from "./few-particles.js";
import { checkLook, checkWords } from "./look.js";

type Sampling = NonNullable<Requirement["sampling"]>;

/**
 * Replicates that scatter by more than this beyond chance were not counted of one well-mixed bottle.
 *
 * The interim check of counters allows 10 % as well.
 *
 * @source ASTM-D6786
 */
export const SCATTER_RSD_MAX = 0.1;

/**
 * Were the bottles drawn and counted so that they represent the fluid? What is required and not stated is not a pass.
 *
 * Each bottle that something rests on has to be drawn as is required; the one that was counted, counted as well. What is
 * seen, and a colour that is not understood, is that of the last bottle somebody looked at.
 */
export function checkDrawing(circuit: Circuit, requirement: Requirement, evidence: Evidence): Finding {
  const { sampling = {} } = requirement;
  const counted = evidence.of("particles");
  const drawn = evidence.used.map((sample) =>
    checkDrawn(circuit, requirementOf(requirement, sample), sample, counted.includes(sample)),
  );
  return {
    reasons: [
      ...drawn.flatMap(({ reasons }) => reasons),
      ...checkLook(sampling, evidence),
      ...evidence.of("colour").flatMap((sample) => checkWords(sample, ["colour"])),
    ],
    assumptions: drawn.flatMap(({ assumptions }) => assumptions ?? []),
  };
}

/** Was one sample drawn, and where something rests on its counts, counted so that it represents the fluid? */
export function checkDrawn(
  circuit: Circuit,
  requirement: Requirement,
  sample: Sample,
  isCounted: boolean,
): Finding {
  const point = checkPoint(circuit, requirement, sample);
  const counting: Finding = isCounted ? checkCounting(requirement, sample) : { reasons: [] };
  const reasons = [
    ...point.reasons,
    ...checkFlow(requirement.sampling ?? {}, sample),
    ...checkWords(sample, ["sample point", "flow"]),
    ...counting.reasons,
  ];
  return { reasons, assumptions: [...(point.assumptions ?? []), ...(counting.assumptions ?? [])] };
}

function checkCounting(requirement: Requirement, sample: Sample): Finding {
  const { sampling = {} } = requirement;
  const pool = poolOf(sample);
  const calibration = checkCalibration(sampling, sample);
  return {
    reasons: [
      ...checkBlank(requirement, sample),
      ...checkReplicates(sampling, sample, pool),
      ...checkVolume(requirement, sample, pool),
      ...calibration.reasons,
    ],
    assumptions: calibration.assumptions ?? [],
  };
}

function checkPoint(circuit: Circuit, requirement: Requirement, drawn: Sample): Finding {
  const { points } = requirement.sampling ?? {};
  const { samplePoint, ...rest } = drawn;
  const { sample } = rest;
  if (samplePoint === undefined) {
    if (points === undefined || isSaidAbout(rest, "sample point")) return { reasons: [] };
    const message = `it is not stated where sample ${sample} was drawn; ${points.join(" or ")} is required`;
    return { reasons: [reason("sample-point-not-stated", message)] };
  }
  if (samplePoint === "supply-container") {
    const message = `sample ${sample} was filled from a drum or can and says nothing of the fluid in the circuit`;
    return { reasons: [reason("sample-point-unsuited", message)] };
  }
  const { position } = circuit.element;
  // Where nothing circulates there is one way through the element, to the aircraft.
  const delivers = DELIVERS.test(position) || !circulates(circuit);
  if (samplePoint === "downstream-of-element" && !delivers) {
    const message =
      `sample ${sample} was drawn downstream of the ${position} element, which shows neither what the circuit holds nor what ` +
      "is delivered; draw upstream of it";
    return { reasons: [reason("sample-point-unsuited", message)] };
  }
  const changed = samplePoint === "downstream-of-element" && waivedChange(circuit, requirement, drawn);
  if (changed) {
    const message =
      `sample ${sample} was drawn downstream of the ${position} element that was changed on ${changed.on}: it shows what that element ` +
      "delivered, not what the one fitted now does";
    return { reasons: [reason("sample-point-unsuited", message)] };
  }
  const suited =
    points === undefined
      ? !UNSUITED_POINTS.includes(samplePoint)
      : points.includes(samplePoint) || (IN_LINE.includes(samplePoint) && points.includes("main-flow-line"));
  if (!suited) {
    const expected =
      points === undefined ? "a main flow line is preferred" : `${points.join(" or ")} is required`;
    const message = `sample ${sample} was drawn at ${samplePoint}; ${expected}`;
    return { reasons: [reason("sample-point-unsuited", message)] };
  }
  return {
    reasons: [],
    assumptions: [
      ...(samplePoint === "reservoir" ? [fromReservoir(sample)] : []),
      ...(samplePoint === "downstream-of-element" ? [fromDownstream(sample, position)] : []),
    ],
  };
}

/** Ports of a main flow line. */
const IN_LINE: readonly SamplePoint[] = ["upstream-of-element", "downstream-of-element"];

/**
 * What comes out of such an element is what the aircraft gets, and a hookup passes on nothing else. So a bottle from there is
 * judged as drawn. It vouches for that element alone: the circuit holds more, and another element may let it through.
 */
const DELIVERS = /pressure|deliver|supply|outlet/i;

/** A change of the element since, after which the requirement lets older counts stand; only counts of the circuit itself can. */
function waivedChange(
  { events }: Circuit,
  requirement: Requirement,
  sample: Sample,
): CircuitEvent | undefined {
  return events.find(
    (event) =>
      event.kind === "element-change" &&
      mayFollow(event, sample) &&
      !needsSample(requirement, event, "particles"),
  );
}

function fromDownstream(sample: string, position: string): Assumption {
  return {
    code: "drawn-downstream",
    message: `sample ${sample} was drawn downstream of the ${position} element: it shows what is delivered as long as this element holds; the circuit itself holds more, up to β times as much, so it says nothing once the element is changed`,
    source: "PRACTICE",
  };
}

function fromReservoir(sample: string): Assumption {
  return {
    code: "drawn-from-reservoir",
    message: `sample ${sample} was drawn from the reservoir, which is second best where a sampler in a main line is fitted`,
    source: "ISO-4021",
  };
}

function checkFlow({ flowing: required }: Sampling, { flowing, ...rest }: Sample): Reason[] {
  const { sample } = rest;
  if (flowing === false) {
    const message = `sample ${sample} was drawn without flow; particles settle, so it does not represent the fluid`;
    return [reason("drawn-without-flow", message)];
  }
  if (flowing === true || required === undefined || isSaidAbout(rest, "flow")) return [];
  return [
    reason("flow-not-stated", `it is not stated whether fluid was flowing when sample ${sample} was drawn`),
  ];
}

/** Whether the report says something about a part of the description that is not understood. */
function isSaidAbout(
  { wordsNotUnderstood = [] }: Pick<Sample, "wordsNotUnderstood">,
  part: DescribedPart,
): boolean {
  return wordsNotUnderstood.some(({ about }) => about === part);
}

/**
 * The blank is a check only. It is not subtracted here, so that a dirty bottle never makes fluid look cleaner, and it is
 * compared with what the requirement allows and not with the sample, so that dirty fluid never excuses a dirty bottle.
 *
 * @source ASTM-D6786
 */
function checkBlank({ sampling, cleanliness }: Requirement, { sample, blank }: Sample): Reason[] {
  const limits = bySize(cleanliness.flatMap(limitsOfTarget));
  const [smallest] = limits;
  if (smallest === undefined) return [];
  // Where the smallest size was not counted, the next one that was says at least that.
  const counted = limits.flatMap((limit) => {
    const found = blank && readChannel(blank, limit.fromUm, limit.toUm);
    return blank === undefined || found === undefined
      ? []
      : [{ limit, found, share: found.count / blank.volumeMl / (limit.limit / limit.volumeMl) }];
  })[0];
  const isMissing = sampling?.blank !== undefined && counted?.limit.fromUm !== smallest.fromUm;
  const missing = `no blank was counted above ${smallest.fromUm} µm(c) for sample ${sample}`;
  const reasons = isMissing ? [reason("blank-not-counted", missing)] : [];
  if (counted === undefined || counted.found.count === 0 || counted.share < BLANK_SHARE_MAX) return reasons;
  const message =
    `the bottle of sample ${sample} brings in ${formatPercent(counted.share)} of the particles that are allowed in channel ` +
    `${counted.limit.channel}; less than ${formatPercent(BLANK_SHARE_MAX)} is required`;
  return [...reasons, reason("blank-too-high", message)];
}

/** The smallest size first, and of several limits there the strictest. */
function bySize(limits: readonly ParticleLimit[]): ParticleLimit[] {
  return [...limits].sort((a, b) => a.fromUm - b.fromUm || a.limit / a.volumeMl - b.limit / b.volumeMl);
}

function checkReplicates({ replicatesMin }: Sampling, sample: Sample, pool: Pooled): Reason[] {
  const found = sample.replicates?.length ?? 1;
  const reasons: Reason[] = [];
  if (replicatesMin !== undefined && found < replicatesMin) {
    const message = `sample ${sample.sample} was counted ${found === 1 ? "once" : `${found} times`}; ${replicatesMin} counts are required`;
    reasons.push(reason("replicates-missing", message));
  }
  if (pool.kind === "unusable") {
    reasons.push(
      reason(
        "replicates-scatter",
        `the counts of sample ${sample.sample} cannot be put together: ${pool.why}`,
      ),
    );
  }
  const wide = pool.kind === "pooled" ? widest(pool) : undefined;
  if (wide !== undefined) {
    const message =
      `the counts of sample ${sample.sample} above ${wide.sizeUm} µm(c) scatter by ${formatPercent(wide.extraRsd)} beyond chance; ` +
      `at most ${formatPercent(SCATTER_RSD_MAX)} is usual for one well-mixed bottle`;
    reasons.push(reason("replicates-scatter", message));
  }
  return reasons;
}

/** The size at which replicates scatter most, where that is more than chance and more than is usual. */
function widest({ pooled }: Extract<Pooled, { kind: "pooled" }>) {
  return pooled.scatter
    .flatMap(({ sizeUm, scatter }) =>
      scatter.kind === "more-than-random" && scatter.extraRsd > SCATTER_RSD_MAX
        ? [{ sizeUm, extraRsd: scatter.extraRsd }]
        : [],
    )
    .sort((a, b) => b.extraRsd - a.extraRsd)[0];
}

/**
 * A bottle is counted between its receipt, or its drawing, and its report. Where the requirement asks for it the calibration
 * has to hold until the last of these days; without that, one that had surely ended is said.
 */
function checkCalibration({ calibrated }: Sampling, sample: Sample): Finding {
  const { calibrationDueOn: due, drawnOn, receivedOn = drawnOn, reportedOn = receivedOn } = sample;
  if (due === undefined) {
    const message = `it is not stated until when the counter of sample ${sample.sample} was calibrated`;
    return { reasons: calibrated ? [reason("calibration-not-stated", message)] : [] };
  }
  const by = calibrated ? reportedOn : receivedOn;
  if (due >= by) return { reasons: [] };
  const message = `the calibration of the counter of sample ${sample.sample} ended on ${due}, before ${by}`;
  return calibrated
    ? {
        reasons: [
          reason("calibration-overdue", `${message}; have the bottle counted by a calibrated counter`),
        ],
      }
    : { reasons: [], assumptions: [{ code: "counter-out-of-calibration", message }] };
}

function checkVolume(
  { sampling: { countedMlMin } = {}, cleanliness }: Requirement,
  sample: Sample,
  pool: Pooled,
): Reason[] {
  const counts = pool.kind === "pooled" ? pool.pooled.counts : sample.counts;
  const seenMl = counts === undefined ? sample.countedVolumeMl : sampleSeenMl(counts);
  const { reportedClasses, otherScaleCounts, limitedCounts } = sample;
  const isReported = counts ?? reportedClasses ?? otherScaleCounts ?? limitedCounts;
  if (isReported === undefined) return [];
  if (countedMlMin !== undefined && seenMl === undefined) {
    const message = `it is not stated what volume of sample ${sample.sample} was counted`;
    return [reason("counted-volume-not-stated", message)];
  }
  if (countedMlMin !== undefined && seenMl !== undefined && seenMl < countedMlMin) {
    const message = `${inFourDigits(seenMl)} mL of sample ${sample.sample} were counted; ${countedMlMin} mL are required`;
    return [reason("counted-volume-too-small", message)];
  }
  const few = tooFewToTell(sample, cleanliness.flatMap(limitsOfTarget), seenMl);
  return few === undefined ? [] : [reason("counted-volume-too-small", few)];
}
