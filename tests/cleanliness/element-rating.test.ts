// What counts of an element below the sizes that it is rated at. F-F-351F: of an element whose absolute size, β = 75, is 25 µm,
// the mean, β = 2, is 10 µm; others in proportion, and log β straight between the two (from memory).
import { describe, expect, test } from "vitest";
import { betasOfRating, withMeanBelow } from "../../src/cleanliness/index.js";
import { parseCartsFile } from "../../src/intake/index.js";

describe("a ratio at one size is worth no less than none at all", () => {
  test.each([
    [25, 75, 10],
    [10, 75, 4],
    [10, 1000, 4],
    [6, 100, 2.4],
    // Halfway between ln 2 and ln 75: 10 = A (0.4 + 0.3), and the mean is 0.4 A.
    [10, Math.sqrt(150), 5.71],
  ])("β%d(c) = %d has its mean at %d µm(c)", (sizeUmC, beta, mean) => {
    const { betas, assumptions } = withMeanBelow("return", [{ sizeUmC, beta }]);
    expect(betas).toEqual([
      { sizeUmC: mean, beta: 2 },
      { sizeUmC, beta },
    ]);
    expect(assumptions).toEqual([
      expect.objectContaining({
        code: "element-below-its-rating",
        message: expect.stringContaining(`stated below ${sizeUmC} µm(c): β${mean}(c) = 2 was taken`),
      }),
    ]);
  });

  test.each([
    [[{ sizeUmC: 4, beta: 20 }]],
    [[{ sizeUmC: 10, beta: 2 }]],
    [[{ sizeUmC: 10, beta: 1.5 }]],
    [[{ sizeUmC: 10, beta: 2.0001 }]],
    [
      [
        { sizeUmC: 14, beta: 1000 },
        { sizeUmC: 4, beta: 2 },
      ],
    ],
  ])("%j stays as it is", (betas) => {
    expect(withMeanBelow("return", betas)).toEqual({ betas, assumptions: [] });
  });

  test("it agrees with the words of the same meaning", () => {
    const { betas } = betasOfRating("return", "10 µm (c) absolute") ?? {};
    expect(withMeanBelow("return", [{ sizeUmC: 10, beta: 75 }]).betas).toEqual(betas);
  });
});

test("it counts for an element that cleans, not for one on the way to an aircraft", () => {
  const element = { position: "pressure", betas: [{ sizeUmC: 10, beta: 1000 }] };
  const circuit = {
    ...{ circuit: "main", serves: "main system", fluid: "MIL-PRF-83282", volume: "60 L", flow: "45 L/min" },
    ...{ element, delivery: { flow: "20 L/min", element } },
  };
  const { carts } = parseCartsFile(
    "carts.json",
    JSON.stringify({ carts: [{ cart: "C-1", circuits: [circuit] }] }),
  );
  const [read] = carts[0]?.circuits ?? [];
  expect(read?.element.betas).toEqual([{ sizeUmC: 4, beta: 2 }, ...element.betas]);
  expect(read?.delivery?.element).toEqual(element);
});
