/** Every word that a figure of any kind may be said with. */
import { FIGURE_KINDS, spreadOf } from "./figure-kinds.js";
import { formsAlone } from "./number-forms.js";

export function spokenWords(): ReadonlySet<string> {
  const words = new Set<string>();
  for (const units of ["mm", "inch"] as const) {
    for (const kind of FIGURE_KINDS) {
      const { values } = spreadOf(kind, { now: "2000-01-01T00:00:00Z", timezone: "UTC", units });
      for (const value of values) {
        for (const form of formsAlone(value))
          for (const word of form.words.split(" ")) words.add(word);
      }
    }
  }
  return words;
}
