import fc from "fast-check";
import { cumulativeCounts } from "../../../src/counts/index.js";
import type { Requirement, Sample } from "../../../src/samples/index.js";
import { isBefore } from "./what-fit-lacks.js";
import { WORLD_COUNT_LIMITS, type World } from "./worlds.js";

/** The field of a requirement that takes a counter in the line. */
export const COUNTER_IN_LINE = { repeatability: 0.1, bias: 0.2, minutesMin: 10, ageDaysMax: 5 };

/** A run of a counter in the line of some circuit of a world: mostly one that does all it should, now and then not. */
export interface WorldRun {
  readonly cart: string;
  readonly circuit: string;
  readonly daysAgo: number;
  readonly share: number;
  readonly isClean: boolean;
  readonly minutes: number;
  readonly temperatureC: number;
  readonly flows: readonly [number, number];
  readonly port: "upstream-of-element" | "downstream-of-element" | undefined;
  readonly confidence: number;
  readonly repeatability: number;
  readonly bias: number;
  /** How much higher than those of the requirement the limits were that it was followed towards. */
  readonly limitTimes: number;
}

const mostly = <T>(usual: T, ...others: T[]) =>
  fc.oneof(
    { weight: 20, arbitrary: fc.constant(usual) },
    { weight: 2, arbitrary: fc.constantFrom(...others) },
  );

/** Runs of the circuits of any world; those of circuits that a world does not have are nobody's. */
export const worldRuns: fc.Arbitrary<WorldRun[]> = fc.array(
  fc.record({
    cart: fc.constantFrom("QX-1", "QX-1", "MV-7"),
    circuit: fc.constantFrom("fore", "fore", "aft"),
    daysAgo: fc.constantFrom(0, 1, 2, 5, 6, 20, -1),
    share: fc.oneof(
      { weight: 5, arbitrary: fc.constantFrom(0.1, 0.2, 0.4) },
      { weight: 1, arbitrary: fc.constantFrom(0.9, 1, 1.01, 4) },
    ),
    isClean: mostly(true, false),
    minutes: mostly(10, 9, 60),
    temperatureC: mostly(41, 29.5, 29.3, 5),
    flows: mostly<readonly [number, number]>([44, 46], [35, 46], [44, 60], [36, 56.25]),
    port: mostly<WorldRun["port"]>("upstream-of-element", "downstream-of-element", undefined),
    confidence: mostly(0.95, 0.9, 0.99),
    repeatability: mostly(0.1, 0, 0.2),
    bias: mostly(0.2, 0.1, 0.3),
    limitTimes: mostly(1, 2, 0.5),
  }),
  { minLength: 1, maxLength: 4 },
);

const dayOf = (world: World, { daysAgo }: WorldRun) =>
  new Date(Date.parse(world.on) - daysAgo * 86_400_000).toISOString().slice(0, 10);

/** A run as the sample it gives. */
export function sampleOfWorldRun(world: World, run: WorldRun, index: number): Sample {
  return {
    sample: `R-${index}`,
    cart: run.cart,
    circuit: run.circuit,
    drawnOn: dayOf(world, run),
    drawnTime: "10:00Z",
    counts: cumulativeCounts(
      WORLD_COUNT_LIMITS.map((limit, place) => ({
        sizeUm: [4, 6, 14][place] as number,
        count: limit * run.share,
      })),
      1,
      "um(c)",
      { countedMl: 100 },
    ),
    ...(run.port && { samplePoint: run.port }),
    flowing: true,
    counterRun: {
      isClean: run.isClean,
      minutes: run.minutes,
      lowestTemperatureC: run.temperatureC,
      lowestFlowLpm: run.flows[0],
      highestFlowLpm: run.flows[1],
      confidence: run.confidence,
      repeatability: run.repeatability,
      bias: run.bias,
      limits: WORLD_COUNT_LIMITS.map((limit, place) => ({
        fromUm: [4, 6, 14][place] as number,
        perMl: limit * run.limitTimes,
      })),
    },
    origin: [{ file: "a counter", rows: [index + 1] }],
  };
}

/**
 * What must hold of a run that shows the particles of a circuit that is called fit, told from the run and the world: one line for
 * each thing that is missing.
 */
export function whatRunLacks(world: World, run: WorldRun, requirement: Requirement): string[] {
  const lacks: string[] = [];
  const must = (holds: boolean, what: string) => {
    if (!holds) lacks.push(what);
  };
  const day = dayOf(world, run);
  const own = world.carts.carts
    .find(({ cart }) => cart === run.cart)
    ?.circuits.find(({ circuit }) => circuit === run.circuit);
  const rows = world.rows.filter((row) => row.cart === run.cart && row.circuit === run.circuit);
  const events = own?.events ?? [];
  const oldest = Math.min(
    COUNTER_IN_LINE.ageDaysMax,
    requirement.resultAgeDaysMax?.particles ?? requirement.sampleAgeDaysMax,
  );
  must(requirement.counterInLine !== undefined, "a requirement that takes it");
  must(run.isClean && run.share <= 1, "clean");
  must(run.port === "upstream-of-element", "upstream");
  must(run.minutes >= COUNTER_IN_LINE.minutesMin, "minutes");
  must(run.temperatureC >= (85 - 32) / 1.8, "warm");
  must(run.flows[0] >= 36 && run.flows[1] <= 56.25, "the flow of this circuit");
  must(run.daysAgo >= 0 && run.daysAgo <= oldest, "young enough");
  must(run.confidence >= (requirement.confidence?.probability ?? 0.95), "the confidence");
  must(run.repeatability >= 0.1 && run.bias >= 0.2, "the precision");
  must(run.limitTimes <= 1, "the limits");
  must(
    rows.some((row) => !events.some((event) => event.kind === "fluid-change" && !isBefore(event, row))),
    "a bottle of the fluid that is in the circuit now",
  );
  const since = events.filter(({ on }) => on >= day);
  must(!since.some(({ kind, on }) => kind === "fluid-change" && on <= world.on), "the same fluid");
  must(
    !since.some(
      ({ kind, aircraftFound }) =>
        aircraftFound === "dirty" ||
        (requirement.after?.find((entry) => entry.event === kind)?.sample ??
          ["fluid-change", "element-change", "opening"].includes(kind)),
    ),
    "no event since",
  );
  must(!rows.some((row) => row.drawnOn > day && row.counts.some((cell) => cell !== "")), "the newest counts");
  return lacks;
}
