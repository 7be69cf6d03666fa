/** Ingot card and day sheet: data first, then words. */
export * from "./day-bounds.js";
