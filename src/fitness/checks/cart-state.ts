import type { CartState, Circuit, Requirement } from "../../samples/index.js";
import { inFourDigits } from "../../units/index.js";
import type { Finding } from "../assessed.js";
import { dayAfter } from "../days.js";
import { JudgingDay } from "../judging-day.js";
import { type Reason, type ReasonCode, reason } from "../reasons.js";

/** What a technician can find, what is sound, and what stops a hookup. */
const FINDINGS = [
  {
    field: "indicator",
    sound: "clear",
    code: "indicator-persistent",
    says: "the clogging indicator stays out with warm fluid: the element is loaded, and fluid may pass it unfiltered",
  },
  {
    field: "level",
    sound: "normal",
    code: "level-alarm",
    says: "the reservoir level is in alarm: fluid is lost or air is drawn in",
  },
  {
    field: "temperature",
    sound: "normal",
    code: "temperature-tripped",
    says: "the temperature switch tripped: find the cause, hot fluid ages and thins",
  },
  {
    field: "seals",
    sound: "sound",
    code: "seals-damaged",
    says: "seals are damaged: fluid, air and dirt pass, and the wrong fluid may have attacked them",
  },
] as const satisfies readonly {
  field: keyof CartState;
  sound: string;
  code: ReasonCode;
  says: string;
}[];

/**
 * Is the cart itself sound, by what a technician entered?
 *
 * A finding that stops a hookup counts however old it is, until a newer one says otherwise or its element was changed. Where the requirement asks for
 * the state, what was not looked at stops it as well: what is missing could be any of these findings.
 */
export function checkCartState(
  circuit: Circuit,
  { cartState: required }: Requirement,
  day: JudgingDay,
): Finding {
  const state = stateNow(circuit, day);
  if (state === undefined) {
    if (required === undefined) return { reasons: [] };
    const message = "the state of the cart was not entered: indicator, level, temperature and seals";
    return { reasons: [reason("cart-state-not-entered", message)] };
  }
  const stopping: Reason[] = [
    ...FINDINGS.filter(({ field, sound }) => state[field] !== undefined && state[field] !== sound).map(
      ({ code, says }) => reason(code, `${says} (entered on ${state.on})`),
    ),
    ...checkElement(state.elementUsed, state.on),
  ];
  return {
    reasons: [
      ...stopping,
      ...(required === undefined ? [] : checkEntry(state, required.ageDaysMax, day, stopping)),
    ],
  };
}

/** Share of the permissible pressure drop that the element now fitted uses; undefined when nothing was entered of it. */
export function elementUsedNow(circuit: Circuit, on: string): number | undefined {
  return stateNow(circuit, new JudgingDay(on))?.elementUsed;
}

/**
 * What was entered, as far as it is of the element now fitted.
 *
 * Indicator and pressure drop that were entered before a change of the element are those of the one that was taken out; on
 * the day of the change the order is not known.
 */
function stateNow({ state, events }: Circuit, day: JudgingDay): CartState | undefined {
  if (state === undefined) return undefined;
  const changed = events.some(
    (event) => event.kind === "element-change" && event.on > state.on && day.hasCome(event.on),
  );
  if (!changed) return state;
  const { indicator: _indicator, elementUsed: _elementUsed, ...rest } = state;
  return rest;
}

function checkElement(used: number | undefined, enteredOn: string): Reason[] {
  if (used === undefined || used < 1) return [];
  const message =
    `the element uses ${inFourDigits(100 * used)} % of its permissible pressure drop (entered on ${enteredOn}): fluid may pass it ` +
    "unfiltered; change the element before circulating or connecting";
  return [reason("element-loaded", message)];
}

function checkEntry(
  state: CartState,
  ageDaysMax: number,
  day: JudgingDay,
  stopping: readonly Reason[],
): Reason[] {
  const missing = FINDINGS.filter(({ field }) => state[field] === undefined).map(({ field }) => field);
  if (missing.length > 0) {
    return [
      reason(
        "cart-state-not-entered",
        `the state of the cart was not entered in full: ${missing.join(", ")}`,
      ),
    ];
  }
  if (!day.hasCome(state.on)) {
    const message = `the state of the cart was entered for ${state.on}, after the day of judging`;
    return [reason("cart-state-too-old", message)];
  }
  if (!day.isWithin(state.on, ageDaysMax)) {
    const last = dayAfter(state.on, ageDaysMax);
    const message = `the state of the cart was entered on ${state.on} and counted until ${last}; it may be at most ${ageDaysMax} days old`;
    return [reason("cart-state-too-old", message)];
  }
  if (stopping.length > 0) return [];
  return [
    reason("cart-state-sound", `indicator, level, temperature and seals were found sound on ${state.on}`),
  ];
}
