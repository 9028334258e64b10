import { useMemo, useState } from "preact/hooks";
import { formatIso4406 } from "../../cleanliness/index.js";
import { type CircuitCase, stepsOf, type VerdictOnCircuit } from "../../fitness/index.js";
import { CART_CAUTIONS, DEFERENCE } from "../../provenance/index.js";
import { formatQuantity } from "../../units/index.js";
import type { Freshness } from "../model/freshness.js";
import { doubtsOf, judgeOn, neverMeet, type PageData } from "../model/page-data.js";
import { shownOf, shownOfTyped } from "../model/shown.js";
import type { TypedSample } from "../model/typed-sample.js";
import { Sentences } from "./field.js";
import { InterimPart } from "./interim-part.js";
import { MinutesPart } from "./minutes-part.js";
import { SamplePart } from "./sample-part.js";
import { VerdictPanel } from "./verdict-panel.js";

const NOT_IN_DATA = "Typed here, not in the data";

/** One circuit: its verdict, what to do, and what a person at the cart can try with it. */
export function CircuitView({
  data,
  input,
  freshness,
  isTypedCart,
  onBack,
  onStart,
}: {
  data: PageData;
  input: CircuitCase;
  freshness: Freshness;
  isTypedCart: boolean;
  onBack: () => void;
  onStart: (minutes: number, name: string) => void;
}) {
  const [typed, setTyped] = useState<TypedSample>();
  const [changed, setChanged] = useState<CircuitCase>();
  const judged = useMemo(() => judgeOn(data, input), [data, input]);
  const shown = (isTypedCart ? shownOfTyped : shownOf)(judged, freshness, data.on);
  const { cart, circuit, on } = input;
  const name = `${cart}, circuit ${circuit.circuit}`;
  const isRefused = shown.sign === "too-old" || shown.sign === "clock-wrong";
  return (
    <>
      <div class="row on-screen">
        <button type="button" onClick={onBack}>
          All carts
        </button>
        <button type="button" onClick={() => print()}>
          Print
        </button>
      </div>
      <h1 tabIndex={-1}>{name}</h1>
      <VerdictPanel shown={shown} on={on} {...(isTypedCart && { typed: NOT_IN_DATA })} />
      {isTypedCart && (
        <p class="notice">Nothing is known of what was done to this cart. Ask who did the last work on it.</p>
      )}
      <Sentences lines={[...doubtsOf(data, judged), ...neverMeet(input)]} />
      <p>
        {circuit.fluid}, {formatQuantity("volume", circuit.volumeL, circuit.shownIn)}
        {circuit.flowLpm === undefined ? "" : `, ${formatQuantity("flow", circuit.flowLpm, circuit.shownIn)}`}
        , for {circuit.serves}. {describeSample(judged)}
      </p>
      {!isRefused && (
        <section class="part" aria-labelledby="steps-name">
          <h2 id="steps-name">What to do</h2>
          <ol>
            {stepsOf(judged).map((step) => (
              <li key={step}>{step}</li>
            ))}
          </ol>
        </section>
      )}
      <div class="on-screen">
        <SamplePart {...{ data, input, freshness }} onTyped={setTyped} />
        <MinutesPart
          {...{ input, typed }}
          onChanged={setChanged}
          onStart={(minutes) => onStart(minutes, `${cart} ${circuit.circuit}`)}
        />
        <InterimPart input={changed ?? input} start={typed} />
      </div>
      <ByHand />
      <section class="caution" aria-label="Cautions">
        <ul>
          {CART_CAUTIONS.filter((caution) => caution !== DEFERENCE).map((caution) => (
            <li key={caution.topic}>{caution.message}</li>
          ))}
        </ul>
      </section>
    </>
  );
}

function describeSample({ verdict: { sample, classification } }: VerdictOnCircuit): string {
  if (sample === undefined) return "There is no sample of this fluid in the data.";
  const code = classification?.iso4406 && formatIso4406(classification.iso4406);
  return `Last sample ${sample.sample} of ${sample.drawnOn}${code === undefined ? "" : `, ISO 4406 ${code}`}.`;
}

const BOXES = [
  ["started at", "stopped at", "flow"],
  ["fluid temperature", "clogging indicator", "number of the bottle, drawn at"],
  ["name", "day", "signature"],
];

/** What is filled in with a pen. */
function ByHand() {
  return (
    <table class="on-paper">
      <caption>To be filled in at the cart</caption>
      <tbody>
        {BOXES.map((row) => (
          <tr key={row[0]}>
            {row.map((box) => (
              <td key={box}>{box}</td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}
