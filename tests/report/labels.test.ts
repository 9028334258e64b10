import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { Resvg } from "@resvg/resvg-js";
import { parseHTML } from "linkedom";
import { decodeQR } from "qr/decode.js";
import { describe, expect, test } from "vitest";
import { bottleNumbers } from "../../src/report/bottle-numbers.js";
import { type LabelInput, renderLabels } from "../../src/report/index.js";
import { cartSchema } from "../../src/samples/index.js";
import { DEMO_ARGUMENTS } from "../support/demo.js";
import { run, runJson } from "../support/run-cli.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const folder = temporaryFolder();

function cartOf(cart: string, ...circuits: string[]) {
  return cartSchema.parse({
    cart,
    circuits: circuits.map((circuit) => ({
      circuit,
      serves: "main",
      fluid: "MIL-PRF-83282",
      volume: "60 L",
      flow: "45 L/min",
      element: { position: "pressure", betas: [{ sizeUmC: 4, beta: 20 }] },
    })),
  });
}

function labelsIn(input: LabelInput): { words: string; square: string }[] {
  const { document } = parseHTML(renderLabels(input));
  return Array.from(document.querySelectorAll("section"), (label) => ({
    words: label.querySelector(".words")?.textContent ?? "",
    square: readSquare(label.querySelector("svg")?.toString() ?? ""),
  }));
}

/** Draws a square with one library and reads it with another; neither made it. */
function readSquare(svg: string): string {
  const drawn = svg.includes("xmlns") ? svg : svg.replace("<svg", '<svg xmlns="http://www.w3.org/2000/svg"');
  const { pixels, width, height } = new Resvg(drawn, { fitTo: { mode: "width", value: 600 } }).render();
  return decodeQR({ width, height, data: pixels });
}

describe("labels for bottles", () => {
  test.each([
    ["C-1", "fore"],
    ["Wagen 7 Süd", "Kreis Ä"],
    ["カート", "前"],
    ["</script><script>alert(1)</script>", '"><img src=x onerror=alert(1)>'],
    [
      "a cart of the far end of the northern apron, lent by the neighbours",
      "the one nearer to the wall of the hangar",
    ],
  ])("the QR code of %s says what the label says", (cart, circuit) => {
    const [label] = labelsIn({ carts: [cartOf(cart, circuit)], first: "26-0401", point: "main-flow-line" });
    expect(label?.square).toBe(
      `bottle: 26-0401\ncart: ${cart}\ncircuit: ${circuit}\nfluid: MIL-PRF-83282\npoint: main flow line`,
    );
    for (const part of [cart, circuit, "MIL-PRF-83282", "main flow line", "26-0401"]) {
      expect(label?.words).toContain(part);
    }
  });

  test("what is not known has room to be written, and is not in the QR code", () => {
    const [label] = labelsIn({ carts: [cartOf("C-1", "fore")] });
    expect(label?.square).toBe("cart: C-1\ncircuit: fore\nfluid: MIL-PRF-83282");
    const { document } = parseHTML(renderLabels({ carts: [cartOf("C-1", "fore")] }));
    expect(Array.from(document.querySelectorAll(".to-write"), (line) => line.textContent)).toEqual([
      "point: ",
      "no. ",
      "day, time:",
      "fluid temperature:",
    ]);
  });

  test("names too long for a QR code that can be printed are refused by name", () => {
    const fitting = cartOf("x".repeat(323), "fore");
    const [label] = labelsIn({ carts: [fitting] });
    expect(label?.square).toContain("x".repeat(323));
    expect(() => renderLabels({ carts: [cartOf("x".repeat(324), "fore")] })).toThrow(
      /at most 364 bytes .*found 365/,
    );
  });

  test("each bottle of each circuit has a number of its own, in the order of the carts", () => {
    const carts = [cartOf("C-1", "fore", "aft"), cartOf("C-2", "main")];
    const words = labelsIn({ carts, bottles: 2, first: "26-0099" }).map((label) => label.words);
    expect(words.map((text) => /C-\d, (?:fore|aft|main)/.exec(text)?.[0])).toEqual(
      ["C-1, fore", "C-1, aft", "C-2, main"].flatMap((name) => [name, name]),
    );
    expect(words.map((text) => /26-\d{4}/.exec(text)?.[0])).toEqual([
      "26-0099",
      "26-0100",
      "26-0101",
      "26-0102",
      "26-0103",
      "26-0104",
    ]);
  });

  test.each([
    ["26-0401", 2, ["26-0401", "26-0402"]],
    ["0009", 2, ["0009", "0010"]],
    ["B7", 3, ["B7", "B8", "B9"]],
    ["99999999999999999998", 2, ["99999999999999999998", "99999999999999999999"]],
  ])("%s is the first of %i", (first, howMany, expected) => {
    expect(bottleNumbers(first, howMany)).toEqual(expected);
  });

  test.each([
    ["B7", 4],
    ["99", 2],
    ["26-", 1],
    ["bottle", 1],
    ["", 1],
  ])("%j cannot be the first of %i", (first, howMany) => {
    expect(() => bottleNumbers(first, howMany)).toThrow(RangeError);
  });

  test.each([0, 51, 1.5, Number.NaN, -1])("%d bottles for each circuit are refused", (bottles) => {
    expect(() => renderLabels({ carts: [cartOf("C-1", "fore")], bottles })).toThrow(RangeError);
  });
});

describe("siltbook labels", () => {
  const out = join(folder, "labels.html");
  const CARTS = ["--carts", "datasets/demo/carts.json"];

  test("writes a label for every circuit of the carts file, or of one cart and circuit", async () => {
    expect((await run("labels", ...CARTS, "--out", out)).code).toBe(0);
    expect((await readFile(out, "utf8")).match(/<section/g)).toHaveLength(14);
    const one = await runJson(
      "labels",
      ...CARTS,
      "--cart",
      "qb-06",
      "--circuit",
      "AFT",
      "--bottles",
      "2",
      "--out",
      out,
    );
    expect(one.json.labels).toEqual(
      Array(2).fill({ cart: "QB-06", circuit: "aft", fluid: "AS1241 Type IV" }),
    );
  });

  test("a number that a sample of the book has is not given to another bottle", async () => {
    const book = join(folder, "labels.siltbook");
    await run(
      "import",
      "--book",
      book,
      ...DEMO_ARGUMENTS.filter((argument) => !/^--on$|^2026/.test(argument)),
    );
    const asked = (first: string) =>
      run("labels", "--book", book, "--cart", "QB-08", "--first", first, "--out", out);
    const refused = await asked("26-0322");
    expect(refused.code).toBe(2);
    expect(refused.err).toContain('number "26-0322" is that of a sample in the book');
    expect((await asked("27-0001")).code).toBe(0);
  });

  test.each([
    [["--bottles", "two"], /--bottles: expected a whole number/],
    [["--bottles", "99"], /expected 1 to 50 bottles/],
    [["--first", "x"], /ends in digits/],
    [["--point", "tap"], /--point: expected one of main-flow-line/],
    [["--circuit", "middle"], /no circuit "middle"; known are fore, aft, main/],
    [["--cart", "QB-99"], /no cart "QB-99"/],
    [["--book", "x.siltbook"], /expected --book or --carts/],
  ] as const)("%j is refused, and no file is written", async (more, message) => {
    await writeFile(out, "before");
    const { code, err } = await run("labels", ...CARTS, ...more, "--out", out);
    expect(code).toBe(2);
    expect(err).toMatch(message);
    expect(await readFile(out, "utf8")).toBe("before");
  });
});
