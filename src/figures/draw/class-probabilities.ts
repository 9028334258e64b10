import * as Plot from "@observablehq/plot";
import type { CleanlinessTarget, TableCertainty } from "../../cleanliness/index.js";
import { INK } from "../parts/ink.js";
import { drawSvg } from "../parts/svg.js";
import { classNames, formatChannel, tableOf } from "../parts/target-table.js";

/** Classes less likely than this in every channel are not drawn. */
const SHOWN_FROM = 0.0005;

/**
 * Draws how likely each class of a sample is, a panel for each channel. Classes that the target allows are filled, the
 * others are empty boxes.
 *
 * @param certainty - of `classConfidence`, with the table of the target's standard
 * @param target - the standard and what is allowed
 * @param name - what the sample is called in the title
 * @returns SVG text; a channel that is not known has a panel that says why
 */
export function drawClassProbabilities(
  certainty: TableCertainty<string, string>,
  target: CleanlinessTarget,
  name: string,
): string {
  const { table, allowed, noun } = tableOf(target);
  const names = classNames(table);
  const bars = certainty.channels.flatMap((channel) =>
    channel.kind === "cannot-tell"
      ? []
      : channel.classes.map(({ class: own, probability }) => {
          const limit = allowed.get(channel.channel);
          const inside = limit === undefined || names.indexOf(own) <= names.indexOf(limit);
          return { panel: channel.channel, own, probability, inside };
        }),
  );
  const likely = bars.filter(({ probability }) => probability >= SHOWN_FROM).map(({ own }) => own);
  const ranks = likely.map((own) => names.indexOf(own));
  const classes = names.slice(Math.max(0, Math.min(...ranks) - 1), Math.max(...ranks) + 2);
  const shown = bars.filter(({ own }) => classes.includes(own));
  const panels = certainty.channels.map(({ channel }) => channel);
  const reported = new Map(certainty.channels.map((entry) => [entry.channel as string, entry]));
  const wordsOf = (panel: string) => {
    const entry = reported.get(panel);
    const limit = allowed.get(panel);
    const required = limit === undefined ? "no limit" : `at most ${limit} allowed`;
    const seen = entry?.kind === "known" ? `particles counted: ${Math.round(entry.raw)}` : entry?.why;
    return `probability at ${formatChannel(table, panel)}: ${required}; ${seen}`;
  };
  return drawSvg(
    {
      width: 760,
      height: 108 + panels.length * 100,
      marginLeft: 56,
      marginRight: 24,
      x: {
        type: "band",
        domain: classes,
        label: `${table.standard} ${noun}; filled: inside the limit, empty: outside`,
        padding: 0.25,
      },
      y: {
        domain: [0, 1],
        grid: true,
        ticks: [0, 0.5, 1],
        tickFormat: (share: number) => `${share * 100} %`,
      },
      fy: { axis: null, domain: panels, padding: 0.36 },
      marks: [
        Plot.barY(
          shown.filter(({ inside }) => inside),
          { fy: "panel", x: "own", y: "probability", fill: INK.line },
        ),
        Plot.barY(
          shown.filter(({ inside, probability }) => !inside && probability >= SHOWN_FROM),
          { fy: "panel", x: "own", y: "probability", fill: "none", stroke: INK.limit, strokeWidth: 2 },
        ),
        Plot.ruleY([0], { stroke: "currentColor" }),
        Plot.text(
          shown.filter(({ probability }) => probability >= SHOWN_FROM),
          {
            fy: "panel",
            x: "own",
            y: "probability",
            text: ({ probability }: { probability: number }) => formatShare(probability),
            dy: -8,
            fontSize: 11,
          },
        ),
        Plot.text(panels, {
          fy: (panel) => panel,
          text: wordsOf,
          frameAnchor: "top-left",
          dx: -42,
          dy: -22,
        }),
      ],
    },
    { title: titleOf(certainty, name) },
  );
}

/** A probability in percent; never rounded to certainty. */
function formatShare(probability: number): string {
  const percent = 100 * probability;
  if (percent >= 99.95) return "> 99.9 %";
  return `${percent < 10 ? Number(percent.toPrecision(2)) : Number(percent.toPrecision(3))} %`;
}

function titleOf({ channels, standard }: TableCertainty<string, string>, name: string): string {
  const best = channels.map((channel) =>
    channel.kind === "cannot-tell"
      ? "?"
      : channel.classes.reduce((a, b) => (b.probability > a.probability ? b : a)).class,
  );
  return `${name}: most likely ${standard} ${best.join("/")}`;
}
