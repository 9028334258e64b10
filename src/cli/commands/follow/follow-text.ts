import { VERDICT_WORDS, type VerdictWithRun } from "../../../fitness/index.js";
import { type CounterLog, describeIssue, type IntakeIssue } from "../../../intake/index.js";
import {
  codeOfMinute,
  describeElementLife,
  describeOnline,
  describeRemark,
  drawOnlineChart,
  type ElementLife,
  type OnlineAnswer,
  type OnlineEvent,
  type OnlineStream,
} from "../../../online/index.js";
import { SHORT_DEFERENCE, shown } from "../../../provenance/index.js";
import { drawLines, drawList, formatHowMany } from "../../text.js";
import type { Beginning } from "./settings.js";

/** What is known before the counter has said anything. */
export function describeBeginning({ target, assumptions, ofCart }: Beginning): string {
  return drawLines([
    ...(ofCart === undefined ? [] : describeCart(ofCart)),
    `Towards ${target}; times are UTC.`,
    ...assumptions.map(({ message }) => `${capital(message)}.`),
  ]);
}

function describeCart({
  cart,
  circuit,
  on,
  next,
  from,
  besides,
}: NonNullable<Beginning["ofCart"]>): string[] {
  const by = from === null ? "" : `, by sample ${from.sample} of ${from.drawnOn}`;
  return [
    `${cart} ${circuit} on ${on}${by}.`,
    ...next.map((step) => `${capital(step)}.`),
    ...besides.map((reason) => `Circulating does not settle: ${reason}.`),
  ];
}

/** What became of a line, or of a minute that is over. */
export function describeEvent(event: OnlineEvent, confidence: number): string {
  if (event.kind === "not-read") {
    return drawLines([`line ${event.line}: expected ${event.expected}; found ${event.found}`]);
  }
  if (event.kind === "clock-set-back") {
    return drawLines([`the clock of the instrument was set back by ${event.minutes} minutes; begins again`]);
  }
  const { answer, outlook } = event;
  const time = new Date(answer.minute.minute * 60_000).toISOString().slice(11, 16);
  const code = answer.remarks.some((remark) => remark.code === "counts-break-a-rule")
    ? undefined
    : codeOfMinute(answer.minute);
  const lines = [describeOnline(answer, outlook, confidence), ...answer.remarks.map(describeRemark)];
  return drawList([[`${time}  ${code ?? "–"}`, lines]]);
}

/** The levels of the last minutes, as a block of lines. */
export function describeChart(answers: readonly OnlineAnswer[]): string {
  return drawOnlineChart(answers)
    .map((line) => `${line}\n`)
    .join("");
}

/** How a log that is a table was read. */
export function describeLog({ file, readAs, notUsed, assumptions }: CounterLog): string {
  return drawLines([
    `${file}: read as ${readAs}.`,
    ...(notUsed.length === 0 ? [] : [`Columns that are not used: ${notUsed.map(shown).join(", ")}.`]),
    ...assumptions.map(({ message }) => `${message}.`),
  ]);
}

/** Why a row of a log is not used. */
export function describeSetAside(issue: IntakeIssue): string {
  return drawLines([describeIssue(issue)]);
}

/** What was not used. */
export function describeEnd(
  { repeated, late, setAside = 0 }: OnlineStream["unused"] & { readonly setAside?: number },
  isNothing: boolean,
  life: ElementLife | undefined,
  withRun: VerdictWithRun | undefined,
): string {
  return drawLines([
    ...(withRun === undefined
      ? []
      : [`Verdict with this run: ${VERDICT_WORDS[withRun.verdict]}. ${capital(withRun.why)}.`]),
    ...(life === undefined ? [] : describeElementLife(life).map((sentence) => `${sentence}.`)),
    ...(life?.kind === "hours" || life?.kind === "at-its-end" ? life.assumptions : []).map(
      ({ message }) => `Taken: ${message}.`,
    ),
    ...(isNothing ? ["No reading came."] : []),
    ...(repeated === 0 ? [] : [`Not used: ${formatHowMany(repeated, "line")} that came again.`]),
    ...(late === 0 ? [] : [`Not used: ${formatHowMany(late, "line")} that came after the minute was over.`]),
    ...(setAside === 0 ? [] : [`Set aside: ${formatHowMany(setAside, "row")} that could not be read.`]),
    SHORT_DEFERENCE,
  ]);
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
