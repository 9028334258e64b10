import { sayTarget } from "../cleanliness/index.js";
import { drawClassHistory } from "../figures/index.js";
import type { JudgedCircuit } from "../fitness/index.js";
import type { RobustSlope } from "../trend/index.js";
import { anchorOf, nameOf } from "./names.js";
import { Picture } from "./parts.js";

/** How each circuit came to where it is. */
export function History({ circuits }: { circuits: readonly JudgedCircuit[] }) {
  return (
    <section id="history" class="new-page">
      <h2>History</h2>
      {circuits.map((judged) => (
        <article
          key={anchorOf(judged.verdict)}
          id={`history-${anchorOf(judged.verdict)}`}
          aria-label={`History of ${nameOf(judged.verdict)}`}
        >
          <h3>{nameOf(judged.verdict)}</h3>
          {(judged.requirement?.cleanliness ?? [undefined]).map((target) => (
            <Picture key={target && sayTarget(target)} svg={drawClassHistory(judged, target)} />
          ))}
          <p>
            Since the last recorded fluid change, or since the first sample where there is none: water{" "}
            {saySlope(judged.trends.waterPpmPerYear, "ppm")}; acid number:{" "}
            {saySlope(judged.trends.acidMgKohPerGPerYear, "mg KOH/g")}.
          </p>
        </article>
      ))}
    </section>
  );
}

function saySlope(slope: RobustSlope, unit: string): string {
  if (slope.kind === "cannot-tell")
    return `cannot tell from ${slope.n} results (needs ${slope.needed} different days)`;
  const sign = slope.slope < 0 ? "−" : "+";
  return `${sign}${Number(Math.abs(slope.slope).toPrecision(2))} ${unit} per year over ${slope.n} results`;
}
