/** A figure with its unit and its dimension, for a button: figures first. */
import { type ChatUnits, fahrenheitFromCelsius, formatLength } from "../units/index.js";
import type { ReadingContext } from "./context.js";

const NAMES: Readonly<Record<string, string>> = {
  thicknessMm: "thick",
  widthMm: "wide",
  lengthMm: "long",
  diameterMm: "across",
  heightMm: "high",
  depthMm: "deep",
  positionMm: "from the tang",
};

export function figureLabel(field: string, value: number, context: ReadingContext): string {
  if (field === "temperatureC")
    return context.temperatureUnits === "f"
      ? `${Math.round(fahrenheitFromCelsius(value))} °F`
      : `${Math.round(value)} °C`;
  if (field === "massG") return `${Math.round(value * 10) / 10} g`;
  const units: ChatUnits = { length: context.units, temperature: "c" };
  return `${formatLength(value, units)} ${NAMES[field] ?? ""}`.trim();
}
