import { defineConfig } from "vitest/config";

// A long run: a night when nothing else is required.
process.env.SILTBOOK_FUZZ_SECONDS ??= String(8 * 60 * 60);
const seconds = Number(process.env.SILTBOOK_FUZZ_SECONDS);

export default defineConfig({
  test: {
    include: ["tests/fuzz/**/*.test.ts"],
    fileParallelism: false,
    testTimeout: 600_000 + 2000 * seconds,
  },
});
