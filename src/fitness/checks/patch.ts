import {
  type DecidedLimit,
  decideLimits,
  fewestAbove,
  formatTarget,
  parseTarget,
} from "../../cleanliness/index.js";
import type { Assumption } from "../../provenance/index.js";
import {
  compareWithMaximum,
  formatMeasured,
  type PatchPlace,
  patchPlaces,
  type Requirement,
  type Sample,
} from "../../samples/index.js";
import type { Assessed, Finding } from "../assessed.js";
import type { Evidence } from "../evidence/evidence.js";
import { type Reason, reason } from "../reasons.js";
import { countsToHold } from "./counted.js";

type PatchLimit = NonNullable<Requirement["patchTest"]>;

/**
 * Holds the class of a patch against a limit that is written in patches.
 *
 * It is a class by comparison, by eye. A count never stands for it: the patch also shows stain, free water and what no counter
 * sees.
 *
 * @source NAVAIR-01-1A-17
 */
export function checkPatch(limit: PatchLimit, sample: Sample): Finding {
  const { standard, classMax } = limit;
  const { patchTest: patch = {} } = sample;
  const places = patchPlaces(limit, patch);
  const held = places.map((place) => ({ ...place, outcome: outcomeOf(place) }));
  // What is outside goes before what is not known, and of like places the one nearest to its limit.
  const { sizeUmC, max, measured, outcome } = held.reduce((worst, place) =>
    rankOf(place) > rankOf(worst) ? place : worst,
  );
  const base = {
    quantity: "class of the patch",
    unit: `by ${standard}${sizeUmC === undefined ? "" : ` at ${sizeUmC} µm(c)`}`,
    limits: { max },
  } as const;
  if (patch.class === undefined && patch.code === undefined) {
    const message = `sample ${sample.sample} has no class of a membrane patch`;
    return found(reason("patch-not-measured", message), { ...base, outcome: "not-measured" });
  }
  const known = measured && { measured };
  const unsuited = whyUnsuited(limit, patch);
  if (unsuited !== undefined) {
    const message = `the patch of sample ${sample.sample} does not show its class as required: ${unsuited}`;
    return found(reason("patch-unsuited", message), { ...base, ...known, outcome: "not-known" });
  }
  const stated = typeof classMax === "string" ? patch.code : patch.class && formatMeasured(patch.class);
  const numbers = `class ${stated} by ${standard}, at most ${classMax} is allowed`;
  const said = {
    inside: reason("patch-inside", `the patch is inside: ${numbers}`),
    outside: reason("patch-outside", `the patch is outside: ${numbers}; circulate, and take a new patch`),
    "not-known": reason("patch-not-known", `the class of the patch is not known well enough: ${numbers}`),
  }[outcome];
  const distance = measured && { distance: max - measured.value };
  return {
    ...found(said, { ...base, ...known, ...distance, outcome }),
    assumptions: [byEye(sample.sample)],
  };
}

function outcomeOf({ measured, max }: PatchPlace): "inside" | "outside" | "not-known" {
  return measured === undefined ? "not-known" : compareWithMaximum(measured, max);
}

function rankOf({
  outcome,
  measured,
  max,
}: PatchPlace & { readonly outcome: "inside" | "outside" | "not-known" }): number {
  const order = { inside: 0, "not-known": 1, outside: 2 }[outcome];
  // Scale numbers and classes are less than a hundred.
  return 1000 * order + (measured === undefined ? 0 : measured.value - max);
}

function found(said: Reason, assessed: Assessed): Finding {
  return { reasons: [said], assessed: [assessed] };
}

function byEye(sample: string): Assumption {
  return {
    code: "patch-by-comparison",
    message: `the patch of sample ${sample} was compared with patches of known classes by eye; nothing is known of its confidence`,
    source: "NAVAIR-01-1A-17",
  };
}

function whyUnsuited(
  { standard, volumeMlMin, poreUmMax }: PatchLimit,
  { class: stated, standard: named, code, volumeMl, poreUm }: NonNullable<Sample["patchTest"]>,
): string | undefined {
  const compared = [...(code === undefined ? [] : ["ISO 4406"]), ...(named === undefined ? [] : [named])];
  if (stated !== undefined && named === undefined && !compared.includes(standard))
    return `it is not stated by which standard; ${standard} is required`;
  if (!compared.includes(standard))
    return `it was compared by ${compared.join(" and ")}; ${standard} is required`;
  if (volumeMlMin !== undefined && !((volumeMl ?? 0) >= volumeMlMin))
    return volumeMl === undefined
      ? `the volume filtered is not stated; ${volumeMlMin} mL are required`
      : `${volumeMl} mL were filtered; ${volumeMlMin} mL are required`;
  if (poreUmMax !== undefined && !((poreUm ?? Number.POSITIVE_INFINITY) <= poreUmMax))
    return poreUm === undefined
      ? `the pore size is not stated; at most ${poreUmMax} µm are required`
      : `the pores are ${poreUm} µm; at most ${poreUmMax} µm are required`;
  return undefined;
}

/** What a requirement asks of particles, in words: its targets, and the class of a patch. */
export function describeTargets({ cleanliness, patchTest }: Requirement): string[] {
  const ofPatch = patchTest && `patch class ${patchTest.classMax} by ${patchTest.standard}`;
  return [...cleanliness.map(formatTarget), ...(ofPatch === undefined ? [] : [ofPatch])];
}

/** What particles show against a limit that is written in patches alone: they never meet it, and they may show that it is exceeded. */
export function checkCountsBesidePatch(
  { cleanliness, patchTest }: Requirement,
  evidence: Evidence,
): Reason[] {
  if (cleanliness.length > 0 || patchTest === undefined) return [];
  const target = parseTarget(`${patchTest.standard} ${patchTest.classMax}`);
  return evidence.of("particles").flatMap((sample) => {
    const { counts, reportedClasses: classes } = sample;
    const held = decideLimits(
      { counts: counts && countsToHold(sample, counts), limited: sample.limitedCounts, classes },
      target,
    );
    const outside =
      held.find(({ outcome }) => outcome === "outside") ??
      held.find(({ limit }) => isSurelyBeyond(limit, held, sample.reportedClasses));
    if (outside === undefined) return [];
    const message = `sample ${sample.sample} shows more particles than class ${patchTest.classMax} by ${patchTest.standard} allows, in channel ${outside.limit.channel}`;
    return [reason("particles-outside", message)];
  });
}

/** Whether a class by another standard says more particles above a size than all limits from that size on allow together. */
function isSurelyBeyond(
  { fromUm, volumeMl }: DecidedLimit["limit"],
  held: readonly DecidedLimit[],
  classes: Sample["reportedClasses"] = [],
): boolean {
  const above = held.filter(({ limit }) => limit.fromUm >= fromUm);
  const allowed = above.reduce((sum, { limit }) => sum + limit.limit, 0) / volumeMl;
  return classes.flatMap(fewestAbove).some(({ sizeUm, perMl }) => sizeUm === fromUm && perMl > allowed);
}
