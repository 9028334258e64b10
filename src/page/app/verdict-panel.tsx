import { type Shown, SIGN_WORDS } from "../model/shown.js";
import { Sentences, sentence } from "./field.js";
import { Mark } from "./mark.js";

/** A verdict: shape, word and day as the largest things, then the day of the next sample, what to do, and why. */
export function VerdictPanel({ shown, on, typed }: { shown: Shown; on: string; typed?: string }) {
  const { sign, action, why, nextSampleBy } = shown;
  return (
    <div class={typed === undefined ? "verdict" : "verdict typed"}>
      {typed !== undefined && <p class="tag">{typed}</p>}
      <div class="head">
        <Mark sign={sign} />
        <div>
          <p class="word">
            {typed !== undefined && sign === "fit" ? "Fit by what was typed" : SIGN_WORDS[sign]}
          </p>
          <p class="day">on {on}</p>
          {/* The other signs say it in their word or in what to do. */}
          {(sign === "circulate" || sign === "exchange-fluid") && <p class="yet">Do not connect yet</p>}
        </div>
      </div>
      {nextSampleBy !== undefined && (
        <p class="next">
          Next sample by <span class="whole">{nextSampleBy}</span>
        </p>
      )}
      <p class="action">{sentence(action)}</p>
      <Sentences lines={why} />
    </div>
  );
}
