import { readFileSync, writeFileSync } from "node:fs";
import type { Browser, Locator, Page } from "playwright-core";
import { afterAll, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { openBrowser } from "../support/browser.js";
import { DEMO_ARGUMENTS } from "../support/demo.js";
import { A4, checkAccess, sidewaysOverflow } from "../support/look-at-page.js";
import { writePageOfDemo } from "../support/page/page-of-demo.js";
import { runJson } from "../support/run-cli.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const WORDS: Record<string, string> = {
  fit: "Fit to connect",
  circulate: "Circulate first",
  "exchange-fluid": "Exchange the fluid",
  resample: "Take a new sample",
  "do-not-connect": "Do not connect",
};
const SIZES = [
  ["a phone", 390, 844],
  ["a tablet", 820, 1180],
  ["a desktop", 1280, 900],
] as const;

let browser: Browser;
let page: Page;
let path: string;
let judged: {
  cart: string;
  circuit: string;
  verdict: string;
  circulation: { quoted: { minutes: number } | null } | null;
}[];
const faults: string[] = [];
const requests: string[] = [];

beforeAll(async () => {
  path = await writePageOfDemo(temporaryFolder());
  judged = (await runJson("judge", ...DEMO_ARGUMENTS)).json.circuits;
  browser = await openBrowser();
  page = await browser.newPage();
  await page.context().setOffline(true);
  await page.clock.install();
  page.on("console", (message) => faults.push(message.text()));
  page.on("pageerror", (error) => faults.push(error.message));
  page.on("request", (request) => requests.push(request.url()));
});

afterAll(() => browser.close());

/** Opens the page on a day that the device shows. */
async function openOn(day: string): Promise<void> {
  await page.goto("about:blank");
  await page.clock.setSystemTime(new Date(`${day}T09:00:00`));
  await page.goto(`file://${path}`);
  await settle();
}

/** Lets the page judge what it has not judged yet, and what was typed: until it says the same for half a second. */
async function settle(): Promise<void> {
  let before = "";
  for (let quiet = 0, round = 0; quiet < 5 && round < 200; round += 1) {
    await page.clock.runFor(100);
    const now = (await page.locator("main").textContent()) ?? "";
    quiet = now === before && !now.includes("judging…") ? quiet + 1 : 0;
    before = now;
  }
}

async function pick(cart: string, circuit: string): Promise<void> {
  await page
    .getByRole("region", { name: `Cart ${cart}` })
    .getByRole("button", { name: circuit })
    .click();
  await page.getByRole("heading", { level: 1, name: `${cart}, circuit ${circuit}` }).waitFor();
  await settle();
}

const part = (name: string) => page.locator("details", { has: page.getByText(name, { exact: true }) });

async function open(name: string): Promise<void> {
  if (!(await part(name).evaluate((element) => (element as HTMLDetailsElement).open))) {
    await page.getByText(name, { exact: true }).click();
  }
}

async function type(inPart: string, texts: Record<string, string>): Promise<void> {
  await open(inPart);
  for (const [label, text] of Object.entries(texts)) {
    await part(inPart).getByLabel(label).first().fill(text);
  }
  await settle();
}

const firstWord = () => page.locator(".verdict .word").first().textContent();
const typedVerdict = () => said(page.locator(".verdict.typed"));

/** The text as a person sees it. */
async function said(locator: Locator): Promise<string> {
  return (await locator.allInnerTexts()).join("\n");
}

beforeEach(async () => {
  await page.setViewportSize({ width: 390, height: 844 });
  await page.emulateMedia({ media: "screen", colorScheme: "light" });
  await openOn("2026-11-20");
});

/** No time of circulating is long enough for one circuit, and its sign says so. */
const signFor = ({
  cart,
  circuit,
  verdict,
}: {
  cart: string;
  circuit: string;
  verdict: keyof typeof WORDS;
}) => (cart === "QB-06" && circuit === "aft" ? "do-not-connect" : verdict);

describe("the page of the demonstration on a device without a network", () => {
  test("opens without a word on the console and without asking for anything but itself", () => {
    expect(faults).toEqual([]);
    expect(new Set(requests.filter((url) => !url.startsWith("data:") && url !== "about:blank"))).toEqual(
      new Set([`file://${path}`]),
    );
  });

  test("shows every circuit as a button with the word of its verdict", async () => {
    for (const one of judged) {
      const { cart, circuit } = one;
      const button = page
        .getByRole("region", { name: `Cart ${cart}` })
        .getByRole("button", { name: circuit });
      expect(await said(button), `${cart} ${circuit}`).toContain(WORDS[signFor(one)]);
      await expect(button.locator("svg.mark").count()).resolves.toBe(1);
    }
  });

  test("each verdict has a shape of its own", async () => {
    const shapes = new Map<string, string>();
    for (const one of judged) {
      const button = page
        .getByRole("region", { name: `Cart ${one.cart}` })
        .getByRole("button", { name: one.circuit });
      shapes.set(signFor(one), await button.locator("svg.mark").innerHTML());
    }
    expect(shapes.size).toBe(Object.keys(WORDS).length);
    expect(new Set(shapes.values()).size).toBe(shapes.size);
  });

  test("the verdict is the largest text, then its day, then the day of the next sample, then everything else", async () => {
    await pick("QB-01", "fore");
    expect(await firstWord()).toBe("Fit to connect");
    expect(await said(page.locator(".verdict .day"))).toBe("on 2026-11-20");
    expect(await said(page.locator(".verdict .next"))).toMatch(/^Next sample by \d{4}-\d\d-\d\d$/);
    const sizesOf = (selector: string) =>
      page
        .locator(selector)
        .evaluateAll((elements) =>
          elements
            .filter((element) => element.getClientRects().length > 0)
            .map((element) => Number.parseFloat(getComputedStyle(element).fontSize)),
        );
    const sizes = await Promise.all([".word", ".day", ".next"].map((name) => sizesOf(`.verdict ${name}`)));
    const others = await sizesOf("body :is(h1, h2, p, li, label, summary, button):not(.word, .day, .next)");
    const inOrder = [...sizes.flat(), Math.max(...others)];
    expect(inOrder).toHaveLength(4);
    expect(inOrder).toEqual([...new Set(inOrder)].sort((a, b) => b - a));
  });

  test("the back button of the device leads back to all carts", async () => {
    await pick("QB-01", "fore");
    await page.goBack();
    await settle();
    expect(await said(page.getByRole("heading", { level: 1 }))).toMatch(/^Which circuit/);
  });

  test("typed counts change class and verdict at once, and say that the book does not hold them", async () => {
    await pick("QB-08", "main");
    const counts = { "Above 4 µm(c)": "900", "Above 6 µm(c)": "200", "Above 14 µm(c)": "20" };
    const rest = { "Above 21 µm(c)": "4", "Above 38 µm(c)": "0", "Above 70 µm(c)": "0" };
    await type("Type a sample", { ...counts, ...rest, "Volume counted": "100" });
    // 640 to 1300 is 17, 160 to 320 is 15, 10 to 20 is 11 (ISO 4406).
    expect(await said(page.locator(".classes"))).toContain("ISO 4406 17/15/11");
    expect(await typedVerdict()).toContain("Fit by what was typed");
    expect(await typedVerdict()).toContain("Sample typed here, not in the book");
    await type("Type a sample", {
      "Above 4 µm(c)": "8000",
      "Above 6 µm(c)": "2600",
      "Above 14 µm(c)": "200",
    });
    expect(await said(page.locator(".classes"))).toContain("ISO 4406 20/19/15");
    expect(await typedVerdict()).toContain("Circulate first");
    // The verdict of the data stands where it stood.
    expect(await firstWord()).toBe("Fit to connect");
  });

  test("a code is taken, and what cannot be read is named", async () => {
    await pick("QB-08", "main");
    await type("Type a sample", { "ISO 4406 code": "24/22/20" });
    expect(await typedVerdict()).not.toContain("Fit by");
    await type("Type a sample", { "Above 4 µm(c)": "1O4" });
    expect(await said(part("Type a sample"))).toContain('found "1O4"');
    await expect(page.locator(".verdict.typed").count()).resolves.toBe(0);
  });

  test("the minutes are those of the verdict, move with the flow, and start a timer", async () => {
    await pick("QB-02", "fore");
    const quoted = judged.find(({ cart, circuit }) => cart === "QB-02" && circuit === "fore")?.circulation
      ?.quoted;
    const minutes = Math.ceil(quoted?.minutes ?? Number.NaN);
    expect(await said(page.locator(".minutes").first())).toBe(`${minutes} min`);
    await page.getByRole("button", { name: `Start a timer of ${minutes} min` }).click();
    await page.clock.runFor(61_000);
    // The clock of the page goes on by itself as well, by the seconds that a busy machine takes.
    expect(await said(page.getByRole("timer"))).toMatch(new RegExp(`^${minutes - 2}:[3-5]\\d$`));
    await page.getByRole("button", { name: "Pause" }).click();
    const paused = await said(page.getByRole("timer"));
    await page.clock.runFor(60_000);
    expect(await said(page.getByRole("timer"))).toBe(paused);
    await page.getByRole("button", { name: "Go on" }).click();
    await page.clock.runFor(60_000 * (minutes - 1));
    expect(await said(page.getByRole("timer"))).toBe("0:00");
    expect(await said(page.getByRole("alert"))).toContain("Draw the verifying sample");
    await page.getByRole("button", { name: "Close" }).click();
    await type("Minutes to circulate", { Flow: "100 L/min" });
    const faster = Number.parseFloat(await said(page.locator(".minutes").first()));
    expect(faster).toBeLessThan(minutes);
    // So little flow does not keep up with the dirt that comes in.
    await type("Minutes to circulate", { Flow: "20 L/min" });
    expect(await said(part("Minutes to circulate"))).toContain("No minutes: ");
    await type("Minutes to circulate", { Flow: "40" });
    expect(await said(part("Minutes to circulate"))).toContain("Flow: expected");
  });

  test("an interim sample says whether circulating works", async () => {
    await pick("QB-02", "fore");
    await open("Is circulating working?");
    const sizes = await part("Is circulating working?")
      .getByLabel(/^Above/)
      .count();
    expect(sizes).toBeGreaterThanOrEqual(3);
    await part("Is circulating working?").getByLabel("Minutes since the start").fill("12");
    // As dirty as at the start: sample 26-0319 is ISO 4406 21/19/15.
    const counts = ["16000", "4000", "300", "60", "5", "1"];
    for (const [index, count] of counts.slice(0, sizes).entries()) {
      await part("Is circulating working?")
        .getByLabel(/^Above/)
        .nth(index)
        .fill(count);
    }
    await settle();
    expect(await said(part("Is circulating working?"))).toContain(
      "The counts are not falling. Stop and look",
    );
  });

  test("a cart that is not in the data is typed in, and needs a sample", async () => {
    await page.getByRole("button", { name: "Another cart" }).click();
    await settle();
    await page.getByLabel("Cart", { exact: true }).fill("qb 1");
    await page.getByLabel("Serves").selectOption("fleet K main");
    await page.getByLabel("Fluid on the placard").fill("AS1241 Type IV");
    await page.getByLabel("Volume").fill("16 US gal");
    await page.getByLabel("Flow").fill("12 US gpm");
    await page.getByLabel("β at 4 µm(c)").fill("40");
    await page.getByRole("button", { name: "Look at this cart" }).click();
    await settle();
    expect(await said(page.getByRole("alert"))).toContain('"QB-01" is in the data; pick it from the list');
    await page.getByLabel("Cart", { exact: true }).fill("ZZ-1");
    await page.getByRole("button", { name: "Look at this cart" }).click();
    await settle();
    expect(await typedVerdict()).toContain("Take a new sample");
    expect(await typedVerdict()).toContain("Typed here, not in the data");
    expect(await said(page.locator("main"))).toContain("Nothing is known of what was done to this cart");
  });
});

describe("data that are too old, or a clock that is wrong", () => {
  test.each([
    ["2026-11-28", "Data too old", "8 days old: too old to call a circuit fit"],
    ["2026-11-19", "Wrong day", "Its clock is wrong"],
  ])("on %s no circuit is fit, by data or by what is typed", async (day, word, why) => {
    await openOn(day);
    expect(await said(page.locator("main"))).not.toContain("Fit to connect");
    expect(await said(page.locator("header"))).toContain(why);
    await pick("QB-08", "main");
    expect(await firstWord()).toBe(word);
    await type("Type a sample", { Water: "50" });
    expect(await typedVerdict()).not.toMatch(/fit by/i);
    expect(await said(page.locator("main"))).not.toMatch(/Connect only if/);
  });

  test("the day of the device changes while the page is open", async () => {
    await openOn("2026-11-27");
    expect(await said(page.locator("main"))).toContain("Fit to connect");
    await page.clock.fastForward("16:00:00");
    await settle();
    expect(await said(page.locator("main"))).not.toContain("Fit to connect");
  });
});

describe("on every device", () => {
  test.each(
    SIZES.flatMap(
      ([name, width, height]) =>
        [
          [name, width, height, "light"],
          [name, width, height, "dark"],
        ] as const,
    ),
  )(
    "breaks no rule of WCAG 2.2 AA on %s (%i by %i pixels, %s), with everything open",
    async (_, width, height, colorScheme) => {
      await page.setViewportSize({ width, height });
      await page.emulateMedia({ colorScheme });
      await openOn("2026-11-20");
      expect((await checkAccess(page)).broken).toEqual([]);
      await pick("QB-02", "fore");
      await type("Type a sample", { "Above 4 µm(c)": "900", "Above 6 µm(c)": "x" });
      await type("Type a sample", { "Above 6 µm(c)": "200" });
      await open("Minutes to circulate");
      await open("Is circulating working?");
      const { broken, kept } = await checkAccess(page);
      expect(broken).toEqual([]);
      expect(kept).toEqual(expect.arrayContaining(["color-contrast", "target-size", "label"]));
      expect(await sidewaysOverflow(page)).toBeLessThanOrEqual(0);
    },
  );

  test("whatever can be touched is at least 44 pixels high and wide, for gloves", async () => {
    await pick("QB-02", "fore");
    for (const name of ["Type a sample", "Minutes to circulate", "Is circulating working?"]) await open(name);
    const small = await page.locator("button, input, select, summary").evaluateAll((elements) =>
      elements.flatMap((element) => {
        const { width, height } = element.getBoundingClientRect();
        return width >= 44 && height >= 44
          ? []
          : [`${element.outerHTML.slice(0, 80)}: ${width} by ${height}`];
      }),
    );
    expect(small).toEqual([]);
  });

  test("every view ends with who decides", async () => {
    const deference =
      "The aircraft maintenance manual, the cart's own instructions, local rules and licensed staff decide.";
    for (const go of [async () => {}, () => pick("QB-02", "fore")]) {
      await go();
      expect(await said(page.locator("footer"))).toContain(deference);
    }
  });

  test("printed, a circuit is one page of A4 with verdict, steps, boxes and cautions, and no form", async () => {
    await pick("QB-02", "fore");
    await page.setViewportSize(A4);
    await page.emulateMedia({ media: "print" });
    const text = await said(page.locator("body"));
    for (const words of [
      "Circulate first",
      "on 2026-11-20",
      "What to do",
      "signature",
      "Siltbook advises",
      "Data of 2026-11-20",
    ]) {
      expect(text).toContain(words);
    }
    expect(text).not.toContain("Type a sample");
    const pdf = (await page.pdf({ format: "A4", preferCSSPageSize: true })).toString("latin1");
    expect(pdf.match(/\/Type\s*\/Page\b(?!s)/g)).toHaveLength(1);
  });
});

describe("the policy of the page, kept by the browser", () => {
  test("a program that was put into the file does not run", async () => {
    const changed = path.replace("cart.html", "changed.html");
    const html = readFileSync(path, "utf8");
    writeFileSync(changed, html.replace("</body>", '<script>document.title = "changed"</script></body>'));
    await page.goto(`file://${changed}`);
    await settle();
    expect(await page.title()).toBe("Carts, data of 2026-11-20");
    expect(await said(page.locator("main"))).toContain("Which circuit");
  });

  test("nothing can be asked of the network", async () => {
    faults.length = 0;
    const refused = page.evaluate(() => fetch("https://example.invalid/").then(() => "sent"));
    await expect(refused).rejects.toThrow();
    expect(faults.join("\n")).toMatch(/Content Security Policy/);
  });
});
