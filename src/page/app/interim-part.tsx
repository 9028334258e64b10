import { useMemo, useState } from "preact/hooks";
import { type CirculationAnswer, describeNext } from "../../circulation/index.js";
import type { CircuitCase } from "../../fitness/index.js";
import { type InterimFields, interimSizes, isTypedInterim, readInterim } from "../model/interim.js";
import type { TypedSample } from "../model/typed-sample.js";
import { Field, Problems, Sentences } from "./field.js";
import { useRested } from "./hooks.js";

const EMPTY: InterimFields = { minutes: "", counts: {}, class: "" };

/** Samples drawn while circulating: whether it works. */
export function InterimPart({ input, start }: { input: CircuitCase; start: TypedSample | undefined }) {
  const [samples, setSamples] = useState<readonly InterimFields[]>([EMPTY]);
  const sizes = useMemo(() => interimSizes(input), [input]);
  const rested = useRested(samples);
  const typed = rested.filter(isTypedInterim);
  const reading = useMemo(
    () => (typed.length === 0 ? undefined : readInterim(typed, input, start)),
    [rested, input, start],
  );
  const set = (at: number, sample: InterimFields) =>
    setSamples(samples.map((other, index) => (index === at ? sample : other)));
  return (
    <details class="part">
      <summary>Is circulating working?</summary>
      {sizes.length === 0 ? (
        <p>There are no counts of the start. Type those of the first sample above.</p>
      ) : (
        <>
          <p>
            Particles per mL of a sample drawn on the way, or its class, with the flow, element and target set
            above.
          </p>
          {samples.map((sample, at) => (
            <fieldset key={at}>
              <legend>Sample {at + 1}</legend>
              <div class="fields">
                <Field
                  name="Minutes since the start"
                  numeric
                  value={sample.minutes}
                  onInput={(minutes) => set(at, { ...sample, minutes })}
                />
                {sizes.map((size) => (
                  <Field
                    key={size}
                    name={`Above ${size} µm(c)`}
                    numeric
                    value={sample.counts[size] ?? ""}
                    onInput={(text) => set(at, { ...sample, counts: { ...sample.counts, [size]: text } })}
                  />
                ))}
                <Field
                  name="Or its class"
                  hint="such as 19/16/13 or NAS 8"
                  value={sample.class}
                  onInput={(text) => set(at, { ...sample, class: text })}
                />
              </div>
            </fieldset>
          ))}
          <button type="button" onClick={() => setSamples([...samples, EMPTY])}>
            Another sample
          </button>
          <div aria-live="polite">
            {reading?.kind === "refused" && <Problems problems={reading.problems} />}
            {reading?.kind === "read" && (
              <>
                <Found answer={reading.value} />
                <Sentences lines={reading.assumptions.map(({ message }) => message)} />
              </>
            )}
          </div>
        </>
      )}
    </details>
  );
}

function Found({ answer }: { answer: CirculationAnswer }) {
  const [first, ...others] = describeNext(answer);
  return (
    <>
      <p class="action notice">{first}.</p>
      {others.map((sentence) => (
        <p key={sentence}>{sentence}.</p>
      ))}
    </>
  );
}
