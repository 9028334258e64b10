import type { BetaFields } from "../model/typed-cart.js";
import { Field } from "./field.js";

/** The filtration ratios of an element. */
export function BetaInputs({ betas, onInput }: { betas: BetaFields; onInput: (betas: BetaFields) => void }) {
  return (
    <fieldset>
      <legend>Filtration ratio β of the element, by ISO 16889</legend>
      <div class="fields">
        {Object.entries(betas).map(([size, text]) => (
          <Field
            key={size}
            name={`β at ${size} µm(c)`}
            numeric
            value={text}
            onInput={(beta) => onInput({ ...betas, [size]: beta })}
          />
        ))}
      </div>
    </fieldset>
  );
}
