import { viscosityAt, viscosityLine } from "../../../src/fluids/index.js";
import { seededRandom } from "../../../src/numeric/index.js";
import type { ElementInLine, OnlineMinute } from "../../../src/online/index.js";

/** Half a bar at 50 L/min and 15 mm²/s, which the fluid has at 40 °C; the indicator trips at six times that. */
export const ELEMENT: ElementInLine = {
  rated: { elementBar: 0.5, flowLpm: 50, mm2PerS: 15 },
  viscosity: viscosityLine({ temperatureC: 40, mm2PerS: 15 }, { temperatureC: 100, mm2PerS: 4 }),
  indicatorBar: 3,
};

/** How an element loads, and how its log was kept. */
export interface Loading {
  /** Running hours until the indicator trips. */
  readonly lifeH: number;
  /** The log begins and ends at these running hours. */
  readonly fromH: number;
  readonly toH: number;
  readonly power: number;
  readonly everyMin: number;
  /** Relative scatter of the drop from reading to reading. */
  readonly scatter?: number;
  /** The clean drop of this element, as a multiple of the stated one. */
  readonly clean?: number;
  readonly temperatureC?: (hour: number) => number;
  readonly flowLpm?: (hour: number) => number;
  /** What the instruments report; everything when absent. */
  readonly hides?: readonly (keyof OnlineMinute)[];
  readonly seed?: number;
}

/** The minutes of a log of an element that loads as its curve says. */
export function logOfElement(loading: Loading): OnlineMinute[] {
  const { lifeH, fromH, toH, power, everyMin, scatter = 0, clean = 1, hides = [] } = loading;
  const { temperatureC = () => 40, flowLpm = () => 50, seed = 1 } = loading;
  const random = seededRandom(seed);
  const normal = () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
  const { rated, viscosity, indicatorBar } = ELEMENT;
  const end = indicatorBar / (clean * rated.elementBar);
  return Array.from({ length: Math.round((60 * (toH - fromH)) / everyMin) + 1 }, (_, index) => {
    const hour = fromH + (index * everyMin) / 60;
    const [temperature, flow] = [temperatureC(hour), flowLpm(hour)];
    const times = 1 + (end - 1) * (hour / lifeH) ** power;
    const scaled = (flow / rated.flowLpm) * (viscosityAt(viscosity, temperature).value / rated.mm2PerS);
    const minute: OnlineMinute = {
      minute: 29_000_000 + index * everyMin,
      counts: [],
      temperatureC: temperature,
      flowLpm: flow,
      pressureDropBar: clean * rated.elementBar * times * scaled * Math.exp(scatter * normal()),
      readings: 1,
    };
    return Object.fromEntries(
      Object.entries(minute).filter(([field]) => !(hides as string[]).includes(field)),
    ) as unknown as OnlineMinute;
  });
}
