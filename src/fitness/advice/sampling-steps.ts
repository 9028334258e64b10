import { frozen, type SourceKey } from "../../provenance/index.js";
import { type Circuit, circulates } from "../../samples/index.js";

/** One thing to do, with where the advice comes from. */
export interface SamplingStep {
  readonly text: string;
  readonly source: SourceKey;
}

const CIRCULATE_FIRST: SamplingStep = frozen({
  text: "circulate for at least 5 minutes at full flow before drawing, longer in proportion at a lower flow",
  source: "SE-SAMPLING",
});

/** What has no flow of its own to circulate with. */
const PUMP_FIRST: SamplingStep = frozen({
  text: "before drawing, pump what hose and element hold into a clean can, and draw while the fluid flows on",
  source: "PRACTICE",
});

const WHILE_DRAWING: readonly SamplingStep[] = frozen([
  {
    text:
      "draw from a sampler in a turbulent section of a main flow line, and from the reservoir only where none is fitted; " +
      "never from a drain, a filter bowl or a dead end",
    source: "ISO-4021",
  },
  {
    text: "clean the outside of the sampling point, and run about 90 mL to waste, or 1 to 2 volumes of the line and its valve",
    source: "TB-1-1520-238-20-116",
  },
  { text: "do not stop the flow between flushing and filling", source: "SE-SAMPLING" },
  {
    text: "use a bottle cleaned for particle counting, rinse it with the fluid, and leave about 13 mm of air",
    source: "TB-1-1520-238-20-116",
  },
  {
    text: "take two bottles; write cart, circuit, fluid, day, time and fluid temperature on each, and send them the same day",
    source: "PRACTICE",
  },
]);

const CIRCULATING = frozen([CIRCULATE_FIRST, ...WHILE_DRAWING]);
const DELIVERING = frozen([PUMP_FIRST, ...WHILE_DRAWING]);

/** How to draw a sample of a circuit that can speak. */
export function samplingSteps(circuit: Circuit): readonly SamplingStep[] {
  return circulates(circuit) ? CIRCULATING : DELIVERING;
}
