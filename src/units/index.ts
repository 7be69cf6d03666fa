/** Exact conversions and printing for a phone. */
export * from "./exact.js";
export * from "./format.js";
export { isTimezone, offsetMinutes, wallClock } from "./zone-offset.js";
