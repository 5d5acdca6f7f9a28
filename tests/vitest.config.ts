import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    include: ["tests/**/*.test.ts"],
    // Every core: much of the time is spent waiting for programs that the tests start.
    maxWorkers: "100%",
    // Whole runs print a PDF through a browser; statistics over many simulated surveys take a while on two cores.
    testTimeout: 120_000,
    hookTimeout: 240_000,
    reporters: ["default", "./tests/setup/closing-line.ts"],
  },
});
