import { WATCHED_FROM_C } from "../circulation/index.js";
import type { OnlineRemark } from "./answer.js";
import type { OnlineMinute } from "./minute.js";

/** Below this share of its highest flow the counter looks at fluid that stands. Common practice, no source. */
export const FLOWING_SHARE = 0.2;
/** A flow below this share of the stated one is said: meters and carts files are not known better. Common practice, no source. */
export const STATED_FLOW_SHARE = 0.8;

/** What was last reported of flow and temperature: many instruments report them only when they change. */
export class ReportedFluid {
  private temperatureC: number | undefined;
  private flowLpm: number | undefined;
  private mostFlow = 0;
  private isFlowLow = false;

  constructor(private readonly statedLpm: number | undefined) {}

  /** Takes the next minute, and says why the counter shows nothing of the circuit in it. */
  take({ temperatureC, flowLpm }: OnlineMinute): OnlineRemark | undefined {
    this.temperatureC = temperatureC ?? this.temperatureC;
    this.flowLpm = flowLpm ?? this.flowLpm;
    this.mostFlow = Math.max(this.mostFlow, this.flowLpm ?? 0);
    if (this.temperatureC !== undefined && this.temperatureC < WATCHED_FROM_C)
      return { code: "cold", temperatureC: this.temperatureC };
    return this.flowLpm !== undefined && this.stands(this.flowLpm) ? { code: "no-flow" } : undefined;
  }

  /** Said when it begins. */
  flowBelowStated(): OnlineRemark[] {
    const { flowLpm, statedLpm } = this;
    if (flowLpm === undefined || statedLpm === undefined || this.stands(flowLpm)) return [];
    const wasLow = this.isFlowLow;
    this.isFlowLow = flowLpm < STATED_FLOW_SHARE * statedLpm;
    return this.isFlowLow && !wasLow ? [{ code: "flow-below-stated", flowLpm, statedLpm }] : [];
  }

  /** What was never reported, and so taken for granted. */
  notReported(): OnlineRemark[] {
    return [
      ...(this.temperatureC === undefined ? [{ code: "no-temperature" } as const] : []),
      ...(this.flowLpm === undefined ? [{ code: "flow-not-reported" } as const] : []),
    ];
  }

  private stands(flowLpm: number): boolean {
    return flowLpm <= FLOWING_SHARE * this.mostFlow;
  }
}
