/** A note goes to the ingot in hand; one that gives up another ingot by its name goes to that one. */
import { add, type Work } from "./decide-work.js";
import type { DecideInput } from "./decision.js";
import type { DraftOf } from "./entry.js";
import { givenUp } from "./given-up.js";
import type { Draft } from "./reading.js";

export function note(
  input: DecideInput,
  work: Work,
  draft: Draft,
  body: DraftOf<"note">,
  rest: readonly Draft[],
): "stop" | "go on" {
  const ends = givenUp(
    body.note,
    input.view.ingots.map(({ name }) => name),
  );
  const name = ends?.name;
  const named = name === undefined ? undefined : input.named.get(name.toLowerCase());
  if (name !== undefined && named === undefined) {
    // Which ingot is asked; the words must then mean the one that is chosen.
    const again = { ...draft, body: { ...body, note: `given up on this ingot, ${body.note}` } };
    work.issues.push({ code: "no-such-ingot", name, rest: [again, ...rest] });
    return "stop";
  }
  const ingotId = named?.ingotId ?? work.inHand;
  add(input, work, draft, body, ingotId);
  if (ends !== undefined && ingotId !== undefined) work.gaveUp = ingotId;
  return "go on";
}
