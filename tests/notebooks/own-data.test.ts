import { join } from "node:path";
import { expect, test } from "vitest";
import { runWith } from "../support/run-notebook.js";

const FLEET = join(import.meta.dirname, "..", "support", "fleet");

/** Runs the notebook of the main job on other files. */
const run = (inputs: Record<string, unknown>) => runWith("01-is-this-cart-fit-to-connect", inputs);

test("another fleet is judged by changing the first code cell and nothing else", async () => {
  const { failure, shown } = await run({
    folder: FLEET,
    labFiles: ["samples.csv"],
    judgedOn: "2026-03-14",
    cart: "C-1",
    circuit: "2",
  });
  expect(failure?.message).toBeUndefined();
  expect(shown.get("answer")).toContain("C-1, circuit 2: do not connect, because circulating through");
  expect(shown.get("plan")).toContain('The verdict is "do not connect". That comes first');
  expect(shown.get("hand")).toContain("There is nothing to work by hand for this circuit.");
});

test("a circuit without a sample is told to draw one, and every cell still runs", async () => {
  const { failure, shown } = await run({
    folder: FLEET,
    labFiles: ["clean.csv"],
    judgedOn: "2026-03-14",
    cart: "C-1",
    circuit: "2",
  });
  expect(failure?.message).toBeUndefined();
  expect(shown.get("answer")).toContain("draw a new sample, because no sample of this circuit was given");
});

test("a cart that is not in the carts file stops at the answer, with its name", async () => {
  const { failure } = await run({
    folder: FLEET,
    labFiles: ["clean.csv"],
    judgedOn: "2026-03-14",
    cart: "C-9",
    circuit: "1",
  });
  expect(failure?.cell.id).toBe("answer");
  expect(failure?.message).toContain("the carts file has no cart C-9 with a circuit 1");
});
