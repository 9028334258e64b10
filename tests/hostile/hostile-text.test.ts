import { marked } from "marked";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { planCirculation } from "../../src/circulation/index.js";
import { classConfidence, ISO_4406, limitsOfTarget, parseTarget } from "../../src/cleanliness/index.js";
import {
  drawClassHistory,
  drawClassProbabilities,
  drawClassTable,
  drawCleanUpCurve,
  drawCountSpectrum,
  drawFleetOverview,
  drawTrend,
  drawWaterOfCircuit,
} from "../../src/figures/index.js";
import { describeVerdict, type JudgedCircuit, judgeCarts, measureTrend } from "../../src/fitness/index.js";
import { samplesFrame } from "../../src/frames/index.js";
import { richOf, type Showable } from "../../src/notebook/index.js";
import { renderLabels, renderReport } from "../../src/report/index.js";
import { cartSchema, requirementsFileSchema, sampleSchema } from "../../src/samples/index.js";
import { openBrowser } from "../support/browser.js";

/** Texts that do something as soon as a page takes them for more than text; each sets a mark. */
const HOSTILE = [
  "<script>window.struck = 1</script>",
  "<img src=x onerror=window.struck=1>",
  "<svg onload=window.struck=1>",
  "<svg><script>window.struck=1</script></svg>",
  "</title></style></svg><img src=x onerror=window.struck=1>",
  '"><img src=x onerror=window.struck=1>',
  "' onmouseover='window.struck=1",
  '" autofocus tabindex=1 onfocus="window.struck=1',
  "[go](javascript:window.struck=1)",
  "<a href=javascript:window.struck=1>go</a>",
  "&lt;img src=x onerror=window.struck=1&gt;",
  "]]><!--><img src=x onerror=window.struck=1>",
  "`</code><img src=x onerror=window.struck=1>`",
] as const;

const SIZES = [4, 6, 14];
const MEASURED = [
  { temperatureC: 5, waterPpm: 127.3 },
  { temperatureC: 60, waterPpm: 640 },
] as const;

/** A circuit in which every text that a page could show is the hostile one, with a history long enough for a trend. */
function judgeHostile(text: string) {
  const cart = cartSchema.parse({
    cart: text,
    note: text,
    circuits: [
      {
        circuit: text,
        serves: text,
        fluid: "MIL-PRF-83282",
        volume: "60 L",
        flow: "45 L/min",
        element: { position: text, betas: SIZES.map((sizeUmC) => ({ sizeUmC, beta: 20 })) },
        events: [{ on: "2026-01-10", kind: "top-up", note: text }],
        state: { on: "2026-03-10", indicator: "clear", note: text },
      },
    ],
  });
  const document = requirementsFileSchema.parse({
    document: text,
    revision: text,
    note: text,
    systems: [
      {
        system: text,
        aircraft: text,
        fluids: ["MIL-PRF-83282"],
        cleanliness: ["ISO 4406 16/14/11"],
        waterPpmMax: 200,
        waterSaturation: { shareMax: 1, lowestTemperatureC: 5, measured: MEASURED },
        acidMgKohPerGMax: 0.2,
        sampleAgeDaysMax: 30,
        identity: { colours: ["red"] },
        sampling: { labelled: true },
      },
    ],
  });
  const samples = [0, 1, 2, 3, 4, 5].map((month) =>
    sampleSchema.parse({
      sample: `${text}${month}`,
      cart: text,
      circuit: text,
      drawnOn: new Date(Date.UTC(2025, 9 + month, 5)).toISOString().slice(0, 10),
      fluid: text,
      colour: text,
      counts: {
        scale: "um(c)",
        form: "cumulative",
        volumeMl: 1,
        counts: [1300, 300, 30].map((count, index) => ({ sizeUm: SIZES[index], count })),
      },
      wordedResults: [{ measurand: text, said: "trace" }],
      reportedClasses: [{ standard: "ISO 4406", class: text }],
      waterPpm: { value: 150 + 20 * month },
      origin: [{ file: text, sheet: text, rows: [2] }],
    }),
  );
  const unread = [{ cart: text, circuit: text, drawnOn: "2026-03-12", where: text }];
  const circuits = judgeCarts({
    carts: [cart],
    requirements: document.systems,
    samples,
    unread,
    on: "2026-03-14",
  });
  const quarantine = [
    {
      file: text,
      row: 3,
      text,
      issues: [{ code: "not-a-number", file: text, row: 3, column: text, value: text, expected: text }],
    },
  ] as never;
  return { circuits, document, quarantine, samples };
}

let browser: Browser;
let page: Page;

beforeAll(async () => {
  browser = await openBrowser();
  page = await browser.newPage();
});

afterAll(() => browser.close());

/** Opens HTML, moves over and into everything in it, and tells what came alive. */
async function alive(html: string): Promise<string[]> {
  // A new document begins without the mark of the one before.
  await page.goto("about:blank");
  await page.setContent(html, { waitUntil: "load" });
  return page.evaluate(async () => {
    const found: string[] = [];
    for (const element of document.querySelectorAll("*")) {
      for (const { name, value } of element.attributes) {
        if (name.startsWith("on")) found.push(`${element.tagName} ${name}`);
        if (/href|src/.test(name) && /javascript:|^x$/.test(value)) found.push(`${element.tagName} ${value}`);
      }
      element.dispatchEvent(new Event("mouseover"));
      element.dispatchEvent(new Event("focus"));
    }
    for (const script of document.querySelectorAll("script")) found.push(`script ${script.textContent}`);
    await new Promise((resolve) => setTimeout(resolve, 20));
    if ("struck" in window) found.push("a handler ran");
    return found;
  });
}

test("this page does come alive when a text is put into it as it is", async () => {
  expect(await alive(`<p>${HOSTILE[0]}</p>`)).toContain("a handler ran");
  expect(await alive(`<p>${HOSTILE[1]}</p>`)).toContain("a handler ran");
  expect(await alive(marked.parse(HOSTILE[8], { async: false }))).not.toEqual([]);
});

describe.each(HOSTILE)("%s in every text of a fleet", (text) => {
  const { circuits, document, quarantine, samples } = judgeHostile(text);
  const [judged] = circuits as [JudgedCircuit];
  const { counts } = judged.verdict.sample as { counts: NonNullable<(typeof samples)[number]["counts"]> };
  const target = parseTarget("ISO 4406 16/14/11");

  test("is text in the report, and can be read there", async () => {
    const html = renderReport({ on: "2026-03-14", requirements: document, circuits, quarantine });
    expect(await alive(html)).toEqual([]);
    expect(await page.locator("body").textContent()).toContain(text);
    expect(await page.title()).toBe("0 of 1 circuits fit to connect, 2026-03-14");
  });

  test("is text on the labels for bottles, and can be read there", async () => {
    const labels = renderLabels({ carts: [{ cart: text, circuits: [judged.circuit] }], first: `${text}1` });
    expect(await alive(labels)).toEqual([]);
    expect(await page.locator("section").textContent()).toContain(text);
  });

  test("is text in every picture", async () => {
    const plan = planCirculation({
      volumeL: 60,
      flowLpm: 45,
      betas: [{ sizeUmC: 4, beta: 10 }],
      start: counts,
      limits: limitsOfTarget(parseTarget("16/-/-")),
    });
    const trend = measureTrend({
      circuit: judged.circuit,
      samples,
      measure: "water",
      bounds: [{ limit: 200, towards: "above" }],
      on: "2026-03-14",
      horizonDays: 365,
      longestDays: 30,
      risk: 0.05,
    });
    const pictures = [
      drawClassHistory(judged),
      drawClassProbabilities(classConfidence(ISO_4406, counts), target, text),
      drawClassTable(ISO_4406, text, { counts, words: text }),
      drawCleanUpCurve(plan, text),
      drawCountSpectrum(counts, target, text),
      drawFleetOverview(circuits),
      drawTrend(trend, text),
      drawWaterOfCircuit(judged) ?? "",
    ];
    expect(await alive(pictures.join(""))).toEqual([]);
    expect(await page.locator("svg").count()).toBe(pictures.length);
    // What a notebook is given to show is still taken for a picture.
    expect(pictures.map((svg) => richOf(svg).kind)).toEqual(pictures.map(() => "html"));
  });

  test("is text in whatever a notebook shows", async () => {
    const shown: Showable[] = [
      judged,
      judged.verdict,
      circuits,
      samplesFrame(samples),
      judged.verdict.reasons,
      judged.verdict.assumptions,
      [{ [text]: text, number: 1 }],
      [{ message: text }],
      `**${describeVerdict(judged.verdict)}**`,
      text,
    ];
    const html = shown.map((value) => {
      const rich = richOf(value, text);
      return rich.kind === "html" ? rich.text : marked.parse(rich.text, { async: false });
    });
    expect(await alive(html.join(""))).toEqual([]);
    expect(await page.locator("table").count()).toBeGreaterThanOrEqual(5);
  });
});
