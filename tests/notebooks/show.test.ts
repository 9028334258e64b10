import { describe, expect, test } from "vitest";
import { planCirculation, planConfidence } from "../../src/circulation/index.js";
import { limitsOfTarget, parseTarget } from "../../src/cleanliness/index.js";
import { cumulativeCounts } from "../../src/counts/index.js";
import { judgeCarts, VERDICT_WORDS } from "../../src/fitness/index.js";
import { samplesFrame } from "../../src/frames/index.js";
import { readFleetFiles } from "../../src/intake/index.js";
import { richOf } from "../../src/notebook/index.js";
import { seededRandom } from "../../src/numeric/index.js";
import { CART_CAUTIONS } from "../../src/provenance/index.js";

const fleet = await readFleetFiles({
  carts: "tests/support/fleet/carts.json",
  requirement: "tests/support/fleet/requirement.json",
  samples: ["tests/support/fleet/samples.csv"],
});
const circuits = judgeCarts({ ...fleet, on: "2026-03-14" });

/** The cells of the first row of a table. */
function firstRow(html: string): string[] {
  const [row = ""] = /<tbody>.*?<\/tr>/s.exec(html) ?? [];
  return [...row.matchAll(/<td[^>]*>(.*?)<\/td>/gs)].map((match) => match[1] ?? "");
}

const input = {
  volumeL: 60,
  flowLpm: 45,
  betas: [{ sizeUmC: 4, beta: 10 }],
  start: cumulativeCounts([{ sizeUm: 4, count: 20000 }], 1),
  limits: limitsOfTarget(parseTarget("17/-/-")),
};

describe("what a notebook shows of a result", () => {
  test("a verdict is its sentence above a row for each reason", () => {
    const [judged] = circuits;
    const { kind, text } = richOf(judged as never);
    expect(kind).toBe("html");
    expect(text.match(/<tr>/g)).toHaveLength(1 + (judged?.verdict.reasons.length ?? 0));
    expect(text).toContain(`${judged?.verdict.cart}, circuit ${judged?.verdict.circuit}: `);
  });

  test("circuits are a row each, with what is not known as a dash", () => {
    const { text } = richOf(circuits);
    expect(text.match(/<tr>/g)).toHaveLength(1 + circuits.length);
    const [first] = circuits;
    expect(firstRow(text).slice(0, 3)).toEqual([
      first?.verdict.cart,
      first?.verdict.circuit,
      first && VERDICT_WORDS[first.verdict.verdict],
    ]);
    expect(text).toContain(">–</td>");
  });

  // 3.04 passes of 60 L at 45 L/min, as the example of planCirculation works out.
  test("a plan is its stated time, which is no time to go by, above a row for each channel", () => {
    const { text } = richOf(planCirculation(input));
    expect(text).toContain(
      "By the stated values alone: 4.1 min (3.1 passes), no time to go by; channel 4 decides",
    );
    expect(firstRow(text)).toEqual(["4", "20000", "1300", "0", "4.1 min"]);
  });

  test("how sure a plan is stands with its minutes, a row for each probability", () => {
    const sure = planConfidence(input, { volume: 0.1 }, seededRandom(1), {
      draws: 500,
      probabilities: [0.5, 0.9],
    });
    const { text } = richOf(sure);
    expect([...text.matchAll(/>(\d+ %)</g)].map((match) => match[1])).toEqual(["50 %", "90 %"]);
  });

  test("a data frame, a table of one's own, a picture, messages and text are each shown as what they are", () => {
    expect(richOf(samplesFrame(fleet.samples)).text).toContain("count4UmC");
    expect(firstRow(richOf([{ size: 4, name: "<b>", none: undefined }]).text)).toEqual(["4", "&lt;b>", "–"]);
    expect(richOf("<svg></svg>")).toEqual({ kind: "html", text: "<svg></svg>" });
    expect(richOf("**so**")).toEqual({ kind: "markdown", text: "**so**" });
    expect(richOf(CART_CAUTIONS).text.split("\n")).toHaveLength(CART_CAUTIONS.length);
    expect(richOf([])).toEqual({ kind: "markdown", text: "None." });
  });
});
