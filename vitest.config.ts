import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    include: ["tests/**/*.test.{ts,tsx}"],
    reporters: ["default", "./tests/support/closing-line.ts"],
    globalSetup: ["./tests/support/unpack-browser.ts"],
    // Left to itself one processor stays idle, which is half of a machine with two.
    maxWorkers: "100%",
    testTimeout: 60_000,
    hookTimeout: 120_000,
  },
});
