import { inFourDigits } from "../units/index.js";
import type { ElementLife, ElementState } from "./element-life.js";

/**
 * Says how long an element lasts, or why that is not known; a number of hours never stands without its band.
 *
 * @param life - of {@link elementLife}
 * @returns sentences, the finding first
 */
export function describeElementLife(life: ElementLife): string[] {
  const of = life.state === undefined ? [] : [describeState(life.state)];
  switch (life.kind) {
    case "hours": {
      const until = life.high === undefined ? "with no known end" : `${hours(life.high)} h`;
      return [
        `The element lasts about ${hours(life.hours)} running hours more (${hours(life.low)} h to ${until})`,
        ...of,
      ];
    }
    case "at-its-end":
      return [
        "The element is loaded: with warm fluid its drop is at the setting of the indicator. Change it",
        ...of,
      ];
    case "cannot-tell":
      return [`How long the element lasts is not known: ${life.why}`, ...of];
  }
}

function describeState({
  timesClean,
  timesCleanAtEnd,
  flowLpm,
  mm2PerS,
  runningHours,
}: ElementState): string {
  return (
    `Its drop is ${times(timesClean)} that of the clean element, and the indicator trips at ${times(timesCleanAtEnd)} of it, at ` +
    `${inFourDigits(flowLpm)} L/min and ${inFourDigits(mm2PerS)} mm²/s; from ${hours(runningHours)} running hours of the log`
  );
}

function times(value: number): string {
  return `${value.toFixed(1)} times`;
}

function hours(value: number): string {
  return value >= 10 ? String(Math.round(value)) : value.toFixed(1);
}
