/** Press and hammer. */
import { knFromBarAndBore } from "../units/index.js";
import type { ReadingContext } from "./context.js";
import { type Body, isLength, type Ledger, mm, put } from "./ledger.js";
import type { Fig } from "./parts.js";

/** The one entry that holds what a message says about the shop. */
export const settingOf = (ledger: Ledger): Body => {
  const found = ledger.bodies.find((body) => body.kind === "setting");
  if (found) return found;
  const made: Body = { kind: "setting" };
  ledger.bodies.push(made);
  return made;
};

/** Force of a press (said, or from pressure and bore), weight of a hammer. */
export function shopFigure(
  fig: Fig,
  about: string,
  ledger: Ledger,
  context: ReadingContext,
): boolean {
  const setting = settingOf(ledger);
  if (fig.dimension === "force") return put(ledger, setting, "pressKn", fig.value, fig);
  if (fig.dimension === "mass" && about === "hammer")
    return put(ledger, setting, "hammerKg", fig.value / 1000, fig);
  if (fig.dimension === "pressure") put(ledger, setting, "pressureBar", fig.value, fig);
  else if (fig.label === "bore" || (about === "press" && isLength(fig)))
    put(ledger, setting, "boreMm", mm(fig, context), fig);
  else return false;
  const { pressureBar, boreMm } = setting;
  if (typeof pressureBar === "number" && typeof boreMm === "number")
    put(ledger, setting, "pressKn", knFromBarAndBore(pressureBar, boreMm));
  return true;
}
