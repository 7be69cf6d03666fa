/** Which ingot a fact belongs to: the one in hand, one that is named, or one that is opened by it. */
import { add, type Work } from "./decide-work.js";
import type { DecideInput } from "./decision.js";
import type { DraftOf } from "./entry.js";
import { emptyIngot, type IngotState, isEnded } from "./ingot-state.js";
import type { Draft } from "./reading.js";

/** An ingot that is not in hand is opened; what is more of the one in hand is added to it. */
export function ingot(input: DecideInput, work: Work, draft: Draft, body: DraftOf<"ingot">): void {
  const known = body.name === undefined ? undefined : input.named.get(body.name.toLowerCase());
  const target = known?.ingotId ?? work.inHand;
  const state = target === undefined ? undefined : work.states.get(target);
  if (target !== undefined && state !== undefined && !known?.finished && belongs(state, body)) {
    const { name: _name, ...facts } = body;
    work.inHand = target;
    add(input, work, draft, known === undefined ? body : { ...facts }, target);
    return;
  }
  open(input, work, body, draft);
}

/** Whether the facts go with this ingot: nothing said twice differently, no forging yet, same name. */
function belongs(state: IngotState, body: DraftOf<"ingot">): boolean {
  if (body.name !== undefined && state.name.toLowerCase() !== body.name.toLowerCase()) return false;
  const fields = ["shape", "diameterMm", "bottomDiameterMm", "heightMm", "massG", "melt"] as const;
  const saysBody = fields.some((field) => body[field] !== undefined);
  const saysDetail =
    body.carbonPct !== undefined ||
    body.pipeDepthMm !== undefined ||
    body.pipeDiameterMm !== undefined;
  if (!saysBody) return saysDetail || body.name !== undefined;
  // `it's a puck`, said later: of this one.
  const said = fields.filter((field) => body[field] !== undefined);
  if (said.length === 1 && said[0] === "shape" && !isEnded(state)) return true;
  if (isEnded(state) || state.heats.length > 0 || state.piece !== undefined) return false;
  return fields.every((field) => body[field] === undefined || state.facts[field] === undefined);
}

export function open(input: DecideInput, work: Work, body: DraftOf<"ingot">, draft: Draft): string {
  const id = input.newId();
  work.opens += 1;
  const implied = body.name === undefined;
  const taken = body.name !== undefined && input.named.has(body.name.toLowerCase());
  const number = String(input.view.ingotsOpened + work.opens);
  const name = body.name === undefined ? number : taken ? `${body.name} ${number}` : body.name;
  work.inHand = id;
  work.states.set(id, emptyIngot(id));
  work.opened = { name, implied: implied || taken };
  const impliedFields = implied ? [...draft.implied, "name"] : draft.implied;
  add(input, work, { ...draft, implied: impliedFields }, { ...body, name }, id, id);
  return id;
}

/** Sizes of a fresh ingot said without the word are its own: `64 across 30 high, 450 g`. */
export function sizeOrIngot(
  input: DecideInput,
  work: Work,
  draft: Draft,
  body: DraftOf<"size">,
): void {
  const state = work.inHand === undefined ? undefined : work.states.get(work.inHand);
  const round = body.diameterMm !== undefined || body.heightMm !== undefined;
  const gone = state?.givenUp !== undefined;
  const fresh =
    state === undefined ||
    (gone && round) ||
    (state.heats.length === 0 && state.piece === undefined && !state.finish);
  const barLike = body.lengthMm !== undefined || body.thicknessMm !== undefined;
  const onlyMass = !round && !barLike && body.widthMm === undefined;
  if (fresh && body.shape === undefined && !barLike && (round || onlyMass)) {
    const { kind: _kind, shape: _shape, widthMm: _width, ...facts } = body;
    const asIngot: DraftOf<"ingot"> = {
      kind: "ingot",
      ...(facts.at === undefined ? {} : { at: facts.at }),
      ...(facts.approx === undefined ? {} : { approx: facts.approx }),
      ...(facts.diameterMm === undefined ? {} : { diameterMm: facts.diameterMm }),
      ...(facts.heightMm === undefined ? {} : { heightMm: facts.heightMm }),
      ...(facts.massG === undefined ? {} : { massG: facts.massG }),
    };
    const asDraft = { ...draft, body: asIngot, implied: [...draft.implied, "kind"] };
    if (work.inHand === undefined || (round && gone)) open(input, work, asIngot, asDraft);
    else add(input, work, asDraft, asIngot, work.inHand);
    return;
  }
  add(input, work, draft, body, work.inHand ?? open(input, work, { kind: "ingot" }, draft));
}

const OTHER = /^(the )?(other|last|previous)( one| bar| ingot| piece)?$/i;

export function switchTo(
  input: DecideInput,
  work: Work,
  draft: Draft,
  body: DraftOf<"switch">,
  rest: readonly Draft[],
): "stop" | "go on" {
  const known = OTHER.test(body.ingot)
    ? input.view.ingots.find(({ ingotId }) => ingotId === input.view.previousInHand)
    : input.named.get(body.ingot.toLowerCase());
  if (known === undefined) {
    work.issues.push({ code: "no-such-ingot", name: body.ingot, rest });
    return "stop";
  }
  work.inHand = known.ingotId;
  work.switchedTo = known.name;
  add(input, work, draft, { ...body, ingot: known.name }, known.ingotId);
  return "go on";
}
