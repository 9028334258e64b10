import * as Plot from "@observablehq/plot";
import type { ComparedQuantity, LaboratoryComparison } from "../../laboratories/index.js";
import { INK, PAPER } from "../parts/ink.js";
import { drawSvg } from "../parts/svg.js";

/** Pixels of a row, and of the words above each panel. */
const ROW = 26;
const PANEL_HEAD = 44;
const OUTSIDE = 112;

interface Row {
  readonly panel: string;
  readonly laboratory: string;
  readonly estimate: number;
  readonly low?: number;
  readonly high?: number;
  readonly differs: boolean;
}

/**
 * Draws how each laboratory reads against the reference, with the interval of its bias, a panel for each quantity. A filled
 * dot is a laboratory that differs, an empty one a laboratory in which no difference was found.
 *
 * @param comparison - of `compareLaboratories`
 * @param field - counts as factors on a logarithmic axis, the others as differences in their unit
 * @returns SVG text; a laboratory with too few shared fluids is not in it
 */
export function drawLaboratories(
  { quantities, confidence }: LaboratoryComparison,
  field: ComparedQuantity["field"] = "counts",
): string {
  const shown = quantities.filter((quantity) => quantity.field === field);
  const rows = shown.flatMap(rowsOf);
  const panels = [...new Set(rows.map(({ panel }) => panel))];
  const laboratories = [...new Set(rows.map(({ laboratory }) => laboratory))].sort();
  const isRatio = field === "counts";
  const unit = shown[0]?.unit;
  return drawSvg(
    {
      width: 760,
      height: OUTSIDE + Math.max(1, panels.length) * (PANEL_HEAD + laboratories.length * ROW),
      marginLeft: 190,
      marginRight: 32,
      insetLeft: 12,
      insetRight: 12,
      x: {
        type: isRatio ? "log" : "linear",
        grid: true,
        ...(isRatio && { ticks: 6, tickFormat: (factor: number) => String(Number(factor.toPrecision(2))) }),
        label: `${isRatio ? "factor against" : `difference in ${unit ?? ""} from`} ${againstIn(shown)}; line: interval of ${Number((100 * confidence).toPrecision(3))} %`,
      },
      y: { type: "band", domain: laboratories, padding: 0.4 },
      fy: { axis: null, domain: panels, padding: 0.28 },
      marks: [
        Plot.frame({ stroke: "currentColor", strokeOpacity: 0.25 }),
        Plot.ruleX([isRatio ? 1 : 0], { stroke: INK.limit, strokeDasharray: "6,3" }),
        Plot.ruleY(
          rows.filter(({ low }) => low !== undefined),
          { fy: "panel", y: "laboratory", x1: "low", x2: "high", stroke: INK.line, strokeWidth: 2.5 },
        ),
        Plot.dot(rows, {
          fy: "panel",
          x: "estimate",
          y: "laboratory",
          r: 5,
          stroke: INK.line,
          strokeWidth: 2,
          fill: ({ differs }: Row) => (differs ? INK.line : PAPER),
        }),
        Plot.text(panels, {
          fy: (panel) => panel,
          text: (panel) => panel,
          frameAnchor: "top-left",
          dx: -176,
          dy: -16,
        }),
      ],
    },
    { title: titleOf(rows, againstIn(shown)) },
  );
}

function rowsOf({ quantity, laboratories, unit }: ComparedQuantity): Row[] {
  return laboratories.flatMap(({ laboratory, bias }): Row[] => {
    const own = { panel: quantity, laboratory };
    if (bias.kind === "too-few") return [];
    if (bias.kind === "reference") return [{ ...own, estimate: unit === undefined ? 1 : 0, differs: false }];
    const { estimate, differs } = bias;
    if (bias.kind === "no-scatter") return [{ ...own, estimate, differs }];
    return [{ ...own, estimate, differs, low: bias.low, high: bias.high }];
  });
}

/** What the biases are stated against. */
function againstIn(shown: readonly ComparedQuantity[]): string {
  const all = shown.flatMap(({ laboratories }) =>
    laboratories.flatMap(({ bias }) => ("against" in bias ? [bias.against] : [])),
  );
  return [...new Set(all)].join(" or ") || "the others";
}

function titleOf(rows: readonly Row[], against: string): string {
  if (rows.length === 0) return "Too few shared fluids to compare laboratories";
  const different = [...new Set(rows.flatMap(({ laboratory, differs }) => (differs ? [laboratory] : [])))];
  if (different.length === 0) return "No difference between laboratories was found";
  return `${different.join(", ")} ${different.length === 1 ? "differs" : "differ"} from ${against}`;
}
