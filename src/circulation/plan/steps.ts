import { checkNumbers } from "../../numeric/index.js";
import type { SourceKey } from "../../provenance/index.js";
import { formatOnGauge, type ShownIn } from "../../units/index.js";
import type { HeatPlan } from "../equipment/heat.js";
import { formatCountFrom, WATCHED_FROM_C } from "../equipment/pressure-drop.js";
import { levelOver } from "../model/mixing.js";
import { levelAfter, type Mode } from "../model/modes.js";
import { minutesDown, minutesUp, momentUp } from "./format-minutes.js";
import type { CirculationPlan, PlannedChannel } from "./plan.js";
import { channelLevel, portLevel } from "./plan.js";

/** One step of a circulation, in the order it is done. */
export interface CirculationStep {
  readonly step: string;
  readonly caution?: string;
  /** Particles per mL to be expected at the sampling port, by channel; given where a sample is drawn or one was. */
  readonly expected?: readonly { readonly channel: string; readonly perMl: number }[];
  readonly source: SourceKey;
}

/** What the steps are made from. */
export interface StepsInput {
  readonly plan: CirculationPlan;
  /** When the verifying sample is to be drawn; absent while that depends on an interim sample. */
  readonly minutes?: number;
  /** When the next interim sample is to be drawn; none when absent. */
  readonly interimMinutes?: number | undefined;
  /** The latest moment at which a sample was drawn already; the start when absent. */
  readonly lastDrawnMinutes?: number;
  /** Minutes that were run since the start; the others count from the start, and are said from now on. */
  readonly doneMinutes?: number;
  /** What comes before the minutes. */
  readonly before?: readonly { readonly text: string }[];
  /** Temperature in °C from which the minutes count. */
  readonly countFromC?: number;
  readonly heat?: HeatPlan;
  /** What a port downstream of the elements sees of each channel, where samples are drawn there; see {@link deliveredModes}. */
  readonly delivered?: readonly (readonly Mode[])[];
  /** The units in which it is answered; metric when absent. */
  readonly shownIn?: ShownIn | undefined;
}

/**
 * The circulation as a person carries it out: steps in order, with cautions and the counts to expect.
 *
 * The order and the cautions are common practice; the cart's own instructions and the aircraft maintenance manual
 * come before them.
 *
 * @param input - see {@link StepsInput}
 * @source PRACTICE
 * @source NAVEDTRA-14018-CIRCULATION
 * @example
 * const start = cumulativeCounts([{ sizeUm: 4, count: 20000 }], 1);
 * const limits = limitsOfTarget(parseTarget("17/-/-"));
 * const plan = planCirculation({ volumeL: 60, flowLpm: 45, betas: [{ sizeUmC: 4, beta: 10 }], start, limits });
 * circulationSteps({ plan, minutes: 5 }).length; // => 6
 */
export function circulationSteps(input: StepsInput): CirculationStep[] {
  const { plan, heat, doneMinutes: done = 0 } = input;
  const { minutes: planned, interimMinutes: interim, lastDrawnMinutes, countFromC } = input;
  checkNumbers("finite", {
    ...{ minutes: planned, interimMinutes: interim, lastDrawnMinutes, countFromC },
    doneMinutes: done,
  });
  // Clocks are read in such steps; the counts to expect are those of the time that is said.
  const minutes = planned === undefined ? undefined : momentUp(planned, done);
  const interimMinutes = interim === undefined ? undefined : momentUp(interim, done);
  const when = (moment: number) =>
    `After ${minutesUp(moment - done)} minutes of circulating${done > 0 ? ` (${moment} in all)` : ""}`;
  const isNow = (input.minutes ?? 0) <= (input.lastDrawnMinutes ?? 0);
  const countFrom = formatCountFrom(input.countFromC ?? WATCHED_FROM_C);
  const expected = (at: number) =>
    plan.channels.map((channel, index) => ({
      channel: channel.channel,
      perMl: levelOver(plan.mixing, at / plan.minutesPerPass, (passes) =>
        levelAfter(input.delivered?.[index] ?? channel.portModes, passes),
      ),
    }));
  const steps: CirculationStep[] = [
    {
      step: "Take the cart's instructions and the aircraft maintenance manual; check the placard and the fluid of this circuit.",
      caution:
        "Where they differ from these steps, they come first. Circulate each circuit by itself; the two fluids never meet.",
      source: "PRACTICE",
    },
    {
      step: "With the unit off and without pressure, join the pressure and return hose so that the hoses are in the loop.",
      caution:
        "Move the pressure and return valves together and only with the unit off. Remove all pressure and discharge stored energy before opening a line.",
      source: "PRACTICE",
    },
    {
      step: "Open the bypass valves, start the unit, then close them and set the flow that the plan was made for.",
      caution:
        "Have the bypass valves open whenever the unit starts or stops. Look for leaks with card or wood, never by hand. " +
        "Air that the start stirs in counts as particles, and settled dirt that it stirs up makes the counts rise at first: draw no " +
        "sample before both are over.",
      expected: expected(done),
      source: "PRACTICE",
    },
    {
      step: `Count the minutes from ${countFrom} on, where the clogging indicator can be trusted; watch it and the temperature throughout.`,
      caution:
        "Stop at an indication and have the element replaced; cold fluid can trip an indicator on its own.",
      source: "NAVEDTRA-14018-CIRCULATION",
    },
  ];
  steps.splice(
    1,
    0,
    ...(input.before ?? []).map(({ text }) => ({
      step: `${text.charAt(0).toUpperCase()}${text.slice(1)}.`,
      source: "PRACTICE" as const,
    })),
  );
  if (heat !== undefined && heat.kind !== "refused") steps.push(...heatSteps(heat, input.shownIn));
  if (interimMinutes !== undefined && (minutes === undefined || interimMinutes < minutes)) {
    steps.push({
      step: `${when(interimMinutes)}, flush the sampling port and draw the interim sample while the fluid is flowing.`,
      caution:
        `Let about three times the volume of the sampling line go to waste first, without stopping the flow. Wear eye protection and gloves. ${AIR}` +
        (minutes === undefined ? " The time of the verifying sample depends on what it shows." : ""),
      expected: expected(interimMinutes),
      source: "PRACTICE",
    });
  }
  if (minutes !== undefined) {
    steps.push({
      step: `${isNow ? "Now" : when(minutes)}, flush the sampling port again and draw the verifying sample while the fluid is flowing.`,
      caution: `${AIR} A computed time is an estimate; only the sample shows that the fluid is clean.`,
      expected: expected(minutes),
      source: "PRACTICE",
    });
    steps.push(
      ...reboundSteps(plan, minutes, input.delivered === undefined ? "" : " upstream of the element"),
    );
  }
  steps.push({
    step: "Open the bypass valves, stop the unit, then move the pressure and return valves together.",
    caution: "Do not connect the cart until the verifying sample is in and the licensed staff have decided.",
    source: "PRACTICE",
  });
  return steps;
}

/** Said wherever a bottle is ordered. Common practice, no source. */
export const LET_AIR_SETTLE =
  "air in the bottle counts as particles: once it is shaken, let the air settle out until no bubble is seen, then have it counted at once";

const AIR = `${LET_AIR_SETTLE.charAt(0).toUpperCase()}${LET_AIR_SETTLE.slice(1)}.`;

/** What the slow zone gives back once the unit stands; no step where that is nothing. */
function reboundSteps(plan: CirculationPlan, minutes: number, where: string): CirculationStep[] {
  const rebound = plan.channels
    .map((channel) => reboundOf(plan, channel, minutes))
    .filter((entry) => entry.factor > 1);
  if (rebound.length === 0) return [];
  const worst = rebound.reduce((a, b) => (b.factor > a.factor ? b : a));
  return [
    {
      step: `Expect the counts to rise when the unit stands and the slow zone mixes in:${where} in channel ${worst.channel} from ${formatCount(worst.port)} to ${formatCount(worst.circuit)} per mL.`,
      caution:
        "A sample at the port looks cleaner than the circuit; the plan holds the target against the whole circuit.",
      source: "TWO-ZONE",
    },
  ];
}

/** A channel's rebound once the zones mix: what the port shows, what the circuit holds, and their ratio. */
export function reboundOf(
  plan: CirculationPlan,
  channel: PlannedChannel,
  minutes: number,
): { readonly channel: string; readonly port: number; readonly circuit: number; readonly factor: number } {
  const passes = minutes / plan.minutesPerPass;
  const port = portLevel(plan, channel, passes);
  const circuit = channelLevel(plan, channel, passes);
  return { channel: channel.channel, port, circuit, factor: port > 0 ? circuit / port : 1 };
}

function heatSteps(
  heat: Exclude<HeatPlan, { readonly kind: "refused" }>,
  shownIn: ShownIn | undefined,
): CirculationStep[] {
  switch (heat.kind) {
    case "one-run":
      return [
        {
          step: `Circulate in one run; the fluid is expected to end at ${formatOnGauge("temperature", heat.endC, "near", shownIn)}.`,
          caution: "Stop before the high-temperature limit whatever the plan says.",
          source: "FIRST-ORDER",
        },
      ];
    case "runs-with-pauses":
      return [
        {
          step:
            `Circulate in runs: the first ${minutesDown(heat.firstRunMin)} minutes, then a pause of ${minutesUp(heat.pauseMin)} minutes, then runs of at most ` +
            `${minutesDown(heat.runMin)} minutes with the same pause, ${heat.pauses} ${heat.pauses === 1 ? "pause" : "pauses"} and ${minutesUp(heat.totalMin)} minutes in all. Pauses do not count as circulating.`,
          caution:
            "Stop before the high-temperature limit whatever the plan says, with the bypass valves open.",
          source: "FIRST-ORDER",
        },
      ];
  }
}

function formatCount(perMl: number): string {
  return Number(perMl.toPrecision(3)).toString();
}
