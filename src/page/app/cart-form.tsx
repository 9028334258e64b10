import { useState } from "preact/hooks";
import type { Cart } from "../../samples/index.js";
import type { PageData } from "../model/page-data.js";
import { type CartFields, readTypedCart } from "../model/typed-cart.js";
import { BetaInputs } from "./beta-inputs.js";
import { Choice, Field, Problems } from "./field.js";

/** A cart that is not in the data. */
export function CartForm({
  data,
  onBack,
  onRead,
}: {
  data: PageData;
  onBack: () => void;
  onRead: (cart: Cart) => void;
}) {
  const [fields, setFields] = useState<CartFields>({
    cart: "",
    circuit: "main",
    serves: "",
    fluid: "",
    volume: "",
    flow: "",
    betas: { 4: "", 6: "", 14: "" },
  });
  const [problems, setProblems] = useState<readonly string[]>([]);
  const set = (name: keyof CartFields) => (text: string) => setFields({ ...fields, [name]: text });
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        const cart = readTypedCart(fields, data);
        if (cart.kind === "read") onRead(cart.value);
        else setProblems(cart.problems);
      }}
    >
      <div class="row">
        <button type="button" onClick={onBack}>
          All carts
        </button>
      </div>
      <h1 tabIndex={-1}>A cart that is not in the data</h1>
      <p>Nothing is known of what was done to it. Read its placard.</p>
      <div class="fields">
        <Field name="Cart" value={fields.cart} onInput={set("cart")} />
        <Field name="Circuit" value={fields.circuit} onInput={set("circuit")} />
        <Choice
          name="Serves"
          value={fields.serves}
          options={[
            ["", "choose a system"],
            ...data.requirements.map(({ system }) => [system, system] as const),
          ]}
          onInput={set("serves")}
        />
        <Field name="Fluid on the placard" value={fields.fluid} onInput={set("fluid")} />
        <Field name="Volume" hint="such as 60 L or 16 US gal" value={fields.volume} onInput={set("volume")} />
        <Field name="Flow" hint="such as 45 L/min or 12 US gpm" value={fields.flow} onInput={set("flow")} />
      </div>
      <BetaInputs betas={fields.betas} onInput={(betas) => setFields({ ...fields, betas })} />
      {problems.length > 0 && (
        <div role="alert">
          <Problems problems={problems} />
        </div>
      )}
      <button type="submit" class="main">
        Look at this cart
      </button>
    </form>
  );
}
