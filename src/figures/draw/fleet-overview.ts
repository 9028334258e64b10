import * as Plot from "@observablehq/plot";
import { compareWithLimits, limitsOfTarget, mostUsed } from "../../cleanliness/index.js";
import { describeStands, isHeld, type JudgedCircuit, standsAs } from "../../fitness/index.js";
import { type Measured, maximumOf } from "../../samples/index.js";
import { INK } from "../parts/ink.js";
import { rowNames } from "../parts/row-names.js";
import { drawSvg } from "../parts/svg.js";

interface Share {
  readonly row: string;
  readonly letter: string;
  readonly share: number;
  /** "<" or ">" where the laboratory gave a limit instead of a value. */
  readonly sign: string;
  readonly lane: number;
}

/** Pixels above and below the middle of a row, so that three marks at one place do not hide each other. */
const LANES = [-10, 0, 10] as const;
const MIN_SHARE = 0.01;
const TICKS = [0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100];

/**
 * Draws how much of its limits each circuit uses by its latest sample: particles, water and acid, with the verdict.
 *
 * @param circuits - judged circuits
 * @returns SVG text; a share below 1 % stands at the left edge, and what was not measured has no mark
 */
export function drawFleetOverview(circuits: readonly JudgedCircuit[]): string {
  const shares = circuits.flatMap(sharesOf);
  const rows = circuits.map((judged) => ({
    row: rowOf(judged),
    verdict: describeStands(standsAs(judged), isHeld(judged)),
  }));
  const fit = circuits.filter((judged) => standsAs(judged) === "fit").length;
  const on = circuits[0]?.verdict.on ?? "";
  const least = Math.max(MIN_SHARE, Math.min(0.1, ...shares.map(({ share }) => share)));
  const most = Math.max(2, ...shares.map(({ share }) => share * 1.15));
  const names = rowNames(
    rows.map(({ row }) => row),
    96,
    36,
  );
  return drawSvg(
    {
      width: 760,
      height: 116 + rows.length * names.height,
      marginLeft: names.margin,
      marginRight: 160,
      x: {
        type: "log",
        grid: true,
        label: "share of the limit",
        domain: [least, most],
        ticks: TICKS.filter((share) => share >= least && share <= most),
        tickFormat: (share: number) => `${Number((share * 100).toPrecision(2))} %`,
      },
      y: { type: "point", domain: rows.map(({ row }) => row), padding: 0.6, tickFormat: names.format },
      marks: [
        Plot.ruleY(rows, { y: "row", stroke: "currentColor", strokeOpacity: 0.15 }),
        Plot.ruleX([1], { stroke: INK.limit, strokeDasharray: "6,3", strokeWidth: 1.6 }),
        Plot.text([1], {
          x: (one: number) => one,
          text: () => "limit",
          frameAnchor: "top",
          dy: -9,
          fontSize: 11,
        }),
        ...LANES.flatMap((dy, lane) => {
          const own = shares.filter((share) => share.lane === lane);
          return [
            Plot.dot(
              own.filter(({ sign }) => sign === ""),
              { x: "share", y: "row", fill: INK.line, r: 3, dy },
            ),
            Plot.dot(
              own.filter(({ sign }) => sign !== ""),
              { x: "share", y: "row", stroke: INK.line, r: 3, dy },
            ),
            // A letter keeps off the line of the limit.
            ...[false, true].map((before) =>
              Plot.text(
                own.filter(({ share }) => isJustBelow(share) === before),
                {
                  x: "share",
                  y: "row",
                  text: ({ letter, sign }: Share) => `${sign}${letter}`,
                  textAnchor: before ? "end" : "start",
                  dx: before ? -6 : 6,
                  dy,
                  fontSize: 10,
                },
              ),
            ),
          ];
        }),
        Plot.text(rows, { y: "row", text: "verdict", frameAnchor: "right", textAnchor: "start", dx: 8 }),
      ],
    },
    {
      title: `${fit} of ${rows.length} circuits are fit to connect on ${on}`,
      yAxis:
        "P particles, the channel closest to its limit · W water · A acid number · to the right of the limit: outside",
    },
  );
}

function rowOf({ verdict }: JudgedCircuit): string {
  return `${verdict.cart} ${verdict.circuit}`;
}

function sharesOf(judged: JudgedCircuit): Share[] {
  const { requirement, verdict } = judged;
  const { sample } = verdict;
  if (requirement === undefined || sample === undefined) return [];
  const row = rowOf(judged);
  const worst =
    sample.counts &&
    mostUsed(
      compareWithLimits(sample.counts, requirement.cleanliness.flatMap(limitsOfTarget)).filter(
        (entry) => entry.outcome !== "not-measured",
      ),
    );
  const of = (
    letter: string,
    lane: number,
    measured: Measured | undefined,
    maximum: number | undefined,
  ): Share[] =>
    measured === undefined || maximum === undefined
      ? []
      : [{ row, letter, lane, share: atLeast(measured.value / maximum), sign: limitSign(measured) }];
  return [
    ...(worst === undefined ? [] : [{ row, letter: "P", lane: 0, share: atLeast(worst.share), sign: "" }]),
    ...of("W", 1, sample.waterPpm, maximumOf(requirement.waterPpmMax)),
    ...of("A", 2, sample.acidMgKohPerG, maximumOf(requirement.acidMgKohPerGMax)),
  ];
}

/** Near enough to the limit for a letter on the right of the mark to lie on its line. */
function isJustBelow(share: number): boolean {
  return share > 0.8 && share <= 1;
}

function atLeast(share: number): number {
  return Math.max(MIN_SHARE, share);
}

function limitSign({ limit }: Measured): string {
  if (limit === undefined) return "";
  return limit === "below" || limit === "at-most" ? "<" : ">";
}
