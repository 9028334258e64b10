import { formatTarget } from "../cleanliness/index.js";
import { drawClassHistory, drawTrend, drawWaterOfCircuit } from "../figures/index.js";
import { boundsOf, type JudgedCircuit, type MeasureTrend, measureTrend } from "../fitness/index.js";
import type { RobustSlope } from "../trend/index.js";
import { Background, type ReportRecord } from "./background.js";
import { anchorOf, nameOf } from "./names.js";
import { Picture } from "./parts.js";

/** How sure each verdict is, what would change it, and how the circuit came to where it is. */
export function History({
  circuits,
  kept,
}: {
  circuits: readonly JudgedCircuit[];
  kept: readonly (ReportRecord | undefined)[];
}) {
  return (
    <section id="history" class="new-page">
      <h2>How sure, and history</h2>
      {circuits.map((judged, index) => (
        <article
          key={anchorOf(judged.verdict)}
          id={`history-${anchorOf(judged.verdict)}`}
          aria-label={`History of ${nameOf(judged.verdict)}`}
        >
          <h3>{nameOf(judged.verdict)}</h3>
          <Background judged={judged} record={kept[index]} />
          {(judged.requirement?.cleanliness ?? [undefined]).map((target) => (
            <Picture
              key={target && formatTarget(target)}
              kind="class-history"
              draw={(shownOn) => drawClassHistory(judged, target, shownOn)}
            />
          ))}
          {trendsOfCircuit(judged).map((trend) => (
            <Picture
              key={trend.measure}
              draw={(shownOn) => drawTrend(trend, nameOf(judged.verdict), shownOn)}
            />
          ))}
          <Picture draw={(shownOn) => drawWaterOfCircuit(judged, shownOn)} />
          <p>
            Since the last recorded fluid change, or since the first sample where there is none: water{" "}
            {formatSlope(judged.trends.waterPpmPerYear, "ppm")}; acid number:{" "}
            {formatSlope(judged.trends.acidMgKohPerGPerYear, "mg KOH/g")}.
          </p>
        </article>
      ))}
    </section>
  );
}

/** How far ahead a crossing is worth a picture, and how surely the next sample must come before it. */
const FORECAST = { horizonDays: 365, risk: 0.05 } as const;

/** Water and acid of a circuit, each where it was measured at all. */
function trendsOfCircuit({ circuit, history, requirement, verdict }: JudgedCircuit): MeasureTrend[] {
  if (requirement === undefined) return [];
  return (["water", "acid"] as const).flatMap((measure) => {
    const field = measure === "water" ? "waterPpm" : "acidMgKohPerG";
    if (!history.some((sample) => sample[field] !== undefined && sample.drawnOn <= verdict.on)) return [];
    const trend = measureTrend({
      circuit,
      samples: history,
      measure,
      bounds: boundsOf(measure, requirement),
      on: verdict.on,
      longestDays: requirement.sampleAgeDaysMax,
      ...FORECAST,
    });
    return [trend];
  });
}

function formatSlope(slope: RobustSlope, unit: string): string {
  if (slope.kind === "cannot-tell")
    return `cannot tell from ${slope.n} results (needs ${slope.needed} different days)`;
  const sign = slope.slope < 0 ? "−" : "+";
  return `${sign}${Number(Math.abs(slope.slope).toPrecision(2))} ${unit} per year over ${slope.n} results`;
}
