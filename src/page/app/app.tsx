import { useEffect, useMemo, useRef, useState } from "preact/hooks";
import { DEFERENCE } from "../../provenance/index.js";
import type { Cart } from "../../samples/index.js";
import { describeFreshness, freshnessOf } from "../model/freshness.js";
import { casesOn, type PageData } from "../model/page-data.js";
import { caseOfTypedCart } from "../model/typed-cart.js";
import { CartForm } from "./cart-form.js";
import { CircuitView } from "./circuit-view.js";
import { Home } from "./home.js";
import { useDeviceDay, useHash } from "./hooks.js";
import { type Running, startTimer, TimerBar } from "./timer.js";

const HOME = "#";
const NEW_CART = "#new";
const TYPED_CART = "#typed";

/** The address of a circuit in the page. */
function addressOf({ cart, circuit }: { cart: string; circuit: string }): string {
  return `#/${encodeURIComponent(cart)}/${encodeURIComponent(circuit)}`;
}

/** The whole page. What a person types is kept in the memory of the page alone, and is gone when it is closed. */
export function App({ data }: { data: PageData }) {
  const on = useDeviceDay();
  const hash = useHash();
  const [typedCart, setTypedCart] = useState<Cart>();
  const [timer, setTimer] = useState<Running>();
  const cases = useMemo(() => casesOn(data, on), [data, on]);
  const typedCase = useMemo(() => typedCart && caseOfTypedCart(typedCart, data, on), [typedCart, data, on]);
  const freshness = freshnessOf(data.on, on);
  const picked = cases.find(
    (input) => addressOf({ cart: input.cart, circuit: input.circuit.circuit }) === hash,
  );
  const shown = hash === TYPED_CART ? typedCase : picked;
  const top = useFocusOnChange(hash);
  return (
    <>
      <header>
        <p
          class={freshness.kind === "current" ? "data-day" : "notice"}
          role={freshness.kind === "current" ? undefined : "alert"}
        >
          {describeFreshness(freshness, data.on, on)} By “{data.document.document}”, revision{" "}
          {data.document.revision}.
        </p>
        {data.document.note !== undefined && <p class="quiet">{data.document.note}</p>}
        {timer && <TimerBar timer={timer} onChange={setTimer} />}
      </header>
      <main ref={top} key={hash}>
        {shown !== undefined ? (
          <CircuitView
            {...{ data, freshness }}
            input={shown}
            isTypedCart={shown === typedCase}
            onBack={() => go(HOME)}
            onStart={(minutes, name) => setTimer(startTimer(minutes, name))}
          />
        ) : hash === NEW_CART || hash === TYPED_CART ? (
          <CartForm
            data={data}
            onBack={() => go(HOME)}
            onRead={(cart) => {
              setTypedCart(cart);
              go(TYPED_CART);
            }}
          />
        ) : (
          <Home
            {...{ data, cases, freshness }}
            onPick={(cart, circuit) => go(addressOf({ cart, circuit }))}
            onNew={() => go(NEW_CART)}
          />
        )}
      </main>
      <footer>
        <p class="caution">{DEFERENCE.message}</p>
      </footer>
    </>
  );
}

function go(hash: string): void {
  location.hash = hash;
}

/** Brings the heading of a new view to the eye, and to a screen reader. */
function useFocusOnChange(hash: string) {
  const top = useRef<HTMLElement>(null);
  const before = useRef(hash);
  useEffect(() => {
    if (before.current === hash) return;
    before.current = hash;
    scrollTo(0, 0);
    top.current?.querySelector("h1")?.focus();
  }, [hash]);
  return top;
}
