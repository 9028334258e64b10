import { formatMinutes } from "../circulation/index.js";
import { drawCleanUpCurve } from "../figures/index.js";
import {
  describeBesideFit,
  describeHolds,
  describeOtherBottles,
  describeOtherDecisions,
  describeOtherTexts,
  describeTargets,
  type JudgedCircuit,
  type Reason,
  stepsOf,
  type UnreadResult,
  type Verdict,
} from "../fitness/index.js";
import { CART_CAUTIONS } from "../provenance/index.js";
import { formatQuantity, type ShownIn, shownUnit } from "../units/index.js";
import { anchorOf, nameOf } from "./names.js";
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
  return (
    <section class="sheet" id={anchorOf(verdict)} aria-labelledby={`${anchorOf(verdict)}-name`}>
      <h2 id={`${anchorOf(verdict)}-name`}>
        {nameOf(verdict)}: <VerdictMark judged={judged} />
      </h2>
      {describeHolds(standing).map((hold) => (
        <p key={hold} class="held-by">
          {hold}
        </p>
      ))}
      {standing?.held && <p>The verdict stays as computed: {verdict.verdict}.</p>}
      <p>
        {circuit.fluid}, {formatQuantity("volume", circuit.volumeL, circuit.shownIn)}
        {circuit.flowLpm === undefined ? "" : `, ${formatQuantity("flow", circuit.flowLpm, circuit.shownIn)}`}
        , for {circuit.serves}. {requirement && <>Target {describeTargets(requirement).join(" and ")}.</>}{" "}
        <span class="on-paper">Judged on {on}.</span>
      </p>
      {record && <p class="small">{record}</p>}
      {besideFit.map((sentence) => (
        <p key={sentence}>
          <strong>Not settled:</strong> {sentence}.
        </p>
      ))}
      <h3>Why</h3>
      <ul>
        {describeOtherDecisions(standing).map((decision) => (
          <li key={decision}>
            <strong>{decision}</strong>
          </li>
        ))}
        {verdict.reasons.filter(isForTheCart).map((reason) => (
          <li key={reason.message}>
            {reason.callsFor === "fit" ? "" : <strong>{reason.callsFor}: </strong>}
            {reason.message}
          </li>
        ))}
      </ul>
      {describeForOthers(verdict).map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
      {otherBottles.length > 0 && <p>Shown by other samples: {otherBottles.join("; ")}.</p>}
      {also && <p>The report of the sample also says: {also}.</p>}
      <h3>What to do</h3>
      <ol>
        {stepsOf(judged).map((step) => (
          <li key={step}>{step}</li>
        ))}
      </ol>
      <Circulation judged={judged} />
      {!alone && (
        <p class="on-screen">
          <a href={`#history-${anchorOf(verdict)}`}>History of {nameOf(verdict)}</a>
        </p>
      )}
      <div class="on-paper">
        <ByHand verdict={verdict} circuit={circuit} />
        <ul class="caution small">
          {CART_CAUTIONS.map((caution) => (
            <li key={caution.topic}>{caution.message}</li>
          ))}
        </ul>
      </div>
    </section>
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
  return (
    <>
      <h3>{circulation.reachable ? "How the counts fall" : "Why circulating does not get there"}</h3>
      <Wide label={`Channels of ${nameOf(verdict)}`}>
        <table>
          <caption>
            Particles per mL while circulating, by the stated values alone; channel {circulation.governing}{" "}
            decides
          </caption>
          <thead>
            <tr>
              {["channel", "larger than, µm(c)", "now", "limit", "settles at", "inside after"].map((name) => (
                <th key={name} scope="col">
                  {name}
                </th>
              ))}
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
              </tr>
            ))}
          </tbody>
        </table>
      </Wide>
      <Picture svg={drawCleanUpCurve(circulation, nameOf(verdict), { ...(goBy && { goBy }) })} />
    </>
  );
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
function ByHand({ verdict, circuit: { shownIn } }: Pick<JudgedCircuit, "verdict" | "circuit">) {
  const rows = [
    ...(verdict.verdict === "circulate" ? whileCirculating(shownIn) : []),
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
