import { type CirculationPlan, planCirculation } from "../circulation/index.js";
import {
  type Classification,
  type CleanlinessTarget,
  classify,
  type HeldLimit,
  holdAgainst,
  limitsOfTarget,
  mostUsed,
  sayTarget,
} from "../cleanliness/index.js";
import { readFluidSpecification } from "../fluids/index.js";
import { type Assumption, CART_CAUTIONS, type Caution, joinAssumptions } from "../provenance/index.js";
import {
  type Circuit,
  compareWithMaximum,
  type Measured,
  type Requirement,
  type Sample,
  sayMeasured,
} from "../samples/index.js";
import { daysBetween } from "./days.js";
import { compareVerdicts, decide, type Reason, reason, type VerdictName } from "./reasons.js";

/** A row that could not be read and that may belong to a circuit. What is not known of it may be anything. */
export interface UnreadResult {
  readonly cart?: string;
  readonly circuit?: string;
  /** Absent when the day itself could not be read. */
  readonly drawnOn?: string;
  /** The file and row, for the message. */
  readonly where: string;
}

/** Everything a verdict on one circuit rests on. */
export interface CircuitCase {
  readonly cart: string;
  readonly circuit: Circuit;
  /** The requirement of the aircraft system that the circuit serves; absent when there is none by that name. */
  readonly requirement?: Requirement;
  /** Samples of this circuit, in any order. */
  readonly samples: readonly Sample[];
  readonly unread: readonly UnreadResult[];
  /** The day of judging, as ISO 8601 calendar day. */
  readonly on: string;
}

/** May this circuit be connected, and why. */
export interface Verdict {
  readonly cart: string;
  readonly circuit: string;
  readonly serves: string;
  readonly on: string;
  readonly verdict: VerdictName;
  /** Strictest first. */
  readonly reasons: readonly Reason[];
  /** The sample that was judged; absent when there is none. */
  readonly sample?: Sample;
  readonly classification?: Classification;
  /** Given where particles are outside a limit. */
  readonly circulation?: CirculationPlan;
  readonly assumptions: readonly Assumption[];
  readonly cautions: readonly Caution[];
}

/**
 * Judges whether one circuit may be connected to the aircraft system it serves.
 *
 * The latest sample is held against the requirement. Every check gives a reason, the strictest reason decides,
 * and what was not measured is never a pass. Of several samples drawn on the latest day whose order in time is not
 * known, the one with the strictest verdict counts.
 *
 * @param input - the circuit, its requirement and its samples; see {@link CircuitCase}
 * @returns the verdict with every reason, and a circulation plan where particles are outside
 */
export function judgeCircuit(input: CircuitCase): Verdict {
  const latest = latestSamples(input.samples);
  const verdicts = (latest.length === 0 ? [undefined] : latest).map((sample) => judgeSample(input, sample));
  const strictest = verdicts.sort((a, b) => compareVerdicts(a.verdict, b.verdict)).at(-1) as Verdict;
  if (latest.length < 2) return strictest;
  const sameDay = {
    code: "several-samples-that-day",
    message: `${latest.length} samples were drawn on ${latest[0]?.drawnOn} in an order that is not known; the strictest verdict counts`,
  };
  return { ...strictest, assumptions: [...strictest.assumptions, sameDay] };
}

/** The samples of the latest day; only the last of them when all of that day have a time in the same form. */
function latestSamples(samples: readonly Sample[]): Sample[] {
  const lastDay = samples
    .map((sample) => sample.drawnOn)
    .sort()
    .at(-1);
  const ofLastDay = samples.filter((sample) => sample.drawnOn === lastDay);
  const times = ofLastDay.map((sample) => sample.drawnTime);
  const comparable = times.every((time) => time !== undefined && /^[\d:]+$/.test(time));
  if (!comparable) return ofLastDay;
  const lastTime = times.sort().at(-1);
  return ofLastDay.filter((sample) => sample.drawnTime === lastTime);
}

interface Finding {
  readonly reasons: readonly Reason[];
  readonly assumptions?: readonly Assumption[];
  readonly circulation?: CirculationPlan;
}

function judgeSample(input: CircuitCase, sample: Sample | undefined): Verdict {
  const { requirement } = input;
  const findings: Finding[] = [];
  if (requirement === undefined) {
    findings.push({
      reasons: [
        reason(
          "no-requirement",
          `no requirement is named "${input.circuit.serves}", the system this circuit serves`,
        ),
      ],
    });
  } else {
    findings.push(checkIdentity(input.circuit, requirement, sample), checkQuarantine(input.unread, sample));
    findings.push(sample === undefined ? NO_SAMPLE : checkSample(input, requirement, sample));
    if (sample !== undefined && eventAfter(input.circuit, sample, ["fluid-change"]) === undefined) {
      findings.push(
        checkParticles(input.circuit, requirement, sample),
        checkMaximum("water", sample.waterPpm, requirement.waterPpmMax, "ppm by mass"),
        checkMaximum("acid", sample.acidMgKohPerG, requirement.acidMgKohPerGMax, "mg KOH/g"),
      );
    }
  }
  const reasons = findings
    .flatMap((finding) => finding.reasons)
    .sort((a, b) => compareVerdicts(b.callsFor, a.callsFor));
  const classification = sample?.counts && classify(sample.counts);
  const circulation = findings.find((finding) => finding.circulation !== undefined)?.circulation;
  return {
    cart: input.cart,
    circuit: input.circuit.circuit,
    serves: input.circuit.serves,
    on: input.on,
    verdict: decide(reasons),
    reasons,
    ...(sample && { sample }),
    ...(classification && { classification }),
    ...(circulation && { circulation }),
    assumptions: joinAssumptions(
      classification?.assumptions ?? [],
      ...findings.map((finding) => finding.assumptions ?? []),
    ),
    cautions: CART_CAUTIONS,
  };
}

const NO_SAMPLE: Finding = { reasons: [reason("no-sample", "no sample of this circuit was given")] };

function checkIdentity(circuit: Circuit, requirement: Requirement, sample: Sample | undefined): Finding {
  const allowed = requirement.fluids.join(" or ");
  const declared = requirement.fluids.includes(circuit.fluid)
    ? reason("fluid-allowed", `${circuit.fluid} is allowed in ${requirement.system}`)
    : reason(
        "fluid-not-allowed",
        `the circuit holds ${circuit.fluid}; ${requirement.system} takes ${allowed}`,
      );
  if (sample === undefined) return { reasons: [declared] };
  if (sample.fluid === undefined) {
    return {
      reasons: [declared],
      assumptions: [
        {
          code: "fluid-as-declared",
          message: `the report of sample ${sample.sample} names no fluid; it was taken as the declared ${circuit.fluid}`,
        },
      ],
    };
  }
  const labelled = readFluidSpecification(sample.fluid);
  if (labelled === circuit.fluid) return { reasons: [declared] };
  if (labelled === undefined) {
    const message = `the label of sample ${sample.sample} says "${sample.fluid}", which is no specification known here; expected ${circuit.fluid}`;
    return { reasons: [declared, reason("fluid-label-not-recognised", message)] };
  }
  const message = `the label of sample ${sample.sample} says ${labelled}, the circuit is declared to hold ${circuit.fluid}`;
  return { reasons: [declared, reason("fluid-contradicts-label", message)] };
}

/** A row in quarantine could be the newest result; until it is read, an older one cannot pass for the latest. */
function checkQuarantine(unread: readonly UnreadResult[], sample: Sample | undefined): Finding {
  const newer = unread.filter(
    (row) => sample === undefined || row.drawnOn === undefined || row.drawnOn >= sample.drawnOn,
  );
  return {
    reasons: newer.map((row) =>
      reason(
        "result-in-quarantine",
        `${row.where} is in quarantine and may hold a newer result of this circuit; correct it and judge again`,
      ),
    ),
  };
}

/** Is the sample able to speak for what the circuit holds today? */
function checkSample(input: CircuitCase, requirement: Requirement, sample: Sample): Finding {
  const ageDays = daysBetween(sample.drawnOn, input.on);
  const drawn = `sample ${sample.sample} was drawn on ${sample.drawnOn}`;
  const reasons: Reason[] = [];
  if (ageDays < 0) {
    reasons.push(reason("sample-after-judging-date", `${drawn}, after the day of judging ${input.on}`));
  } else if (!(ageDays <= requirement.sampleAgeDaysMax)) {
    reasons.push(
      reason(
        "sample-too-old",
        `${drawn}, ${ageDays} days ago; at most ${requirement.sampleAgeDaysMax} are allowed`,
      ),
    );
  } else {
    reasons.push(
      reason("sample-recent", `${drawn}, ${ageDays} days ago, within ${requirement.sampleAgeDaysMax}`),
    );
  }
  const event = eventAfter(input.circuit, sample, ["fluid-change", "element-change"]);
  if (event !== undefined) {
    const words = event.kind === "fluid-change" ? "the fluid was changed" : "the element was changed";
    reasons.push(
      reason("drawn-before-event", `${drawn}; ${words} on ${event.on} and no sample has been drawn since`),
    );
  }
  return { reasons };
}

/** The last event of some kinds on or after the day the sample was drawn: on the same day the order is not known. */
function eventAfter(circuit: Circuit, sample: Sample, kinds: readonly Circuit["events"][number]["kind"][]) {
  return circuit.events
    .filter((event) => kinds.includes(event.kind) && event.on >= sample.drawnOn)
    .sort((a, b) => a.on.localeCompare(b.on))
    .at(-1);
}

function checkParticles(circuit: Circuit, requirement: Requirement, sample: Sample): Finding {
  const { counts } = sample;
  if (counts === undefined) {
    return { reasons: [reason("particles-not-measured", `sample ${sample.sample} has no particle counts`)] };
  }
  const held = requirement.cleanliness.map((target) => ({
    target,
    limits: holdAgainst(counts, limitsOfTarget(target)),
  }));
  const reasons = held.flatMap(({ target, limits }) => sayParticles(target, limits, counts.volumeMl));
  const measured = held.flatMap(({ limits }) => limits).filter((entry) => entry.outcome !== "not-measured");
  if (measured.every((entry) => entry.outcome === "inside")) return { reasons };
  const circulation = planCirculation({
    volumeL: circuit.volumeL,
    flowLpm: circuit.flowLpm,
    betas: circuit.element.betas,
    start: counts,
    limits: measured.map((entry) => entry.limit),
    ...(circuit.ingress && { ingress: circuit.ingress }),
  });
  if (circulation.reachable) return { reasons, circulation, assumptions: circulation.assumptions };
  const message = `circulating through the ${circuit.element.position} element cannot get there: ${circulation.obstacle}`;
  return {
    reasons: [...reasons, reason("particles-out-of-reach", message)],
    circulation,
    assumptions: circulation.assumptions,
  };
}

function sayParticles(target: CleanlinessTarget, held: readonly HeldLimit[], volumeMl: number): Reason[] {
  const name = sayTarget(target);
  const missing = held
    .filter((entry) => entry.outcome === "not-measured")
    .map((entry) => entry.limit.channel);
  const measured = held.filter((entry) => entry.outcome !== "not-measured");
  const outside = measured.filter((entry) => entry.outcome === "outside");
  const reasons: Reason[] = [];
  if (missing.length > 0) {
    reasons.push(
      reason("particles-not-measured", `${name} asks for ${missing.join(", ")}, which was not counted`),
    );
  }
  const worst = mostUsed(outside.length > 0 ? outside : measured);
  if (worst === undefined) return reasons;
  const { limit } = worst;
  const perMl = (value: number) => Number(value.toPrecision(4));
  const numbers =
    `channel ${limit.channel}: ${perMl(worst.count / volumeMl)} particles per mL, ` +
    `limit ${perMl(limit.limit / limit.volumeMl)}`;
  if (outside.length > 0)
    reasons.push(reason("particles-outside", `${name} is exceeded, most at ${numbers}`));
  else if (missing.length === 0)
    reasons.push(reason("particles-inside", `${name} is met, closest at ${numbers}`));
  return reasons;
}

function checkMaximum(
  what: "water" | "acid",
  measured: Measured | undefined,
  maximum: number,
  unit: string,
): Finding {
  const name = what === "water" ? "water" : "the acid number";
  if (measured === undefined) {
    return { reasons: [reason(`${what}-not-measured`, `${name} was not measured`)] };
  }
  const numbers = `${sayMeasured(measured)} ${unit}, limit ${maximum}`;
  const outcome = compareWithMaximum(measured, maximum);
  const words = {
    inside: `${name} is inside: ${numbers}`,
    outside: `${name} is outside: ${numbers}; filters do not remove it`,
    "not-known": `${name} is not known well enough: ${numbers}`,
  }[outcome];
  return { reasons: [reason(`${what}-${outcome}`, words)] };
}
