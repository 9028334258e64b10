import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    include: ["tests/**/*.test.{ts,tsx}"],
    reporters: ["default", "./tests/support/closing-line.ts"],
    globalSetup: ["./tests/support/unpack-browser.ts"],
    // Left to itself one processor would stay idle, which doubles the time on two.
    maxWorkers: "100%",
    testTimeout: 60_000,
    hookTimeout: 120_000,
  },
});
