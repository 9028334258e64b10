import type { SourceKey } from "../../provenance/index.js";

/** One thing to do, with where the advice comes from. */
export interface SamplingStep {
  readonly text: string;
  readonly source: SourceKey;
}

/** How to draw a sample that can speak. */
export const SAMPLING_STEPS: readonly SamplingStep[] = [
  {
    text: "circulate for at least 5 minutes at full flow before drawing, longer in proportion at a lower flow",
    source: "SE-SAMPLING",
  },
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
];
