import { parseHTML } from "linkedom";
import { describe, expect, test } from "vitest";
import { galleryFigures } from "../../docs/making/figures.js";
import { planCirculation } from "../../src/circulation/index.js";
import { classConfidence, ISO_4406, limitsOfTarget, parseTarget } from "../../src/cleanliness/index.js";
import { cumulativeCounts } from "../../src/counts/index.js";
import {
  drawClassHistory,
  drawClassProbabilities,
  drawCleanUpCurve,
  drawCountSpectrum,
  drawFleetOverview,
  onPaper,
  renderPng,
} from "../../src/figures/index.js";
import { judgeCarts } from "../../src/fitness/index.js";
import { cartSchema, requirementSchema, type Sample, sampleSchema } from "../../src/samples/index.js";

const GALLERY = await galleryFigures();

const CART = cartSchema.parse({
  cart: "C-1",
  circuits: [
    {
      circuit: "fore",
      serves: "main",
      fluid: "MIL-PRF-83282",
      volume: "60 L",
      flow: "45 L/min",
      element: { position: "pressure", betas: [{ sizeUmC: 4, beta: 20 }] },
      events: [{ on: "2026-02-10", kind: "element-change" }],
    },
  ],
});

function sampleOf(drawnOn: string, perMl: readonly number[], more: object = {}): Sample {
  const sizes = [4, 6, 14, 21, 38, 70];
  return sampleSchema.parse({
    sample: drawnOn,
    cart: "C-1",
    circuit: "fore",
    drawnOn,
    counts: {
      scale: "um(c)",
      form: "cumulative",
      volumeMl: 1,
      counts: perMl.map((count, index) => ({ sizeUm: sizes[index], count })),
    },
    origin: [{ file: "a.csv", rows: [1] }],
    ...more,
  });
}

function judge(samples: readonly Sample[], ...cleanliness: string[]) {
  const requirement = requirementSchema.parse({
    system: "main",
    fluids: ["MIL-PRF-83282"],
    cleanliness,
    waterPpmMax: 200,
    acidMgKohPerGMax: 0.2,
    sampleAgeDaysMax: 30,
  });
  return judgeCarts({ carts: [CART], requirements: [requirement], samples, unread: [], on: "2026-03-14" });
}

/** Contrast of two colours, 1 to 21, by their relative luminance. */
function contrast(...colours: [string, string]): number {
  const [high = 0, low = 0] = colours
    .map((colour) => {
      const [r = 0, g = 0, b = 0] = [1, 3, 5].map((at) => {
        const part = Number.parseInt(colour.slice(at, at + 2), 16) / 255;
        return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
      });
      return 0.2126 * r + 0.7152 * g + 0.0722 * b;
    })
    .sort((a, b) => b - a);
  return (high + 0.05) / (low + 0.05);
}

const wordsOf = (svg: string) =>
  Array.from(parseHTML(svg).document.querySelectorAll("text")).map((text) => text.textContent ?? "");
const titleOf = (svg: string) => /aria-label="([^"]*)"/.exec(svg)?.[1];

// 2000 particles per mL larger than 4 µm(c) are the limit of AS4059 class 8A, 1300 of ISO 4406 scale number 17.
const HISTORY = [
  sampleOf("2026-01-05", [1300, 300, 30, 5, 1, 0]),
  sampleOf("2026-03-05", [2001, 300, 30, 5, 1, 0]),
];

describe("class history", () => {
  test("speaks in the standard of the requirement, with its limit in every channel", () => {
    const [judged] = judge(HISTORY, "AS4059 cumulative 8A-F");
    const svg = drawClassHistory(judged as never);
    expect(titleOf(svg)).toBe(
      "C-1, circuit fore: now AS4059 cumulative 9/7/6/6/6/000, outside in 1 of 6 channels",
    );
    expect(wordsOf(svg).filter((words) => words === "limit 8")).toHaveLength(6);
    expect(wordsOf(svg)).toContain("AS4059 cumulative class of A, >4 µm(c)");
    expect(wordsOf(svg)).toContain("element change");
  });

  test("of the hookups in a log only those to a dirty aircraft have a line", () => {
    const [judged] = judge(HISTORY, "AS4059 cumulative 8A-F");
    const drawnWith = (event: object) => {
      const circuit = { ...judged?.circuit, events: [{ on: "2026-02-12", kind: "hookup", ...event }] };
      return wordsOf(drawClassHistory({ ...judged, circuit } as never));
    };
    expect(drawnWith({ aircraft: "X-1" })).not.toContain("hookup");
    expect(drawnWith({ aircraftFound: "dirty" })).toContain("hookup");
  });

  test("one particle fewer is inside", () => {
    const [judged] = judge([sampleOf("2026-03-05", [2000, 300, 30, 5, 1, 0])], "AS4059 cumulative 8A-F");
    expect(titleOf(drawClassHistory(judged as never))).toContain("inside in every channel counted");
  });

  test("each of two targets has a picture in its own standard", () => {
    const [judged] = judge(HISTORY, "ISO 4406 18/16/13", "NAS 1638 7");
    expect(titleOf(drawClassHistory(judged as never))).toContain("now ISO 4406 18/15/12, inside");
    expect(titleOf(drawClassHistory(judged as never, parseTarget("NAS 1638 7")))).toContain("now NAS 1638 ");
  });
});

describe("counts against the limits of classes", () => {
  const counts = cumulativeCounts(
    [
      { sizeUm: 4, count: 6000 },
      { sizeUm: 6, count: 400 },
      { sizeUm: 14, count: 0 },
    ],
    1,
  );

  test("the title names the channel that uses most of its limit, and how much", () => {
    const at = (target: string) => titleOf(drawCountSpectrum(counts, parseTarget(target), "S"));
    expect(at("AS4059 cumulative 8A-C")).toBe(
      "S: outside AS4059 cumulative, channel A at 3.0 times its limit",
    );
    expect(at("ISO 4406 20/18/15")).toBe("S: inside ISO 4406, channel 4 closest at 0.60 of its limit");
  });

  test("a count of zero has no dot on a logarithmic scale, the others have one each", () => {
    const svg = drawCountSpectrum(counts, parseTarget("ISO 4406 20/18/15"), "S");
    expect(svg.match(/<circle/g)).toHaveLength(2);
    const bold = Array.from(
      parseHTML(svg).document.querySelectorAll('[font-weight="700"] text'),
      (text) => text.textContent,
    );
    expect(bold.sort()).toEqual(["15", "18", "20"]);
    expect(wordsOf(svg).join()).toContain("dashed: the limit");
  });
});

describe("the probability of each class", () => {
  const counts = cumulativeCounts(
    [
      { sizeUm: 4, count: 1000 },
      { sizeUm: 6, count: 150 },
      { sizeUm: 14, count: 4 },
    ],
    1,
    "um(c)",
    { countedMl: 5 },
  );
  const target = parseTarget("ISO 4406 17/14/9");
  const svg = drawClassProbabilities(classConfidence(ISO_4406, counts), target, "S");

  test("the percentages of a channel add up to all, and none is called certain", () => {
    const percent = wordsOf(svg).flatMap((words) => {
      const match = /^(?:> )?([\d.]+) %$/.exec(words);
      return match === null || ["0", "50", "100"].includes(match[1] ?? "") ? [] : [Number(match[1])];
    });
    const sum = percent.reduce((a, b) => a + b, 0);
    expect(sum).toBeGreaterThan(298.5);
    expect(sum).toBeLessThan(300.5);
    expect(Math.max(...percent)).toBeLessThan(100);
  });

  test("a panel says what is allowed and how many particles were counted", () => {
    expect(wordsOf(svg)).toContain("probability at >14 µm(c): at most 9 allowed; particles counted: 20");
  });
});

describe("the fleet", () => {
  test("shares of the limits are in order along the axis, and a limit value says on which side it lies", () => {
    const [judged] = judge(
      [
        sampleOf("2026-03-05", [650, 100, 10, 1, 1, 0], {
          waterPpm: { value: 50, limit: "below" },
          acidMgKohPerG: { value: 0.3 },
        }),
      ],
      "ISO 4406 17/15/12",
    );
    const svg = drawFleetOverview([judged as never]);
    expect(wordsOf(svg)).toEqual(expect.arrayContaining(["C-1 fore", "exchange the fluid", "P", "<W", "A"]));
    const dots = [...svg.matchAll(/<circle[^>]*cx="([\d.]+)"/g)].map((match) => Number(match[1]));
    const rule = Number(
      /<line[^>]*x1="([\d.]+)"[^>]*>/.exec(svg.slice(svg.indexOf('stroke-dasharray="6,3"')))?.[1],
    );
    const [particles, acid, water] = [dots[0], dots.at(-1), dots.at(-2)];
    expect(dots).toHaveLength(3);
    expect([particles, acid, water].filter((x) => (x as number) > rule)).toHaveLength(1);
  });
});

describe("the clean-up curve of a circuit with many channels", () => {
  const sizes = [4, 6, 14, 21, 38, 70];
  const plan = planCirculation({
    volumeL: 170,
    flowLpm: 75,
    betas: sizes.map((sizeUmC) => ({ sizeUmC, beta: 1.6 })),
    start: cumulativeCounts(
      [6027, 1614, 176, 35.1, 3.53, 0.28].map((count, index) => ({ sizeUm: sizes[index] ?? 0, count })),
      1,
    ),
    limits: limitsOfTarget(parseTarget("AS4059 cumulative 8A-F")),
    ingress: [
      { sizeUmC: 4, particlesPerMin: 3.9e7 },
      { sizeUmC: 6, particlesPerMin: 1.3e7 },
    ],
  });
  const svg = drawCleanUpCurve(plan, "C-1");
  const placed = Array.from(parseHTML(svg).document.querySelectorAll("text"), (text) => {
    const [, x, y] = /translate\(([\d.]+),([\d.]+)\)/.exec(text.getAttribute("transform") ?? "") ?? [];
    return { words: text.textContent ?? "", x: Number(x), y: Number(y) };
  });
  const names = placed.filter(({ words }) => /^(limit at |floor at )?[A-F] /.test(words));

  test("names every curve and limit with its size, right of the frame where no curve is", () => {
    expect(names.map(({ words }) => words)).toEqual(
      expect.arrayContaining(["A (>4)", "F (>70)", "limit at A (>4)", "limit at F (>70)", "floor at A (>4)"]),
    );
    // The frame ends where its margin of 144 begins.
    for (const { words, x } of names) expect(x, words).toBeGreaterThan(760 - 144);
  });

  test("no two names touch", () => {
    const heights = names.map(({ y }) => y).sort((a, b) => a - b);
    const nearest = Math.min(...heights.slice(1).map((y, index) => y - (heights[index] ?? 0)));
    expect(names.length).toBeGreaterThanOrEqual(12);
    expect(nearest).toBeGreaterThanOrEqual(12.9);
  });
});

describe("minutes of a counter in the clean-up figure", () => {
  const plan = planCirculation({
    volumeL: 60,
    flowLpm: 45,
    betas: [{ sizeUmC: 4, beta: 20 }],
    start: cumulativeCounts([{ sizeUm: 4, count: 20000 }], 1),
    limits: limitsOfTarget(parseTarget("17/-/-")),
  });
  const dotsOf = (svg: string) =>
    Array.from(parseHTML(svg).document.querySelectorAll("circle"), (dot) => Number(dot.getAttribute("cx")));
  const minute = (at: number, sizeUmC: number, perMl: number) => ({
    minute: 1000 + at,
    counts: [{ sizeUmC, perMl }],
    readings: 1,
  });

  test("each is a point at its minute since the first; other sizes and no particles have none", () => {
    const counter = [
      minute(0, 4, 19000),
      minute(1, 4, 9000),
      minute(2, 4, 0),
      minute(3, 6, 800),
      minute(4, 4, 900),
    ];
    const [first = 0, second = 0, third = 0, ...more] = dotsOf(drawCleanUpCurve(plan, "C-1", { counter }));
    expect(more).toEqual([]);
    expect((third - first) / (second - first)).toBeCloseTo(4, 1);
    expect(dotsOf(drawCleanUpCurve(plan, "C-1"))).toEqual([]);
  });

  test("the picture ends after the last of them", () => {
    const counter = [minute(0, 4, 19000), minute(60, 4, 900)];
    // The frame ends where its margin of 144 begins.
    for (const x of dotsOf(drawCleanUpCurve(plan, "C-1", { counter }))) expect(x).toBeLessThan(760 - 144);
  });
});

describe("saved pictures", () => {
  test.each(GALLERY)("$file: finding as title, no part named by its shape, SVG and PNG", (figure) => {
    expect(titleOf(figure.svg)).toMatch(/\S.*(:|on) .*\S/);
    expect(wordsOf(figure.svg)).toContain(
      parseHTML(figure.svg).document.querySelector("svg")?.getAttribute("aria-label"),
    );
    expect(figure.svg.match(/<(?!svg)[^>]*aria-label/g)).toBeNull();
    const png = Buffer.from(renderPng(figure.svg, { scale: 1 }));
    expect(png.subarray(1, 4).toString()).toBe("PNG");
    expect(png.readUInt32BE(16)).toBe(760);
  });

  test("a PNG has its words although no font of the machine is asked", () => {
    const [figure] = GALLERY;
    const svg = figure?.svg ?? "";
    const wordless = svg.replace(/<text[\s\S]*?<\/text>/g, "");
    expect(wordless).not.toBe(svg);
    expect(renderPng(svg).length).toBeGreaterThan(1.5 * renderPng(wordless).length);
  });

  test("dark paper is dark and its ink light, light paper the other way round", () => {
    const [figure] = GALLERY;
    expect(onPaper(figure?.svg ?? "", "dark")).toContain("background:#17181a;color:#ececec");
    expect(onPaper(figure?.svg ?? "")).toContain("background:#ffffff;color:#1c1c1c");
  });

  // Contrast as WCAG 2.2 defines it, 1.4.11: what carries meaning stands out by 3 to 1.
  test.each([
    ["light", "#ffffff"],
    ["dark", "#17181a"],
  ] as const)("on %s paper every ink of every figure stands out by 3 to 1", (paper, ground) => {
    const inks = new Set(
      GALLERY.flatMap(({ svg }) =>
        [...onPaper(svg, paper).matchAll(/(?:stroke|fill)="(#[0-9a-f]{6})"/gi)].map(([, ink]) => ink ?? ""),
      ),
    );
    inks.delete(ground);
    expect(inks.size).toBe(3);
    for (const ink of inks) expect(contrast(ink, ground), ink).toBeGreaterThan(3);
  });
});
