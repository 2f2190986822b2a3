import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    include: ["packages/*/src/**/*.test.{ts,tsx}", "*.test.ts", "e2e/**/*.test.ts", "docs/**/*.test.ts"],
    testTimeout: 60_000,
    hookTimeout: 120_000,
  },
});
