import type { Requirement } from "../../../src/samples/index.js";
import { asking, type Case, CIRCUIT, counts, events, inState, SOUND, sample } from "./bases.js";

const STATE: Partial<Requirement> = { cartState: { ageDaysMax: 1 } };
const required = (change: Parameters<typeof inState>[0]) => ({ ...asking(STATE), ...inState(change) });
const withoutSeals = { on: SOUND.on, indicator: "clear", level: "normal", temperature: "normal" } as const;

/** Is the cart itself sound, by what a technician entered? */
export const CART_CASES: readonly Case[] = [
  ["nothing entered and no limit for", {}, "fit", "sample-recent"],
  ["everything found sound", required({}), "fit", "cart-state-sound"],
  ["entered exactly as long ago as allowed", required({ on: "2026-03-13" }), "fit", "cart-state-sound"],
  ["entered on the day of judging", required({ on: "2026-03-14" }), "fit", "cart-state-sound"],
  ["entered one day too long ago", required({ on: "2026-03-12" }), "do-not-connect", "cart-state-too-old"],
  ["entered for tomorrow", required({ on: "2026-03-15" }), "do-not-connect", "cart-state-too-old"],
  ["asked for and not entered", asking(STATE), "do-not-connect", "cart-state-not-entered"],
  [
    "asked for and seals not looked at",
    { ...asking(STATE), circuit: { ...CIRCUIT, state: withoutSeals } },
    "do-not-connect",
    "cart-state-not-entered",
  ],
  [
    "a persistent clogging indicator",
    inState({ indicator: "persistent" }),
    "do-not-connect",
    "indicator-persistent",
  ],
  ["a level alarm", inState({ level: "alarm" }), "do-not-connect", "level-alarm"],
  [
    "a tripped temperature switch",
    inState({ temperature: "tripped" }),
    "do-not-connect",
    "temperature-tripped",
  ],
  ["damaged seals", inState({ seals: "damaged" }), "do-not-connect", "seals-damaged"],
  [
    "a persistent indicator entered long ago and nothing since",
    inState({ indicator: "persistent", on: "2025-01-01" }),
    "do-not-connect",
    "indicator-persistent",
  ],
  [
    "a persistent indicator where the state is required",
    required({ indicator: "persistent" }),
    "do-not-connect",
    "indicator-persistent",
  ],
];

const dirty = { counts: counts(20000, 5000, 640) };
const wet = { waterPpm: { value: 900 } };
const old = { on: "2026-04-04" };
const seals = inState({ seals: "damaged" });

/** Two things wrong at once: the stricter verdict stands. Every pair of verdicts is here. */
export const PRECEDENCE_CASES: readonly Case[] = [
  ["fit and circulate", sample(dirty), "circulate", "particles-outside"],
  ["fit and exchange-fluid", sample(wet), "exchange-fluid", "water-outside"],
  ["fit and resample", old, "resample", "sample-too-old"],
  ["fit and do-not-connect", seals, "do-not-connect", "seals-damaged"],
  ["circulate and exchange-fluid", sample({ ...dirty, ...wet }), "exchange-fluid", "water-outside"],
  ["circulate and resample", { ...sample(dirty), ...old }, "resample", "sample-too-old"],
  ["circulate and do-not-connect", { ...sample(dirty), ...seals }, "do-not-connect", "seals-damaged"],
  ["exchange-fluid and resample", { ...sample(wet), ...old }, "resample", "sample-too-old"],
  ["exchange-fluid and do-not-connect", { ...sample(wet), ...seals }, "do-not-connect", "seals-damaged"],
  ["resample and do-not-connect", { ...old, ...seals }, "do-not-connect", "seals-damaged"],
  [
    "all five at once",
    { ...sample({ ...dirty, ...wet }), ...old, ...seals },
    "do-not-connect",
    "seals-damaged",
  ],
  [
    "a wrong fluid and everything else right",
    asking({ fluids: ["AS1241 Type V"] }),
    "do-not-connect",
    "fluid-not-allowed",
  ],
  [
    "a change of element and particles outside: the sample speaks of the time before",
    { ...sample(dirty), ...events({ kind: "element-change", on: "2026-03-05" }) },
    "resample",
    "drawn-before-event",
  ],
];
