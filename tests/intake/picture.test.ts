import { readFile } from "node:fs/promises";
import { expect, test } from "vitest";
import { drawIntake } from "../../docs/making/intake-picture.js";

test("the picture in docs/intake.md shows what becomes of its rows now", async () => {
  const drawn = await readFile("docs/pictures/intake-rows.svg", "utf8");
  expect(drawn, "npm run pictures draws it anew").toBe(await drawIntake());
});
