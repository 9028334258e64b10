import { defineConfig } from "vitest/config";
import tests from "./rooms.json" with { type: "json" };

const room = process.env.ROOM as keyof typeof tests;

export default defineConfig({
  test: {
    include: tests[room],
    setupFiles: ["tests/mutants/leave-out-slow.ts"],
    testTimeout: 60_000,
  },
});
