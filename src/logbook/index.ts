/** The log: kinds of entry, deciding, folding. */
export * from "./contract.js";
export * from "./entry.js";
export * from "./log-store.js";
export * from "./reading.js";
