import { type CirculationPlan, planCirculation, sayMinutes } from "../circulation/index.js";
import { limitsOfIso4406, limitsOfTarget, readIso4406, readTarget } from "../cleanliness/index.js";
import { type CountSet, cumulativeCounts } from "../counts/index.js";
import { type Assumption, CART_CAUTIONS, joinAssumptions } from "../provenance/index.js";
import { readBySize, readPer, readQuantityOption } from "./arguments.js";
import { type ExitCode, type Io, printJson } from "./io.js";
import { drawTable, sayAssumptions, sayCautions, sayNumber } from "./text.js";

/** Options of `siltbook circulate`. */
export interface CirculateOptions {
  readonly volume: string;
  readonly flow: string;
  readonly beta: string;
  readonly start: string;
  readonly target: string;
  readonly ingress?: string;
  readonly per?: string;
  readonly json?: boolean;
}

/** Prints how long to self-circulate, or why circulating cannot get there. */
export function runCirculate(options: CirculateOptions, io: Io): ExitCode {
  const volume = readQuantityOption("--volume", options.volume, "volume");
  const flow = readQuantityOption("--flow", options.flow, "flow");
  const start = readStart(options);
  const plan = planCirculation({
    volumeL: volume.value,
    flowLpm: flow.value,
    betas: readBySize("--beta", options.beta).map(({ sizeUm, value }) => ({ sizeUmC: sizeUm, beta: value })),
    start: start.counts,
    limits: limitsOfTarget(readTarget(options.target)),
    ...(options.ingress !== undefined && {
      ingress: readBySize("--ingress", options.ingress).map(({ sizeUm, value }) => ({
        sizeUmC: sizeUm,
        particlesPerMin: value,
      })),
    }),
  });
  const assumptions = joinAssumptions(
    volume.assumptions,
    flow.assumptions,
    start.assumptions,
    plan.assumptions,
  );
  if (options.json) printJson(io, { ...planAsJson(plan), assumptions, cautions: CART_CAUTIONS });
  else io.out(sayPlan(plan) + sayAssumptions(assumptions) + sayCautions(CART_CAUTIONS));
  return plan.reachable ? 0 : 1;
}

function readStart(options: CirculateOptions): { counts: CountSet; assumptions: Assumption[] } {
  if (!options.start.includes("/")) {
    const per = readPer(options.per);
    const counts = readBySize("--start", options.start).map(({ sizeUm, value }) => ({
      sizeUm,
      count: value,
    }));
    return { counts: cumulativeCounts(counts, per.volumeMl), assumptions: per.assumptions };
  }
  const limits = limitsOfIso4406(readIso4406(options.start));
  return {
    counts: cumulativeCounts(
      limits.map(({ fromUm, limit }) => ({ sizeUm: fromUm, count: limit })),
      1,
    ),
    assumptions: [
      {
        code: "start-at-upper-end",
        message: `the start ${options.start.trim()} was taken at the upper end of each class`,
        source: "ISO-4406",
      },
    ],
  };
}

/** A plan as the command line prints it: what has no answer is null. */
export function planAsJson(plan: CirculationPlan) {
  return {
    reachable: plan.reachable,
    passes: plan.reachable ? plan.passes : null,
    minutes: plan.reachable ? plan.minutes : null,
    governing: plan.governing,
    obstacle: plan.reachable ? null : plan.obstacle,
    channels: plan.channels.map(({ channel, sizeUmC, start, limit, floor, removal, outcome }) => ({
      channel,
      sizeUmC,
      start,
      limit,
      floor: floor ?? null,
      removal,
      passes: outcome.kind === "reached" ? outcome.passes : null,
      minutes: outcome.kind === "reached" ? outcome.minutes : null,
    })),
  };
}

function sayPlan(plan: CirculationPlan): string {
  const answer = plan.reachable
    ? `Circulate ${sayNumber(plan.passes)} passes, ${sayMinutes(plan.minutes)}. Channel ${plan.governing} decides.\n`
    : `Circulating cannot get there: ${plan.obstacle}.\n`;
  const rows = plan.channels.map(({ channel, start, limit, floor, outcome }) => [
    channel,
    sayNumber(start),
    sayNumber(limit),
    floor === undefined ? "rises" : sayNumber(floor),
    outcome.kind === "reached" ? sayNumber(outcome.passes) : "never",
    outcome.kind === "reached" ? sayNumber(outcome.minutes) : "never",
  ]);
  return (
    answer + drawTable(["channel", "start per mL", "limit per mL", "floor per mL", "passes", "minutes"], rows)
  );
}
