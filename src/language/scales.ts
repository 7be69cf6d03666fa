/** A figure that is a temperature, in °C. */
import { celsiusFromFahrenheit } from "../units/index.js";
import type { ReadingContext } from "./context.js";
import { TEMP_TO_C, TEMP_TO_F } from "./heat-number.js";
import type { Fig } from "./parts.js";

/** Bare figures and `degrees` are °C, or °F where the chat says so or an inch chat has 1300 to 2400. */
export function fahrenheit(fig: Fig, context: ReadingContext): number {
  if (fig.q.unit !== undefined && fig.dimension === "temperature") return fig.value;
  const inFahrenheit =
    context.temperatureUnits === "f" ||
    (context.units === "inch" && fig.value > TEMP_TO_C && fig.value <= TEMP_TO_F);
  return inFahrenheit ? celsiusFromFahrenheit(fig.value) : fig.value;
}
