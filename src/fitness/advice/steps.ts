import { describeGoBy } from "../../circulation/index.js";
import { formatQuantity } from "../../units/index.js";
import { validUntil } from "../checks/able-to-speak.js";
import { isHeld } from "../decisions/standing.js";
import type { VerdictOnCircuit } from "../fleet/fleet.js";
import type { Reason, ReasonCode } from "../reasons.js";
import { circulationLines } from "./circulate-lines.js";
import { actorsOf, exchangeLines, isFormAlone, onlyTimeFails, waitsForARow } from "./next-step.js";
import { describeStillDue } from "./still-due.js";

/**
 * What a technician does next with a circuit, one step a sentence.
 *
 * @param judged - a judged circuit
 * @returns steps in order; the cautions are next to them and are not repeated
 */
export function stepsOf(judged: VerdictOnCircuit): string[] {
  if (!isHeld(judged)) return stepsOfVerdict(judged);
  return [
    "Stop. Do not connect this circuit; mark it as held, as local rules say.",
    "Settle the cause with the person who holds it before anything else. The decision ends only when a person lifts it, with name and reason.",
    ...(judged.verdict.verdict === "fit" ? [] : stepsOfVerdict(judged)),
  ];
}

function stepsOfVerdict(judged: VerdictOnCircuit): string[] {
  const { circuit, verdict } = judged;
  const placard = `Read the placard: this circuit is declared to hold ${circuit.fluid}. If it says anything else, stop.`;
  switch (verdict.verdict) {
    case "fit":
      return [
        placard,
        describeHowLongItHolds(judged),
        "Connect only if the manual and the people in charge say so.",
      ];
    case "circulate":
      return [placard, ...describeCirculation(judged), DRAW, ...describeWhatToCount(judged), WAIT];
    case "exchange-fluid":
      return [
        placard,
        ...exchangeLines(verdict.next).map(asSentence),
        `Exchange the fluid for new ${circuit.fluid}, as the cart's own instructions say. Filters do not take out what is outside here.`,
        "Write the exchange with its day into the carts file.",
        ...(describeDue(judged) ?? []),
        DRAW,
        ...describeWhatToCount(judged),
        WAIT,
      ];
    case "resample":
      return [placard, ...(describeDue(judged) ?? []), describeWhatIsMissing(judged), WAIT];
    case "do-not-connect":
      if (isFormAlone(callingFor(judged))) return [LOOK_AND_ENTER];
      if (onlyTimeFails(verdict))
        // That no time is long enough is the reason, which stands above.
        return [
          placard,
          ...describeCirculation(judged).slice(1),
          SETTLE_FIRST,
          ...describeWhatToCount(judged),
          WAIT,
        ];
      return [
        "Stop. Mark the circuit as not to be connected, as local rules say.",
        "Find and mend the cause that is named above as the reason.",
        DRAW,
        WAIT,
      ];
  }
}

const DRAW =
  "Flush the sampling port and draw a verifying sample while the fluid is flowing. Write cart, circuit, day and time on the bottle. Let air settle out of it before it is counted.";

const SETTLE_FIRST =
  "Order no minutes until that is settled. Then draw a new sample while the fluid is flowing.";

const WAIT = "Do not connect before the new result has been judged fit.";

function describeHowLongItHolds({
  circuit,
  verdict: { sample, otherSamples = [], outlook },
  requirement,
}: VerdictOnCircuit): string {
  if (sample === undefined || requirement === undefined) return "Draw a sample.";
  return (
    `This verdict rests on ${describeBottles([sample, ...otherSamples])}. It is valid until ` +
    `${validUntil(circuit, requirement, [sample, ...otherSamples], outlook).on}, and no longer once the fluid or the element is changed.`
  );
}

function describeBottles(samples: readonly { sample: string; drawnOn: string }[]): string {
  const each = samples.map(({ sample, drawnOn }) => `${sample} of ${drawnOn}`).join(" and ");
  return samples.length === 1 ? `sample ${each}` : `samples ${each}`;
}

function describeCirculation(judged: VerdictOnCircuit): string[] {
  const { circuit, verdict } = judged;
  const { goBy } = verdict;
  if (goBy === undefined) return describeDue(judged) ?? ["Circulate."];
  const [, ...others] = circulationLines(verdict, circuit);
  const first =
    goBy.kind === "minutes"
      ? `self-${describeGoBy(goBy)} at ${formatQuantity("flow", circuit.flowLpm ?? 0, circuit.shownIn)}, ${formatQuantity("volume", circuit.volumeL, circuit.shownIn)} a pass, through the ${circuit.element.position} element. ` +
        "Begin to count once the flow is steady"
      : describeGoBy(goBy);
  const isEntered = goBy.kind === "minutes" && describeStillDue(judged) !== undefined;
  return [...[first, ...others].map(asSentence), ...(isEntered ? [ENTER_MINUTES] : [])];
}

/** Minutes that nobody enters are due again for the next sample. */
const ENTER_MINUTES = "Write the minutes with their day into the carts file.";

function describeDue(judged: VerdictOnCircuit): string[] | undefined {
  const due = describeStillDue(judged);
  return due === undefined ? undefined : [`${asSentence(due)} ${ENTER_MINUTES}`];
}

function asSentence(line: string): string {
  return `${line.charAt(0).toUpperCase()}${line.slice(1)}.`;
}

/** The sizes that the verifying sample has to be counted at, where the last one was not. */
function describeWhatToCount({ verdict: { reasons } }: VerdictOnCircuit): string[] {
  return reasons
    .filter(({ code }) => code === "sizes-not-counted")
    .map(({ message }) => `Ask the laboratory for all sizes: ${message}.`);
}
/** What a person can settle by reading, without a new sample. */
const TO_BE_READ: readonly ReasonCode[] = [
  "words-not-understood",
  "laboratory-doubts",
  "stated-class-outside",
  "stated-class-unexplained",
];

const LOOK_AND_ENTER =
  "Do not connect yet. Look at indicator, level, temperature and seals, and have what you found entered with the day.";

/** The reasons that the verdict follows from. */
function callingFor({ verdict: { verdict, reasons } }: VerdictOnCircuit): Reason[] {
  return reasons.filter(({ callsFor }) => callsFor === verdict);
}

function describeWhatIsMissing(judged: VerdictOnCircuit): string {
  const missing = callingFor(judged);
  if (missing.every(({ code }) => TO_BE_READ.includes(code)))
    return `Have a person read what the history of the circuit quotes, and settle it with the laboratory. If it cannot be settled: ${DRAW}`;
  if (waitsForARow(missing))
    return "Have the row in quarantine that the history of the circuit names corrected, and judge again. If it cannot be corrected, draw a new sample while the fluid is flowing.";
  const actors = actorsOf(missing);
  if (actors.includes("crew")) return DRAW;
  const who = actors.map((actor) => `the ${actor}`).join(" and ");
  return `Nothing is to be done at the cart: what the history of the circuit lists is for ${who}, with the bottle and the report at hand. Only if it cannot be settled: ${DRAW}`;
}
