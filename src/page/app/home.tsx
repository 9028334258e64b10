import { useState } from "preact/hooks";
import type { CircuitCase, VerdictOnCircuit } from "../../fitness/index.js";
import type { Freshness } from "../model/freshness.js";
import { holdsOn, type PageData } from "../model/page-data.js";
import { SIGN_WORDS, shownOf } from "../model/shown.js";
import { Field } from "./field.js";
import { useVerdicts } from "./hooks.js";
import { Mark } from "./mark.js";

/** More carts than fit on a screen are looked for by name. */
const MAX_WITHOUT_SEARCH = 6;

/** All carts, each circuit as a large button with its verdict. */
export function Home({
  data,
  cases,
  freshness,
  onPick,
  onNew,
}: {
  data: PageData;
  cases: readonly CircuitCase[];
  freshness: Freshness;
  onPick: (cart: string, circuit: string) => void;
  onNew: () => void;
}) {
  const [wanted, setWanted] = useState("");
  const verdicts = useVerdicts(data, cases);
  const carts = [...new Set(cases.map(({ cart }) => cart))];
  const found = carts.filter((cart) => cart.toLowerCase().includes(wanted.trim().toLowerCase()));
  const holds = verdicts.length === cases.length ? holdsOn(data, verdicts) : [];
  return (
    <>
      <h1 tabIndex={-1}>Which circuit do you want to connect?</h1>
      {holds.length > 0 && (
        <ul class="notice">
          {holds.map((hold) => (
            <li key={hold}>{hold}</li>
          ))}
        </ul>
      )}
      {carts.length > MAX_WITHOUT_SEARCH && <Field name="Find a cart" value={wanted} onInput={setWanted} />}
      {found.map((cart) => (
        <section key={cart} class="cart" aria-label={`Cart ${cart}`}>
          <h2>{cart}</h2>
          <ul class="circuits">
            {cases.flatMap((input, index) =>
              input.cart === cart
                ? [
                    <li key={input.circuit.circuit}>
                      <Pick
                        {...{ input, freshness, data }}
                        judged={verdicts[index]}
                        onPick={() => onPick(cart, input.circuit.circuit)}
                      />
                    </li>,
                  ]
                : [],
            )}
          </ul>
        </section>
      ))}
      {found.length === 0 && <p>No cart of this name is in the data.</p>}
      <section class="cart" aria-label="Another cart">
        <button type="button" onClick={onNew}>
          Another cart: type it in
        </button>
      </section>
    </>
  );
}

function Pick({
  data,
  input: { circuit },
  judged,
  freshness,
  onPick,
}: {
  data: PageData;
  input: CircuitCase;
  judged: VerdictOnCircuit | undefined;
  freshness: Freshness;
  onPick: () => void;
}) {
  const shown = judged && shownOf(judged, freshness, data.on);
  return (
    <button type="button" class="pick" onClick={onPick}>
      {shown && <Mark sign={shown.sign} />}
      <span>
        <strong>{shown ? SIGN_WORDS[shown.sign] : "judging…"}</strong> {circuit.circuit}, {circuit.fluid}
      </span>
    </button>
  );
}
