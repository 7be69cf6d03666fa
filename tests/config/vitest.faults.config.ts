import { defineConfig } from "vitest/config";

/** Real processes, one file after another: the machine is shared with what is measured. */
export default defineConfig({
  test: {
    root: new URL("../..", import.meta.url).pathname,
    include: ["tests/faults/**/*.test.ts"],
    testTimeout: 900_000,
    hookTimeout: 120_000,
    fileParallelism: false,
    reporters: ["verbose"],
  },
});
