import type { VerdictName } from "../reasons.js";

/** A shape in a square of 64 by 64: an outline or a filled shape, and what is drawn on it. */
export interface SignShape {
  readonly filled: boolean;
  readonly outline: string;
  readonly inside: string;
}

/** The shape of each verdict, and of a circuit that a person holds: they differ without colour, and from some metres away. */
export const SIGN_SHAPES: Readonly<Record<VerdictName | "held", SignShape>> = {
  // A circle with a tick.
  fit: { filled: false, outline: "M32 4a28 28 0 1 0 0 56a28 28 0 1 0 0-56z", inside: "M18 33l10 10l19-21" },
  // A square with an arrow that runs round.
  circulate: { filled: false, outline: "M5 5h54v54h-54z", inside: "M46 24a16 16 0 1 0 2 12M47 14v11h-11" },
  // A drop with an arrow in and an arrow out.
  "exchange-fluid": {
    filled: false,
    outline: "M32 3c12 16 21 25 21 37a21 21 0 0 1-42 0c0-12 9-21 21-37z",
    inside: "M25 50v-16M19 40l6-6l6 6M39 32v16M33 42l6 6l6-6",
  },
  // A bottle with a question mark.
  resample: {
    filled: false,
    outline: "M24 4h16v12l10 10v34h-36v-34l10-10z",
    inside: "M26 36a6 6 0 1 1 8 6q-2 1-2 5M32 52v2",
  },
  // A filled octagon with a bar.
  "do-not-connect": {
    filled: true,
    outline: "M20 4h24l16 16v24l-16 16h-24l-16-16v-24z",
    inside: "M16 32h32",
  },
  // The same with a cross: a person says no.
  held: {
    filled: true,
    outline: "M20 4h24l16 16v24l-16 16h-24l-16-16v-24z",
    inside: "M21 21l22 22M43 21l-22 22",
  },
};
