import { formatOnGauge, inShownUnit, type ShownIn } from "../../units/index.js";
import type { HeatPlan } from "../equipment/heat.js";
import type { ElementLoading } from "../equipment/loading.js";
import { type IndicatorReading, WATCHED_FROM_C } from "../equipment/pressure-drop.js";

/** Something about the equipment that comes before the minutes. */
export interface BeforeCirculating {
  readonly code: "element-full" | "element-fills" | "warm-up" | "too-cold-at-this-flow" | "heat-refused";
  /** What to do, and why. */
  readonly text: string;
}

/** What the equipment asks for before circulating, first things first; empty where nothing speaks against it. */
export function beforeCirculating(equipment: {
  readonly loading: ElementLoading | undefined;
  readonly indicator: IndicatorReading | undefined;
  readonly heat: HeatPlan | undefined;
  readonly shownIn?: ShownIn | undefined;
}): BeforeCirculating[] {
  const { loading, indicator, heat, shownIn } = equipment;
  return [
    ...(loading === undefined ? [] : elementOf(loading)),
    ...(indicator === undefined ? [] : coldOf(indicator, shownIn)),
    ...(heat?.kind === "refused"
      ? [{ code: "heat-refused" as const, text: `do not circulate like this: ${heat.why}` }]
      : []),
  ];
}

function elementOf({ retainedBeforeG, capacityG, share }: ElementLoading): BeforeCirculating[] {
  if (retainedBeforeG >= capacityG) {
    const text = `change the element first: it holds ${grams(retainedBeforeG)} and is rated for ${grams(capacityG)}`;
    return [{ code: "element-full", text }];
  }
  if (!(share >= 1)) return [];
  const text = `change the element first: with the ${grams(retainedBeforeG)} that it holds it would be full before the end`;
  return [{ code: "element-fills", text }];
}

/** Clean and yet beyond its setting: the indicator shows nothing, and the bypass valve of the element may stand open. */
function coldOf(
  { meaning, cleanDropBar, lookAgainAt, roomUpToLpm }: IndicatorReading,
  shownIn: ShownIn | undefined,
): BeforeCirculating[] {
  if (meaning !== "cold-fluid-alone-explains-it") return [];
  const drop = inShownUnit("pressure", cleanDropBar, shownIn);
  const room = inShownUnit("flow", roomUpToLpm, shownIn);
  const why = `a clean element drops ${drop.value.toPrecision(2)} ${drop.unit} in fluid as cold as this, which alone trips the indicator`;
  const flow = `at ${flowDown(room.value)} ${room.unit} or less`;
  return lookAgainAt.kind === "never"
    ? [{ code: "too-cold-at-this-flow", text: `do not circulate at this flow, only ${flow}: ${why}` }]
    : [
        {
          code: "warm-up",
          text: `warm the fluid to ${formatOnGauge("temperature", lookAgainAt.temperatureC, "up", shownIn)} first, ${flow}: ${why}`,
        },
      ];
}

/** The temperature from which the minutes count: from there on the indicator of the element can be trusted. */
export function minutesCountFromC(indicator: IndicatorReading | undefined): number {
  return indicator?.lookAgainAt.kind === "temperature" ? indicator.lookAgainAt.temperatureC : WATCHED_FROM_C;
}

function grams(mass: number): string {
  return `${Number(mass.toPrecision(2))} g`;
}

/** Two digits, never more flow than there is room for. */
function flowDown(flow: number): number {
  const place = 10 ** (Math.floor(Math.log10(flow)) - 1);
  return Number((Math.floor(flow / place) * place).toPrecision(2));
}
