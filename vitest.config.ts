import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    include: ["tests/**/*.test.{ts,tsx}"],
    reporters: ["default", "./tests/support/closing-line.ts"],
    globalSetup: ["./tests/support/unpack-browser.ts"],
    testTimeout: 60_000,
    hookTimeout: 120_000,
  },
});
