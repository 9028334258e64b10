import { cleanDrop, WATCHED_FROM_C } from "../circulation/index.js";
import { viscosityAt } from "../fluids/index.js";
import type { ElementInLine } from "./element-in-line.js";
import type { OnlineMinute } from "./minute.js";
import { FLOWING_SHARE } from "./reported-fluid.js";

/** A warm minute in which the pump ran, with the drop of the element. */
export interface DropMinute {
  /** Running hours since the log began. */
  readonly hours: number;
  readonly dropBar: number;
  readonly temperatureC: number;
  /** As reported; absent where no flow is reported. */
  readonly flowLpm?: number;
}

/** What a log shows of the drop of an element. */
export interface DropLog {
  readonly minutes: readonly DropMinute[];
  /** Running hours in all, cold ones too. */
  readonly hours: number;
  /** What keeps minutes with a drop out, in the order in which it is looked at. */
  readonly left: { readonly standing: number; readonly noTemperature: number; readonly cold: number };
  readonly drops: number;
}

/** What instruments that report only changes last said holds no longer than this. Common practice, no source. */
const HOLDS_MINUTES = 5;
/** No fluid of a cart is hotter: the sensor failed, and its reading counts as none. Common practice, no source. */
const MAX_C = 150;

/**
 * The minutes of a log in which the drop of an element says something: with flow, and warm.
 *
 * The cart runs between two running minutes that are no further apart than the log's usual step. Where no flow is reported,
 * a drop below that of the clean element at a fifth of the stated flow is that of a pump that stands.
 */
export function dropMinutes(minutes: readonly OnlineMinute[], element: ElementInLine): DropLog {
  const hasMeter = minutes.some(({ flowLpm }) => flowLpm !== undefined);
  const mostFlow = minutes.reduce((most, { flowLpm = 0 }) => Math.max(most, flowLpm), 0);
  const step = Math.max(HOLDS_MINUTES, 3 * usualStep(minutes));
  const found: DropMinute[] = [];
  const left = { standing: 0, noTemperature: 0, cold: 0 };
  let [running, drops] = [0, 0];
  let held: Partial<Pick<OnlineMinute, "flowLpm" | "temperatureC">> = {};
  let before: { readonly minute: number; readonly runs: boolean } | undefined;
  for (const { minute, pressureDropBar, flowLpm, temperatureC } of minutes) {
    const gap = before === undefined ? 0 : minute - before.minute;
    if (gap > step) held = {};
    held = {
      ...held,
      ...(flowLpm !== undefined && { flowLpm }),
      ...(temperatureC !== undefined && temperatureC <= MAX_C && { temperatureC }),
    };
    const runs = hasMeter
      ? (held.flowLpm ?? 0) > FLOWING_SHARE * mostFlow
      : (pressureDropBar ?? 0) > standingDropBar(element, held.temperatureC);
    if (runs && before?.runs === true && gap <= step) running += gap;
    before = { minute, runs };
    if (pressureDropBar === undefined) continue;
    drops += 1;
    if (!runs) left.standing += 1;
    else if (held.temperatureC === undefined) left.noTemperature += 1;
    else if (held.temperatureC < WATCHED_FROM_C) left.cold += 1;
    else {
      found.push({
        hours: running / 60,
        dropBar: pressureDropBar,
        temperatureC: held.temperatureC,
        ...(held.flowLpm !== undefined && { flowLpm: held.flowLpm }),
      });
    }
  }
  return { minutes: found, hours: running / 60, left, drops };
}

/** The clean drop at the least flow that counts as one; cold fluid is taken as warm, because a bypass bounds its drop. */
function standingDropBar(
  { rated, viscosity, statedLpm }: ElementInLine,
  temperatureC: number = WATCHED_FROM_C,
): number {
  if (statedLpm === undefined) return 0;
  const mm2PerS = viscosityAt(viscosity, Math.max(WATCHED_FROM_C, temperatureC)).value;
  return cleanDrop(rated, FLOWING_SHARE * statedLpm, mm2PerS);
}

function usualStep(minutes: readonly OnlineMinute[]): number {
  const steps = minutes.slice(1).map(({ minute }, index) => minute - (minutes[index]?.minute ?? minute));
  return steps.sort((a, b) => a - b)[Math.floor(steps.length / 2)] ?? 1;
}
