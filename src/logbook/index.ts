/** The log: kinds of entry, deciding, folding. */
export * from "./contract.js";
export * from "./entry.js";
export * from "./reading.js";
