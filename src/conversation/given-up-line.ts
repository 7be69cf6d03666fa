/** What is said of an ingot that came to an end without a blade. */
import { type Decision, type Fact, givenUp, type IngotState } from "../logbook/index.js";
import type { ChatUnits } from "../units/index.js";
import { RANK, type RankedLine } from "./lines.js";
import { heatsDone } from "./plan-for.js";
import { counted, ingotExample } from "./words.js";

export const gaveUp = (fact: Fact | undefined, name: string): boolean =>
  fact?.kind === "note" && givenUp(fact.note, [name]) !== undefined;

/** Where more is wanted of one that was given up. */
export const givenUpText = ({ name }: IngotState): string =>
  `Ingot ${name} was given up. Say: new ingot, or undo`;

/** When this message gave it up. */
export function givenUpLines({ gaveUp: state }: Decision, units: ChatUnits): RankedLine[] {
  if (state === undefined) return [];
  const parts = [counted(heatsDone(state), "heat"), counted(state.cracks.length, "crack")];
  return [
    { rank: RANK.next, text: `Ingot ${state.name} is given up: ${parts.join(" · ")}`, bold: true },
    { rank: RANK.aside, text: `Undo takes it back. Or say: new ingot ${ingotExample(units)}` },
  ];
}
