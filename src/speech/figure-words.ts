/** Every word that a figure of any kind may be said with. */
import { FIGURE_KINDS, spreadOf } from "./figure-kinds.js";
import { formsAlone } from "./number-forms.js";

export function spokenWords(): ReadonlySet<string> {
  const values = new Set<number>();
  for (const units of ["mm", "inch"] as const) {
    const context = { now: "2000-01-01T00:00:00Z", timezone: "UTC", units };
    for (const kind of FIGURE_KINDS)
      for (const value of spreadOf(kind, context).values) values.add(value);
  }
  const words = new Set<string>();
  for (const value of values)
    for (const form of formsAlone(value)) for (const word of form.words.split(" ")) words.add(word);
  return words;
}
