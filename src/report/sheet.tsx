import {
  type CirculationPlan,
  channelLevel,
  formatMinutes,
  minutesSinceStart,
} from "../circulation/index.js";
import { drawCleanUpCurve } from "../figures/index.js";
import {
  briefOf,
  describeBesideFit,
  describeHolds,
  describeOtherBottles,
  describeOtherDecisions,
  describeOtherTexts,
  describeTargets,
  type JudgedCircuit,
  type Reason,
  samplingSteps,
  standsAs,
  stepsOf,
  type UnreadResult,
  VERDICT_WORDS,
  type Verdict,
  validUntilOf,
} from "../fitness/index.js";
import { CART_CAUTIONS } from "../provenance/index.js";
import { formatQuantity, type ShownIn, shownUnit } from "../units/index.js";
import { anchorOf, hasLongName, nameOf } from "./names.js";
import { Picture, VerdictMark, Wide } from "./parts.js";

/** One circuit: the verdict, why, and what to do. It prints on one page of A4, with the cautions, to be taken along. */
export function Sheet({
  judged,
  on,
  rowsOfNoCart,
  record,
  alone = false,
}: {
  judged: JudgedCircuit;
  on: string;
  rowsOfNoCart: readonly UnreadResult[];
  /** Where it is in the sample book. */
  record: string | undefined;
  /** Without the rest of the report that it refers to. */
  alone?: boolean;
}) {
  const { verdict, circuit, requirement, standing } = judged;
  const besideFit = verdict.verdict === "fit" ? describeBesideFit(verdict, rowsOfNoCart) : [];
  const also = verdict.sample && describeOtherTexts(verdict.sample);
  const otherBottles = describeOtherBottles(verdict);
  const decided = describeOtherDecisions(standing);
  const isFit = standsAs(judged) === "fit";
  return (
    <section
      class={`sheet${isFit ? " half" : ""}${hasLongName(verdict) ? " long-names" : ""}`}
      id={anchorOf(verdict)}
      aria-labelledby={`${anchorOf(verdict)}-name`}
    >
      <h2 id={`${anchorOf(verdict)}-name`}>
        <span class="whose">{nameOf(verdict)}:</span> <VerdictMark judged={judged} />
      </h2>
      {describeHolds(standing).map((hold) => (
        <p key={hold} class="held-by">
          {hold}
        </p>
      ))}
      {isFit ? <ValidUntil judged={judged} /> : <p class="action">{briefOf(judged).action}</p>}
      {decided.map((decision) => (
        <p key={decision} class="decided">
          <b>A person decided otherwise.</b> {decision}
        </p>
      ))}
      {standing?.held && <p>The verdict stays as computed: {VERDICT_WORDS[verdict.verdict]}.</p>}
      <p>
        {circuit.fluid}, {formatQuantity("volume", circuit.volumeL, circuit.shownIn)}
        {circuit.flowLpm === undefined ? "" : `, ${formatQuantity("flow", circuit.flowLpm, circuit.shownIn)}`}
        , for {circuit.serves}. {requirement && <>Target {describeTargets(requirement).join(" and ")}.</>}{" "}
        <span class="on-paper">Judged on {on}.</span>
      </p>
      {record && <p class="record">{record}</p>}
      {besideFit.map((sentence) => (
        <p key={sentence}>
          <strong>Not settled:</strong> {sentence}.
        </p>
      ))}
      <div class="why-and-what">
        <div>
          <h3>Why</h3>
          <ul>
            {verdict.reasons.filter(isForTheCart).map((reason) => (
              <li key={reason.message}>
                {reason.callsFor === "fit" ? "" : <strong>{VERDICT_WORDS[reason.callsFor]}: </strong>}
                {reason.message}
              </li>
            ))}
          </ul>
          {describeForOthers(verdict).map((sentence) => (
            <p key={sentence}>{sentence}</p>
          ))}
          {otherBottles.length > 0 && <p>Shown by other samples: {otherBottles.join("; ")}.</p>}
          {also && <p>The report of the sample also says: {also}.</p>}
        </div>
        <div class="what">
          <h3>What to do</h3>
          <ol>
            {stepsOf(judged).map((step) => (
              <li key={step}>{step}</li>
            ))}
          </ol>
        </div>
        <HowToDraw judged={judged} />
      </div>
      <Circulation judged={judged} />
      {!alone && (
        <p class="on-screen">
          <a href={`#history-${anchorOf(verdict)}`}>History of {nameOf(verdict)}</a>
        </p>
      )}
      <div class="on-paper">
        <ByHand judged={judged} />
        <ul class="caution small">
          {CART_CAUTIONS.map((caution) => (
            <li key={caution.topic}>{caution.message}</li>
          ))}
        </ul>
      </div>
    </section>
  );
}

/** The last day on which the circuit is fit by this verdict, to be read from afar. */
function ValidUntil({ judged }: { judged: JudgedCircuit }) {
  const until = validUntilOf(judged);
  return until === undefined ? null : <p class="valid-until">valid until {until.on}</p>;
}

/** How to draw the bottle, where one is to be drawn. */
function HowToDraw({ judged: { circuit, verdict } }: { judged: JudgedCircuit }) {
  const steps = samplingSteps(circuit).filter((step) => verdict.next.steps.includes(step));
  if (steps.length === 0) return null;
  return (
    <div>
      <h3>How to draw the bottle</h3>
      <ul class="how-to-draw">
        {steps.map(({ text }) => (
          <li key={text}>{text}</li>
        ))}
      </ul>
    </div>
  );
}

/** What is settled with the report or the files is no matter of the cart, unless the circuit must not be connected for it. */
function isForTheCart({ actor, callsFor }: Reason): boolean {
  return actor === undefined || actor === "crew" || callsFor === "do-not-connect";
}

/** How much others have to settle; the reasons themselves are listed with the history. */
function describeForOthers({ reasons }: Verdict): string[] {
  return (["laboratory", "engineer"] as const).flatMap((actor) => {
    const own = reasons.filter((reason) => reason.actor === actor && !isForTheCart(reason));
    if (own.length === 0) return [];
    const what = own.length === 1 ? "one reason is" : `${own.length} reasons are`;
    return [
      `${what.charAt(0).toUpperCase()}${what.slice(1)} for the ${actor} and not for the cart; see the history of the circuit.`,
    ];
  });
}

function Circulation({ judged: { verdict } }: { judged: JudgedCircuit }) {
  const { circulation, goBy } = verdict;
  if (circulation === undefined) return null;
  const left = goBy?.kind === "minutes" ? goBy : undefined;
  const minutes = left && minutesSinceStart(left);
  const names = [
    "channel",
    "larger than, µm(c)",
    left?.done === undefined ? "now" : "in the sample",
    "limit",
    "settles at",
    "inside after",
    ...(left === undefined ? [] : [`expected after ${formatMinutes(left.minutes)}`]),
  ];
  return (
    <>
      <h3 class={circulation.reachable ? "on-screen" : undefined}>
        {circulation.reachable ? "How the counts fall" : "Why circulating does not get there"}
      </h3>
      <div class="side-by-side">
        <Wide label={`Channels of ${nameOf(verdict)}`}>
          <table class={minutes === undefined ? undefined : "counts"}>
            <caption>
              Particles per mL while circulating, by the stated values alone; channel {circulation.governing}{" "}
              decides
            </caption>
            <thead>
              <tr>
                {names.map((name) => (
                  <th key={name} scope="col">
                    {name}
                  </th>
                ))}
                {minutes !== undefined && (
                  <th scope="col" class="on-paper">
                    counted
                  </th>
                )}
              </tr>
            </thead>
            <tbody>
              {circulation.channels.map((channel) => (
                <tr key={channel.channel}>
                  <th scope="row">{channel.channel}</th>
                  <td>{channel.sizeUmC}</td>
                  <td>{formatLevel(channel.start)}</td>
                  <td>{formatLevel(channel.limit)}</td>
                  <td>{channel.floor === undefined ? "rises without end" : formatLevel(channel.floor)}</td>
                  <td>
                    {channel.outcome.kind === "reached" ? formatMinutes(channel.outcome.minutes) : "never"}
                  </td>
                  {minutes !== undefined && <td>{formatLevel(levelAt(circulation, channel, minutes))}</td>}
                  {minutes !== undefined && <td class="on-paper to-write" />}
                </tr>
              ))}
            </tbody>
          </table>
        </Wide>
        <Picture
          draw={(shownOn) =>
            drawCleanUpCurve(circulation, nameOf(verdict), { shownOn, ...(goBy && { goBy }) })
          }
        />
      </div>
    </>
  );
}

function levelAt(
  plan: CirculationPlan,
  channel: CirculationPlan["channels"][number],
  minutes: number,
): number {
  return channelLevel(plan, channel, minutes / plan.minutesPerPass);
}

function formatLevel(perMl: number): string {
  return String(Number(perMl.toPrecision(3)));
}

function whileCirculating(shownIn: ShownIn | undefined): string[][] {
  return [
    ["started at", "stopped at", `flow, ${shownUnit("flow", shownIn)}`],
    [`fluid temperature, ${shownUnit("temperature", shownIn)}`, "clogging indicator", "minutes in all"],
  ];
}

/** What is filled in with a pen. */
function ByHand({ judged }: { judged: JudgedCircuit }) {
  const { shownIn } = judged.circuit;
  const rows = [
    ...(standsAs(judged) === "circulate" ? whileCirculating(shownIn) : []),
    ["number of the bottle", "drawn on, at", `temperature when drawn, ${shownUnit("temperature", shownIn)}`],
    ["name", "day", "signature"],
  ];
  return (
    <table class="by-hand">
      <caption>To be filled in at the cart</caption>
      <tbody>
        {rows.map((row) => (
          <tr key={row[0]}>
            {row.map((name) => (
              <td key={name}>{name}</td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}
