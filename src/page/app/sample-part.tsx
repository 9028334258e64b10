import { useEffect, useMemo, useState } from "preact/hooks";
import { type CircuitCase, type VerdictOnCircuit, verdictColumns } from "../../fitness/index.js";
import type { Freshness } from "../model/freshness.js";
import { judgeOn, type PageData } from "../model/page-data.js";
import { shownOfTyped } from "../model/shown.js";
import {
  isTyped,
  readTypedSample,
  type SampleFields,
  sizesToCount,
  type TypedSample,
  withSample,
} from "../model/typed-sample.js";
import { Choice, Field, Problems } from "./field.js";
import { useRested } from "./hooks.js";
import { VerdictPanel } from "./verdict-panel.js";

const APPEARANCES = [
  ["", "not looked at"],
  ["clear", "clear"],
  ["cloudy", "cloudy"],
  ["free-water", "free water"],
  ["two-layers", "two layers"],
  ["particles-seen", "particles seen"],
] as const;

const SAMPLE_POINTS = [
  ["", "not stated"],
  ["main-flow-line", "main flow line"],
  ["reservoir", "reservoir"],
  ["drain", "drain"],
  ["filter-bowl", "filter bowl"],
  ["dead-end", "dead end"],
  ["supply-container", "drum or can"],
] as const;

const FLOWING = [
  ["", "not stated"],
  ["yes", "yes"],
  ["no", "no"],
] as const;

/** A bottle that a person types: its class at once, and what the verdict would be with it. */
export function SamplePart({
  data,
  input,
  freshness,
  onTyped,
}: {
  data: PageData;
  input: CircuitCase;
  freshness: Freshness;
  onTyped: (typed: TypedSample | undefined) => void;
}) {
  const sizes = sizesToCount(input.requirement);
  const [fields, setFields] = useState<SampleFields>(() => ({
    counts: Object.fromEntries(sizes.map((size) => [size, ""])),
    ...{ code: "", countedMl: "", waterPpm: "", acidMgKohPerG: "", label: "", appearance: "" as const },
    ...{ samplePoint: "" as const, flowing: "" as const, drawnOn: input.on, drawnTime: "" },
  }));
  const set = (name: keyof SampleFields) => (text: string) => setFields({ ...fields, [name]: text });
  const rested = useRested(fields);
  const reading = useMemo(
    () => (isTyped(rested) ? readTypedSample(rested, input) : undefined),
    [rested, input],
  );
  const typed = reading?.kind === "read" ? reading.value : undefined;
  useEffect(() => onTyped(typed), [typed]);
  const judged = useMemo(() => typed && judgeOn(data, withSample(input, typed.sample)), [data, input, typed]);
  return (
    <details class="part">
      <summary>Type a sample</summary>
      <p>Particles per mL larger than each size, or an ISO 4406 code. Leave open what was not measured.</p>
      <div class="fields">
        {sizes.map((size) => (
          <Field
            key={size}
            name={`Above ${size} µm(c)`}
            numeric
            value={fields.counts[size] ?? ""}
            onInput={(text) => setFields({ ...fields, counts: { ...fields.counts, [size]: text } })}
          />
        ))}
        <Field name="ISO 4406 code" value={fields.code} onInput={set("code")} />
        <Field name="Volume counted, mL" numeric value={fields.countedMl} onInput={set("countedMl")} />
        <Field name="Water, ppm by mass" numeric value={fields.waterPpm} onInput={set("waterPpm")} />
        <Field name="Acid, mg KOH/g" numeric value={fields.acidMgKohPerG} onInput={set("acidMgKohPerG")} />
        <Field name="Fluid on the label" value={fields.label} onInput={set("label")} />
        <Choice
          name="Seen in the bottle"
          value={fields.appearance}
          options={APPEARANCES}
          onInput={set("appearance")}
        />
        <Choice
          name="Filled from"
          value={fields.samplePoint}
          options={SAMPLE_POINTS}
          onInput={set("samplePoint")}
        />
        <Choice name="While flowing" value={fields.flowing} options={FLOWING} onInput={set("flowing")} />
        <Field name="Drawn on" type="date" value={fields.drawnOn} onInput={set("drawnOn")} />
        <Field name="Drawn at" type="time" value={fields.drawnTime} onInput={set("drawnTime")} />
      </div>
      <div aria-live="polite">
        {reading?.kind === "refused" && <Problems problems={reading.problems} />}
        {judged && typed?.classification && <Classes {...{ judged, typed }} />}
        {judged && (
          <VerdictPanel
            shown={shownOfTyped(judged, freshness, data.on)}
            on={input.on}
            typed="Sample typed here, not in the book"
          />
        )}
      </div>
    </details>
  );
}

const CLASSES = verdictColumns(["iso4406", "as4059", "nas1638"]);

/** The classes of the typed counts, whatever bottle decides. */
function Classes({ judged, typed }: { judged: VerdictOnCircuit; typed: TypedSample }) {
  const verdict = { ...judged.verdict, classification: typed.classification };
  const classes = CLASSES.flatMap(({ title, of }) => {
    const found = of({ ...judged, verdict } as VerdictOnCircuit);
    return found === undefined ? [] : [`${title} ${found}`];
  });
  return <p class="classes">{classes.join(", ")}</p>;
}
