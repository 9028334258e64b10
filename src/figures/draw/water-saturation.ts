import * as Plot from "@observablehq/plot";
import { type SaturationCurve, type SaturationPoint, saturationPpm } from "../../fluids/index.js";
import { formatMeasured, type Measured } from "../../samples/index.js";
import { inShownUnit, type ShownIn, shownUnit } from "../../units/index.js";
import { describeFreeBelow, describeFreeWater, formatDegrees, freeBelow } from "../parts/free-water.js";
import { INK } from "../parts/ink.js";
import { marginLabels } from "../parts/margin-labels.js";
import { type ShownOn, WIDTHS } from "../parts/shown-on.js";
import { drawSvg } from "../parts/svg.js";

const HEIGHT = 380;
const MARGIN_SIDES = {
  page: { marginLeft: 64, marginRight: 150 },
  phone: { marginLeft: 48, marginRight: 92 },
} as const;
const STEPS = 120;
/** The temperatures that a picture shows at least, and never goes beyond, in °C. */
const SHOWN = { from: 0, to: 40, coldest: -50, hottest: 110 } as const;
/** Degrees shown on either side of where free water appears. */
const AROUND = 15;
/** A measured point of the curve is in the picture when it is at most this many times the water in the fluid. */
const NEARBY = 5;

/** Water that was measured in a sample. */
export interface MeasuredWater {
  /** What the sample is called in the picture. */
  readonly words: string;
  /** In ppm by mass. */
  readonly water: Measured;
}

/** What may be drawn with the curve and the water. */
export interface SaturationExtras {
  /** The points that the curve was laid through; beyond them it is dashed. */
  readonly measured?: readonly SaturationPoint[];
  /** The share of saturation that is allowed, as a fraction, and the lowest temperature that the fluid will see. */
  readonly allowed?: { readonly shareMax: number; readonly lowestTemperatureC: number };
  /** How wide the picture is; as on a page when absent. */
  readonly shownOn?: ShownOn;
  /** The units in which temperatures are read; metric when absent. */
  readonly shownIn?: ShownIn;
}

/**
 * Draws how much water a fluid dissolves over temperature, and the water that was measured in it: left of where the two
 * meet, some of the water is free.
 *
 * A curve that rests on assumptions is dashed throughout and called assumed; say its assumptions with the picture.
 *
 * @param curve - a curve of `saturationCurve`, which refuses phosphate ester
 * @param levels - measured water, the one that the title speaks of first
 * @param name - cart and circuit, for the title
 * @param extras - measured points of the curve and what is allowed; see {@link SaturationExtras}
 * @returns SVG text; water of 0 ppm has no line
 */
export function drawWaterSaturation(
  curve: SaturationCurve,
  levels: readonly MeasuredWater[],
  name: string,
  extras: SaturationExtras = {},
): string {
  const { measured = [], allowed, shownOn = "page", shownIn } = extras;
  const degreesOf = (temperatureC: number) => inShownUnit("temperature", temperatureC, shownIn).value;
  const lowest = allowed === undefined ? [] : [allowed.lowestTemperatureC];
  const found = levels.filter(({ water }) => water.value > 0);
  const highest = Math.max(0, ...found.map(({ water }) => water.value));
  const near = measured
    .filter(({ waterPpm }) => waterPpm <= NEARBY * highest)
    .map((point) => ({ ...point, degrees: degreesOf(point.temperatureC) }));
  const meets = found.flatMap(({ water }) => {
    const temperatureC = freeBelow(curve, water);
    return temperatureC === undefined
      ? []
      : [{ temperatureC, degrees: degreesOf(temperatureC), waterPpm: water.value, water }];
  });
  const [from, to] = temperaturesShown([
    ...meets.flatMap(({ temperatureC }) => [temperatureC - AROUND, temperatureC + AROUND]),
    ...near.map(({ temperatureC }) => temperatureC),
    ...lowest.map((temperatureC) => temperatureC - 5),
  ]);
  const end = saturationPpm(curve, to);
  const top = Math.max(end, 1.35 * highest);
  const line = Array.from({ length: STEPS + 1 }, (_, step) => {
    const temperatureC = from + ((to - from) * step) / STEPS;
    return {
      temperatureC,
      degrees: degreesOf(temperatureC),
      waterPpm: saturationPpm(curve, temperatureC),
    };
  });
  const shown = meets.filter(({ temperatureC }) => temperatureC >= from && temperatureC <= to);
  const spoken = shown.filter(({ water }) => water === levels[0]?.water);
  const limits = allowed === undefined ? [] : [limitOf(curve, allowed, shownIn)];
  const assumed = curve.assumptions.length > 0;
  const width = WIDTHS[shownOn];
  const { marginLeft, marginRight } = MARGIN_SIDES[shownOn];
  return drawSvg(
    {
      width,
      height: HEIGHT,
      marginLeft,
      marginRight,
      x: {
        label: `fluid temperature, ${shownUnit("temperature", shownIn)}`,
        domain: [degreesOf(from), degreesOf(to)],
      },
      y: { grid: true, domain: [0, top], tickFormat: (ppm: number) => String(ppm) },
      marks: [
        Plot.frame({ stroke: "currentColor", strokeOpacity: 0.25 }),
        Plot.areaY(line, {
          x: "degrees",
          y1: "waterPpm",
          y2: () => top,
          fill: INK.limit,
          fillOpacity: 0.12,
        }),
        regionName("free water", degreesOf((to + Math.max(from, ...lowest)) / 2), {
          frameAnchor: "top",
          // On a phone it has room below the words of the lowest temperature only.
          dy: shownOn === "phone" ? 46 : 10,
        }),
        regionName("all dissolved", degreesOf(to), {
          y: widestGap([0, end, ...found.map(({ water }) => water.value)]),
          textAnchor: "end",
          dx: -10,
        }),
        ...partsOf(line, assumed ? [] : measured).map(({ points, dashed }) =>
          Plot.lineY(points, {
            x: "degrees",
            y: "waterPpm",
            stroke: INK.line,
            strokeWidth: 1.8,
            ...(dashed && { strokeDasharray: "5,3" }),
          }),
        ),
        Plot.dot(assumed ? [] : near, { x: "degrees", y: "waterPpm", fill: INK.line, r: 4 }),
        Plot.ruleY(limits, { y: "at", stroke: INK.limit, strokeDasharray: "6,3" }),
        Plot.ruleX(lowest, { x: degreesOf, stroke: INK.event, strokeDasharray: "2,3" }),
        Plot.text(lowest, {
          x: degreesOf,
          text: (temperatureC: number) => `may cool to\n${formatDegrees(temperatureC, shownIn)}`,
          frameAnchor: "top",
          textAnchor: "start",
          dx: 5,
          dy: 8,
          fontSize: 11,
        }),
        Plot.ruleY(found, {
          y: ({ water }: MeasuredWater) => water.value,
          stroke: "currentColor",
          strokeWidth: 1.4,
        }),
        Plot.ruleX(spoken, {
          x: "degrees",
          y1: 0,
          y2: "waterPpm",
          stroke: "currentColor",
          strokeDasharray: "2,3",
        }),
        Plot.dot(shown, {
          x: "degrees",
          y: "waterPpm",
          stroke: "currentColor",
          strokeWidth: 1.8,
          r: 5,
        }),
        ...spoken.map(({ temperatureC, degrees, water }) => {
          // Left of the curve and above the water, or right of it and below: neither line crosses the words there.
          const side = temperatureC > (from + to) / 2 ? -1 : 1;
          return Plot.text([water.value], {
            x: () => degrees,
            y: (ppm: number) => ppm,
            text: () => describeFreeBelow(water, temperatureC, shownIn),
            textAnchor: side === 1 ? "start" : "end",
            dx: 9 * side,
            dy: 11 * side,
            fontSize: 11,
          });
        }),
        ...marginLabels(
          [
            { words: assumed ? "saturation, assumed" : "saturation", at: end },
            ...found.map(({ words, water }) => ({
              words: `${words}: ${formatMeasured(water)} ppm`,
              at: water.value,
            })),
            ...limits,
          ],
          {
            height: HEIGHT,
            margin: marginRight,
            y: { type: "linear", domain: [0, top] },
            end: degreesOf(to),
            perPixel: (degreesOf(to) - degreesOf(from)) / (width - marginLeft - marginRight),
          },
        ),
      ],
    },
    {
      title: `${name}: ${describeFreeWater(curve, levels[0]?.water, allowed?.lowestTemperatureC, shownIn)}`,
      yAxis: axisOf(assumed, measured.length > 0),
    },
  );
}

/** What a region of the picture means, written into it. */
function regionName(words: string, degrees: number, { y, ...options }: Plot.TextOptions & { y?: number }) {
  return Plot.text([words], { ...options, x: () => degrees, ...(y !== undefined && { y: () => y }) });
}

function temperaturesShown(wanted: readonly number[]): [number, number] {
  const inRange = wanted.map((temperatureC) =>
    Math.max(SHOWN.coldest, Math.min(SHOWN.hottest, temperatureC)),
  );
  return [Math.floor(Math.min(SHOWN.from, ...inRange)), Math.ceil(Math.max(SHOWN.to, ...inRange))];
}

/** The curve between its measured points, and what lies beyond them; all of it is dashed where there are none. */
function partsOf<T extends { readonly temperatureC: number }>(
  line: readonly T[],
  measured: readonly SaturationPoint[],
) {
  const temperatures = measured.map(({ temperatureC }) => temperatureC);
  const [cold, warm] = [Math.min(...temperatures), Math.max(...temperatures)];
  return [
    { points: line.filter(({ temperatureC }) => temperatureC <= cold), dashed: true },
    {
      points: line.filter(({ temperatureC }) => temperatureC >= cold && temperatureC <= warm),
      dashed: false,
    },
    { points: line.filter(({ temperatureC }) => temperatureC >= warm && temperatureC > cold), dashed: true },
  ].filter(({ points }) => points.length > 1);
}

/** The water that is allowed at the lowest temperature. */
function limitOf(
  curve: SaturationCurve,
  { shareMax, lowestTemperatureC }: NonNullable<SaturationExtras["allowed"]>,
  shownIn: ShownIn | undefined,
) {
  const at = shareMax * saturationPpm(curve, lowestTemperatureC);
  return {
    at,
    words: `limit at ${formatDegrees(lowestTemperatureC, shownIn)}: ${Number(at.toPrecision(3))}`,
  };
}

/** The middle of the widest gap between numbers. */
function widestGap(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const gaps = sorted.slice(1).map((value, index) => ({ from: sorted[index] ?? 0, to: value }));
  const widest = gaps.reduce((best, gap) => (gap.to - gap.from > best.to - best.from ? gap : best));
  return (widest.from + widest.to) / 2;
}

function axisOf(assumed: boolean, hasPoints: boolean): string {
  const unit = "water, ppm by mass";
  if (assumed) return `${unit}; dashed: an assumed curve, not measured on this fluid`;
  return hasPoints ? `${unit}; dots: saturation as measured, dashed: the curve beyond them` : unit;
}
