// What is within its limit already needs no litres, and its limit is no aim of a plan.
import { describe, expect, test } from "vitest";
import { run } from "../support/run-cli.js";

const exchange = (...more: string[]) => run("exchange", "--volume", "60 L", ...more);
const water = (present: string) =>
  exchange("--water", present, "--water-limit", "500 ppm", "--fresh-water", "150 ppm");

describe("an exchange", () => {
  test.each([
    ["300 ppm", "Water: 300 ppm by mass is within its limit of 500"],
    ["500 ppm", "Water: 500 ppm by mass is within its limit of 500"],
    ["0.05 %", "Water: 500 ppm by mass is within its limit of 500"],
  ])("of fluid with %s of water, of which 500 ppm is allowed, is not needed", async (present, says) => {
    const { out, code } = await water(present);
    expect(out).toContain(says);
    expect(out).not.toContain("one drain and fill");
    expect(code).toBe(0);
  });

  test("of fluid one ppm above its limit is needed", async () => {
    expect((await water("501 ppm")).out).toContain("Water: 501 to 400 ppm by mass, limit 500");
  });

  test("that only acid needs names water as within its limit", async () => {
    const { out } = await exchange(
      ...["--water", "300 ppm", "--water-limit", "500 ppm", "--fresh-water", "150 ppm"],
      ...["--acid", "1.8 mg KOH/g", "--acid-limit", "1.5 mg KOH/g", "--fresh-acid", "0.05 mg KOH/g"],
    );
    expect(out).toContain("Water: 300 ppm by mass is within its limit of 500");
    expect(out).toContain("Acid: 1.8 to 1.2 mg KOH/g");
  });

  test("cannot drain more than the circuit holds", async () => {
    const args = ["--water", "900 ppm", "--water-limit", "500 ppm", "--fresh-water", "150 ppm"];
    expect(await exchange(...args, "--drain", "80 L")).toMatchObject({
      code: 2,
      err: 'siltbook: --drain: expected at most the volume of the circuit, found "80 L"\n',
    });
    expect((await exchange(...args, "--drain", "60 L")).code).toBe(0);
  });
});

describe("a circulation", () => {
  const circulate = (start: string, ...more: string[]) =>
    run(
      ...["circulate", "--volume", "60 L", "--flow", "15 L/min", "--beta", "4=20 6=100 14=1000"],
      ...["--start", start, "--target", "17/15/12", ...more],
    );

  test.each([["4=1000 6=200 14=20"], ["4=1300 6=320 14=40"], ["17/15/12"]])(
    "from %s is within 17/15/12 already, and says so instead of 0 minutes",
    async (start) => {
      const { out } = await circulate(start);
      expect(out.replace(/\s+/g, " ")).toContain(
        "By the stated values alone the start is within the target already, and a verifying bottle has to show it.",
      );
      expect(out).not.toContain("0 min (0 passes)");
    },
  );

  test("from one particle above is not", async () => {
    expect((await circulate("4=1301 6=320 14=40")).out).not.toContain("within the target already");
  });

  test.each([["4=5e6 6=1e6 14=1e5"], ["4=5e+06 6=1E+06 14=1.0e+5"], ["4=5000000 6=1000000 14=100000"]])(
    "reads ingress written as %s",
    async (ingress) => {
      // (Q·e·C − G) / V with 20 000 and 1300 per mL at 4 µm(c): 13 min by hand.
      expect((await circulate("4=20000 6=5000 14=640", "--ingress", ingress)).out).toContain("13 min");
    },
  );
});
