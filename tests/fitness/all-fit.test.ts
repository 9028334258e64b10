import { describe, expect, test } from "vitest";
import { isAllFit, type Judged, separateFit } from "../../src/fitness/index.js";

function circuit(name: string, verdict: string, held = false): Judged & { readonly name: string } {
  const standing = held ? { standing: { held, stands: "resample", computed: verdict, decisions: [] } } : {};
  return { name, verdict: { verdict }, ...standing } as unknown as Judged & { readonly name: string };
}

const names = (circuits: readonly { readonly name: string }[]) => circuits.map(({ name }) => name);

test("what a person holds is not fit whatever was computed, and comes first; the rest keeps its order", () => {
  const { fit, notFit } = separateFit([
    circuit("a", "circulate"),
    circuit("b", "fit"),
    circuit("c", "fit", true),
    circuit("d", "do-not-connect"),
  ]);
  expect(names(fit)).toEqual(["b"]);
  expect(names(notFit)).toEqual(["c", "a", "d"]);
});

describe("all is fit", () => {
  test.each([
    ["with every circuit fit and nothing open", ["fit", "fit"], [[], []], true],
    ["not with one circuit that is not", ["fit", "resample"], [[], []], false],
    ["not with something open in any list", ["fit"], [[], ["a row"]], false],
  ] as const)("%s", (_, stands, open, all) => {
    expect(isAllFit(stands, ...open)).toBe(all);
  });
});
