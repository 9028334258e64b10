import {
  type CirculationPlan,
  formatMinutes,
  formatPasses,
  type PlanConfidence,
} from "../circulation/index.js";
import { isPicture } from "../figures/index.js";
import {
  describeAllHolds,
  describeVerdict,
  type JudgedCircuit,
  VERDICT_WORDS,
  type Verdict,
  verdictColumns,
} from "../fitness/index.js";
import { renderFrame } from "../frames/index.js";
import { type Cell, renderTable } from "./table.js";

/** A row of a table of the reader's own: the names of its fields are the heads of the columns. */
export type Row = Readonly<Record<string, Cell>>;

/**
 * A data frame, by what a table of it needs: named here, so that nobody has to install data frames to show a verdict.
 */
export interface Frame {
  readonly columns: readonly string[];
  /** name of the type of each column, "string" for texts */
  readonly dtypes: readonly string[];
  /** label of each row */
  readonly index: readonly (string | number)[];
  /** number of rows and of columns */
  readonly shape: readonly number[];
  readonly values: readonly unknown[];
}

/** What a notebook can show by itself. Assumptions, cautions and reasons are lists of messages. */
export type Showable =
  | string
  | JudgedCircuit
  | Verdict
  | CirculationPlan
  | PlanConfidence
  | Frame
  | readonly JudgedCircuit[]
  | readonly { readonly message: string }[]
  | readonly Row[];

/** What a notebook editor displays. */
export type Rich = { readonly kind: "html" | "markdown"; readonly text: string };

/**
 * Makes a result into what a notebook editor displays: a picture as it is, any other text as Markdown, verdicts, plans and
 * data frames as tables, assumptions, cautions and reasons as a list.
 *
 * @param value - a result; see {@link Showable}
 * @param caption - what is shown, in one line; where it is absent the result names itself
 * @returns HTML or Markdown; text from files is shown as text
 */
export function richOf(value: Showable, caption?: string): Rich {
  if (typeof value === "string") return isPicture(value) ? html(value) : markdown(value);
  if (Array.isArray(value)) return richOfList(value, caption);
  if (isFrame(value)) return html(renderFrame(value, caption ?? "Data frame"));
  if ("trends" in value) return richOfJudged(value as JudgedCircuit, caption);
  if ("minutesFor" in value) return richOfHowSure(value as PlanConfidence, caption);
  if ("governing" in value) return richOfPlan(value as CirculationPlan, caption);
  return richOfVerdict(value as Verdict, caption);
}

/** Markdown without tags and links: what a cart is called may be in it, and is never more than text. */
function markdown(text: string): Rich {
  return { kind: "markdown", text: text.replaceAll("<", "&lt;").replaceAll("](", "]&#40;") };
}

function html(text: string): Rich {
  return { kind: "html", text };
}

function isFrame(value: object): value is Frame {
  return "columns" in value && "shape" in value;
}

function richOfList(values: readonly unknown[], caption: string | undefined): Rich {
  const [first] = values;
  if (typeof first !== "object" || first === null) return markdown(caption ?? "None.");
  if ("trends" in first) return richOfFleet(values as readonly JudgedCircuit[], caption);
  if ("message" in first) {
    const lines = (values as readonly { message: string }[]).map(({ message }) => `- ${message}`);
    return markdown([...(caption === undefined ? [] : [`${caption}\n`]), ...lines].join("\n"));
  }
  const rows = values as readonly Row[];
  const head = [...new Set(rows.flatMap((row) => Object.keys(row)))];
  return html(
    renderTable(
      head,
      rows.map((row) => head.map((name) => row[name])),
      caption ?? "Table",
    ),
  );
}

/** A circuit that a person holds has that for its caption. */
function richOfJudged({ verdict, standing }: JudgedCircuit, caption: string | undefined): Rich {
  return richOfVerdict(verdict, caption ?? describeAllHolds([{ ...verdict, standing }], [])[0]);
}

function richOfVerdict(verdict: Verdict, caption: string | undefined): Rich {
  return html(
    renderTable(
      ["calls for", "because"],
      verdict.reasons.map((reason) => [VERDICT_WORDS[reason.callsFor], reason.message]),
      caption ?? describeVerdict(verdict),
    ),
  );
}

const COLUMNS = verdictColumns([
  "cart",
  "circuit",
  "verdict",
  "circulate",
  "iso4406",
  "water",
  "acid",
  "sample",
  "drawn",
]);

function richOfFleet(circuits: readonly JudgedCircuit[], caption: string | undefined): Rich {
  return html(
    renderTable(
      COLUMNS.map(({ title }) => title),
      circuits.map((judged) => COLUMNS.map(({ of }) => of(judged))),
      caption ?? `Every circuit, judged on ${circuits[0]?.verdict.on}`,
    ),
  );
}

function richOfPlan(plan: CirculationPlan, caption: string | undefined): Rich {
  const answer = plan.reachable
    ? `By the stated values alone: ${formatMinutes(plan.minutes)} (${formatPasses(plan.passes)}), no time to go by; channel ${plan.governing} decides`
    : `Circulating does not get there: ${plan.obstacle}`;
  return html(
    renderTable(
      ["channel", "now, per mL", "limit, per mL", "settles at, per mL", "inside after"],
      plan.channels.map((channel) => [
        channel.channel,
        channel.start,
        channel.limit,
        channel.floor ?? "rises without end",
        channel.outcome.kind === "reached" ? formatMinutes(channel.outcome.minutes) : "never",
      ]),
      caption ?? answer,
    ),
  );
}

function richOfHowSure(sure: PlanConfidence, caption: string | undefined): Rich {
  return html(
    renderTable(
      ["how sure", "circulate", "passes"],
      sure.minutesFor.map((entry) => [
        `${entry.probability * 100} %`,
        entry.kind === "minutes"
          ? formatMinutes(entry.minutes)
          : `never so sure; at most ${(entry.highest * 100).toFixed(0)} %`,
        entry.kind === "minutes" ? entry.passes : undefined,
      ]),
      caption ?? `Minutes after which the circuit is at its target, from ${sure.draws} drawn cases`,
    ),
  );
}
