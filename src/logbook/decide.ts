/**
 * From what a message says and what the log knows to the rows to write, or to what stands in the way.
 * Pure: ids are handed in, times come with the message.
 */
import { correct, editedIngot, keepPlaces, takeBackEdited, undo } from "./decide-back.js";
import { ingot, open, sizeOrIngot, switchTo } from "./decide-ingot.js";
import { note } from "./decide-note.js";
import { add, type Work } from "./decide-work.js";
import type { DecideInput, Decision } from "./decision.js";
import type { DraftOf } from "./entry.js";
import { foldIngot } from "./fold.js";
import type { Draft } from "./reading.js";

/** Goes through the drafts in the order they were said. */
export function decide(input: DecideInput): Decision {
  const states = new Map(
    [...input.logs].map(([id, log]) => [id, input.folded?.get(id) ?? foldIngot(id, log)]),
  );
  const work: Work = {
    entries: [],
    takeBacks: [],
    states,
    inHand: editedIngot(input) ?? input.view.inHand,
    opened: undefined,
    switchedTo: undefined,
    gaveUp: undefined,
    opens: 0,
    questions: [],
    corrections: [],
    undone: [],
    issues: [],
  };
  if (input.message.kind === "edit") takeBackEdited(input, work);
  for (let index = 0; index < input.drafts.length; index++) {
    const draft = input.drafts[index] as Draft;
    if (one(input, work, draft, input.drafts.slice(index + 1)) === "stop") break;
  }
  if (input.message.kind === "edit") keepPlaces(input, work);
  const state = work.inHand === undefined ? undefined : work.states.get(work.inHand);
  const gaveUp = work.gaveUp === undefined ? undefined : work.states.get(work.gaveUp);
  return {
    entries: work.entries,
    takeBacks: work.takeBacks,
    ...(work.inHand === undefined ? {} : { inHand: work.inHand }),
    ...(state === undefined ? {} : { state }),
    ...(work.opened === undefined ? {} : { opened: work.opened }),
    ...(work.switchedTo === undefined ? {} : { switchedTo: work.switchedTo }),
    ...(gaveUp === undefined ? {} : { gaveUp }),
    questions: work.questions,
    corrections: work.corrections,
    undone: work.undone,
    issues: work.issues,
  };
}

function one(
  input: DecideInput,
  work: Work,
  draft: Draft,
  rest: readonly Draft[],
): "stop" | "go on" {
  const { body } = draft;
  switch (body.kind) {
    case "question":
      return ask(input, work, body, rest);
    case "undo":
      undo(input, work, body.count ?? 1);
      return "go on";
    case "correct":
      correct(input, work, body);
      return "go on";
    case "switch":
      return switchTo(input, work, draft, body, rest);
    case "melt":
    case "setting":
      add(input, work, draft, body, undefined);
      return "go on";
    case "ingot":
      ingot(input, work, draft, body);
      return "go on";
    case "note":
      return note(input, work, draft, body, rest);
    case "size":
      sizeOrIngot(input, work, draft, body);
      return "go on";
    default:
      add(input, work, draft, body, work.inHand ?? open(input, work, { kind: "ingot" }, draft));
      return "go on";
  }
}

function ask(
  input: DecideInput,
  work: Work,
  question: DraftOf<"question">,
  rest: readonly Draft[],
): "stop" | "go on" {
  const { ingot } = question;
  if (ingot === undefined) {
    work.questions.push({ question });
    return "go on";
  }
  const known = input.named.get(ingot.toLowerCase());
  if (known === undefined) {
    const { ingot: _ingot, ...plain } = question;
    const again = { body: plain, implied: [], confidence: 1 };
    work.issues.push({ code: "no-such-ingot", name: ingot, rest: [again, ...rest] });
    return "stop";
  }
  work.questions.push({ question, state: work.states.get(known.ingotId) });
  return "go on";
}
