import { defineConfig } from "vitest/config";

/** Named by CI, which counts tests from the report. */
const reportFile = process.env["UNDERFOOT_TEST_REPORT"];

export default defineConfig({
  test: {
    include: [
      "packages/*/src/**/*.test.{ts,tsx}",
      "*.test.ts",
      "bench/**/*.test.ts",
      "e2e/**/*.test.ts",
      "docs/**/*.test.ts",
    ],
    globalSetup: ["./e2e/shared-demo.ts"],
    testTimeout: 60_000,
    hookTimeout: 120_000,
    reporters: reportFile ? ["default", "json"] : ["default"],
    ...(reportFile ? { outputFile: { json: reportFile } } : {}),
  },
});
