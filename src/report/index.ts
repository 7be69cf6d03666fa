/** Ingot card and day sheet: data first, then words; tables for export. */
export * from "./as-of.js";
export * from "./card-picture.js";
export * from "./card-stages.js";
export * from "./card-words.js";
export * from "./csv.js";
export * from "./day-bounds.js";
export * from "./day-sheet.js";
export * from "./day-words.js";
export * from "./drawing.js";
export * from "./export-rows.js";
export * from "./fire-time.js";
export * from "./ingot-card.js";
export * from "./labels.js";
export * from "./learned-words.js";
export * from "./lines.js";
export * from "./mass-bar.js";
export { FONT_FAMILY, toSvg } from "./svg.js";
export * from "./text-width.js";
