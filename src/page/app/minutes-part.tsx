import { useEffect, useMemo, useState } from "preact/hooks";
import {
  describeMinutesDone,
  describeWhyThatTime,
  formatMinutes,
  formatPasses,
  minutesUp,
} from "../../circulation/index.js";
import { formatTarget } from "../../cleanliness/index.js";
import type { CircuitCase } from "../../fitness/index.js";
import {
  type CirculationFields,
  circulationFieldsOf,
  type MinutesToGoBy,
  minutesToGoBy,
  readChanges,
  withStart,
} from "../model/minutes.js";
import type { TypedSample } from "../model/typed-sample.js";
import { BetaInputs } from "./beta-inputs.js";
import { Field, Problems, sentence } from "./field.js";
import { useRested } from "./hooks.js";

/** How long to circulate, with the flow, element and target that a person sets. */
export function MinutesPart({
  input,
  typed,
  onChanged,
  onStart,
}: {
  input: CircuitCase;
  typed: TypedSample | undefined;
  onChanged: (changed: CircuitCase | undefined) => void;
  onStart: (minutes: number) => void;
}) {
  const [fields, setFields] = useState(() => circulationFieldsOf(input.circuit));
  const set = (name: keyof CirculationFields) => (text: string) => setFields({ ...fields, [name]: text });
  const rested = useRested(fields);
  const changed = useMemo(() => readChanges(rested, withStart(input, typed)), [rested, input, typed]);
  const minutes = useMemo(
    () => (changed.kind === "read" ? minutesToGoBy(changed.value) : undefined),
    [changed],
  );
  useEffect(() => onChanged(changed.kind === "read" ? changed.value : undefined), [changed]);
  const [opensItself] = useState(minutes?.kind === "minutes");
  const isCode = typed?.start !== undefined && typed.sample.counts === undefined;
  const target = (input.requirement?.cleanliness ?? []).map(formatTarget).join(" and ");
  return (
    <details class="part" open={opensItself}>
      <summary>Minutes to circulate</summary>
      <p>
        From {typed?.start === undefined ? "the last counts in the data" : "the sample typed above"}
        {isCode && ", whose code counts at its upper end"}.
      </p>
      <div aria-live="polite">
        {changed.kind === "refused" && <Problems problems={changed.problems} />}
        {minutes && <Minutes minutes={minutes} onStart={onStart} />}
        {changed.kind === "read" &&
          changed.assumptions.map(({ code, message }) => <p key={code}>{sentence(message)}</p>)}
      </div>
      <div class="fields">
        <Field name="Flow" hint="such as 45 L/min or 12 US gpm" value={fields.flow} onInput={set("flow")} />
        <Field name="Volume" hint="such as 60 L or 16 US gal" value={fields.volume} onInput={set("volume")} />
        <Field
          name="Target"
          hint={target === "" ? "such as 18/16/13" : `${target}, when left open`}
          value={fields.target}
          onInput={set("target")}
        />
      </div>
      <BetaInputs betas={fields.betas} onInput={(betas) => setFields({ ...fields, betas })} />
    </details>
  );
}

function Minutes({ minutes, onStart }: { minutes: MinutesToGoBy; onStart: (minutes: number) => void }) {
  if (minutes.kind === "none") return <p class="action">{sentence(`no minutes: ${minutes.why}`)}</p>;
  const { goBy, besides } = minutes;
  return (
    <>
      <p class="minutes">{formatMinutes(goBy.minutes)}</p>
      <p>
        {formatPasses(goBy.passes)}. {sentence(describeWhyThatTime(goBy))}
      </p>
      {describeMinutesDone(goBy.assumptions).map((said) => (
        <p key={said}>{sentence(said)}</p>
      ))}
      {besides.length > 0 && (
        <div class="notice">
          <p>Circulating alone does not make this circuit fit:</p>
          <ul>
            {besides.map((reason) => (
              <li key={reason}>{reason}</li>
            ))}
          </ul>
        </div>
      )}
      <p>
        <button type="button" class="main" onClick={() => onStart(goBy.minutes)}>
          Start a timer of {minutesUp(goBy.minutes)} min
        </button>
      </p>
    </>
  );
}
