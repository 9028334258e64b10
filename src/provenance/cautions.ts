import { frozen } from "./frozen.js";
import type { SourceKey } from "./sources.js";

/** A warning shown wherever somebody could act on a result. */
export interface Caution {
  readonly topic: string;
  readonly message: string;
  readonly source: SourceKey;
}

/** Who decides. Stands above every verdict and plan. */
export const DEFERENCE: Caution = frozen({
  topic: "authority",
  message:
    "Siltbook advises; it never releases. The aircraft maintenance manual, the cart's own instructions, " +
    "local rules and licensed staff decide. Use the limits of your aircraft's manual.",
  source: "PRACTICE",
});

/** {@link DEFERENCE} in one line of a terminal. */
export const SHORT_DEFERENCE =
  "Siltbook advises; it never releases. Manuals, rules and licensed staff decide.";

/** Cautions for anybody who is about to run or connect a cart. */
export const CART_CAUTIONS: readonly Caution[] = frozen([
  DEFERENCE,
  {
    topic: "pressure",
    message:
      "Remove all pressure and discharge stored energy before opening a line. Look for leaks with card or wood, " +
      "never by hand: a jet injects fluid through the skin and is a surgical emergency.",
    source: "PRACTICE",
  },
  {
    topic: "start and stop",
    message:
      "Have the bypass valves open when starting and stopping, and move pressure and return valves together " +
      "and only with the unit off.",
    source: "PRACTICE",
  },
  {
    topic: "mixing",
    message:
      "Only the placarded fluid, with hoses of that fluid. Circulate each circuit by itself; the two fluids never meet.",
    source: "PRACTICE",
  },
  {
    topic: "indicator and temperature",
    message:
      "Watch the clogging indicator once the fluid is warm (29 °C, 85 °F or more) and the fluid temperature " +
      "throughout. Stop at an indication.",
    source: "NAVEDTRA-14018",
  },
  {
    topic: "verify",
    message:
      "Flush the sampling port and draw the verifying sample while the fluid is flowing. A computed time is an " +
      "estimate; only the sample shows that the fluid is clean.",
    source: "PRACTICE",
  },
  {
    topic: "skin and eyes",
    message:
      "Wear impervious gloves and eye protection; phosphate ester hurts eyes and skin. Drained fluid is not reused.",
    source: "PRACTICE",
  },
]);
