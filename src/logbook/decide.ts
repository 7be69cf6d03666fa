/**
 * From what a message says and what the log knows to the rows to write, or to what stands in the way.
 * Pure: ids are handed in, times come with the message.
 */

import { type Correction, correctLast } from "./correct.js";
import type { DraftOf, Fact } from "./entry.js";
import { evolve, foldIngot } from "./fold.js";
import { emptyIngot, type IngotState } from "./ingot-state.js";
import type { ChatView, Entry, Incoming, IngotName, NewEntry } from "./log-store.js";
import type { Draft } from "./reading.js";
import { takeBack } from "./take-back.js";

/** What stands in the way of recording something, as data; worded by the conversation. */
export type Issue =
  | { readonly code: "no-such-ingot"; readonly name: string; readonly rest: readonly Draft[] }
  | { readonly code: "nothing-to-undo" }
  | {
      readonly code: "nothing-to-correct";
      readonly from?: number | string;
      readonly to?: number | string;
    }
  | { readonly code: "out-of-range"; readonly field: string; readonly value: number | string };

export interface DecideInput {
  readonly message: Incoming;
  readonly drafts: readonly Draft[];
  readonly view: ChatView;
  /** All rows of the ingot in hand, and of ingots the message names, by ingot id. */
  readonly logs: ReadonlyMap<string, readonly Entry[]>;
  /** States of those ingots that are folded already. */
  readonly folded?: ReadonlyMap<string, IngotState>;
  /** Ingots the message names, by the name as said. */
  readonly named: ReadonlyMap<string, IngotName>;
  /** For an edited message: the rows of what it said before. */
  readonly edited: readonly Entry[];
  /** Rows that standing entries of the last turns took the place of, by id. */
  readonly replaced: ReadonlyMap<string, Entry>;
  readonly newId: () => string;
}

export interface Decision {
  readonly entries: readonly NewEntry[];
  readonly takeBacks: readonly { readonly entryId: string; readonly by: string }[];
  /** Ingot in hand after this message. */
  readonly inHand?: string;
  /** Its state after this message. */
  readonly state?: IngotState;
  /** Name of an ingot opened by this message, and whether the name was ours. */
  readonly opened?: { readonly name: string; readonly implied: boolean };
  readonly switchedTo?: string;
  readonly questions: readonly AskedOf[];
  readonly corrections: readonly Correction[];
  /** What undo took back. */
  readonly undone: readonly Entry[];
  readonly issues: readonly Issue[];
}

/** A question, and the ingot that it names; else it is about the one in hand. */
export interface AskedOf {
  readonly question: DraftOf<"question">;
  readonly state?: IngotState | undefined;
}

/** The working state while the drafts of one message are gone through. */
interface Work {
  readonly entries: NewEntry[];
  readonly takeBacks: { entryId: string; by: string }[];
  readonly states: Map<string, IngotState>;
  inHand: string | undefined;
  opened: { name: string; implied: boolean } | undefined;
  switchedTo: string | undefined;
  opens: number;
  readonly questions: AskedOf[];
  readonly corrections: Correction[];
  readonly undone: Entry[];
  readonly issues: Issue[];
}

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
  return {
    entries: work.entries,
    takeBacks: work.takeBacks,
    ...(work.inHand === undefined ? {} : { inHand: work.inHand }),
    ...(state === undefined ? {} : { state }),
    ...(work.opened === undefined ? {} : { opened: work.opened }),
    ...(work.switchedTo === undefined ? {} : { switchedTo: work.switchedTo }),
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
      add(input, work, draft, body, work.inHand);
      return "go on";
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

function add(
  input: DecideInput,
  work: Work,
  draft: Draft,
  fact: Fact,
  ingotId: string | undefined,
  id: string = input.newId(),
): void {
  const { at: saidAt, ...body } = fact;
  const entry: NewEntry = {
    id,
    chatId: input.message.chatId,
    smithId: input.message.smithId,
    messageId: input.message.id,
    ...(ingotId === undefined ? {} : { ingotId }),
    kind: fact.kind,
    at: toUtc(saidAt ?? input.edited[0]?.at ?? input.message.sentAt),
    arrived: toUtc(input.message.receivedAt),
    implied: draft.implied,
    confidence: draft.confidence,
    fact: body as Fact,
  };
  const grown = ingotId === undefined ? undefined : grownBy(input, work, ingotId, entry);
  work.entries.push(entry);
  if (ingotId === undefined) return;
  if (grown === undefined) refold(input, work, ingotId);
  else work.states.set(ingotId, grown);
}

/** The state with one row more, where that row is the latest of all: the usual case, without folding anew. */
function grownBy(
  { logs }: DecideInput,
  work: Work,
  ingotId: string,
  entry: NewEntry,
): IngotState | undefined {
  const state = work.states.get(ingotId);
  const latest = logs.get(ingotId)?.at(-1)?.at ?? "";
  const last = work.entries.findLast((each) => each.ingotId === ingotId)?.at ?? "";
  if (state === undefined || work.takeBacks.length > 0) return undefined;
  if (entry.at < latest || entry.at < last) return undefined;
  const seq = Number.MAX_SAFE_INTEGER;
  return evolve(state, { ...entry, seq, place: seq });
}

/** The state of an ingot with the rows of this message in their place. */
function refold(input: DecideInput, work: Work, ingotId: string): void {
  const taken = new Map(work.takeBacks.map(({ entryId, by }) => [entryId, by]));
  const log = (input.logs.get(ingotId) ?? []).map((entry) => {
    const takenBackBy = taken.get(entry.id);
    return takenBackBy === undefined ? entry : { ...entry, takenBackBy };
  });
  const places = new Map(log.map((entry) => [entry.id, entry.place]));
  const fresh = work.entries
    .filter((entry) => entry.ingotId === ingotId)
    .map((entry, index) => {
      const seq = Number.MAX_SAFE_INTEGER - 1000 + index;
      const place = entry.replaces === undefined ? seq : (places.get(entry.replaces) ?? seq);
      return { ...entry, seq, place };
    });
  work.states.set(ingotId, foldIngot(ingotId, [...log, ...fresh]));
}

/** An ingot that is not in hand is opened; what is more of the one in hand is added to it. */
function ingot(input: DecideInput, work: Work, draft: Draft, body: DraftOf<"ingot">): void {
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
  if (state.finish !== undefined || state.heats.length > 0 || state.piece !== undefined)
    return false;
  return fields.every((field) => body[field] === undefined || state.facts[field] === undefined);
}

function open(input: DecideInput, work: Work, body: DraftOf<"ingot">, draft: Draft): string {
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
function sizeOrIngot(input: DecideInput, work: Work, draft: Draft, body: DraftOf<"size">): void {
  const state = work.inHand === undefined ? undefined : work.states.get(work.inHand);
  const fresh =
    state === undefined || (state.heats.length === 0 && state.piece === undefined && !state.finish);
  const round = body.diameterMm !== undefined || body.heightMm !== undefined;
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
    if (work.inHand === undefined) open(input, work, asIngot, asDraft);
    else add(input, work, asDraft, asIngot, work.inHand);
    return;
  }
  add(input, work, draft, body, work.inHand ?? open(input, work, { kind: "ingot" }, draft));
}

const OTHER = /^(the )?(other|last|previous)( one| bar| ingot| piece)?$/i;

function switchTo(
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

/** The last turns without what this message has taken back already: an edit, an undo before a correction. */
function lastTurnsLeft(input: DecideInput, work: Work): ChatView["lastTurns"] {
  const taken = new Set(work.takeBacks.map(({ entryId }) => entryId));
  return input.view.lastTurns
    .map((turn) => ({ ...turn, entries: turn.entries.filter(({ id }) => !taken.has(id)) }))
    .filter(({ entries }) => entries.length > 0);
}

function undo(input: DecideInput, work: Work, count: number): void {
  const turns = lastTurnsLeft(input, work).slice(0, count);
  if (turns.length === 0) {
    work.issues.push({ code: "nothing-to-undo" });
    return;
  }
  const row = takeBackRow(input, "undo");
  work.entries.push(row);
  for (const turn of turns) {
    const { takeBacks, restored } = takeBack(turn.entries, row.id, input.replaced, input.newId);
    work.takeBacks.push(...takeBacks);
    work.entries.push(...restored);
    work.undone.push(...turn.entries);
  }
  const touched = new Set(work.undone.flatMap(({ ingotId }) => (ingotId ? [ingotId] : [])));
  for (const ingotId of touched) if (work.states.has(ingotId)) refold(input, work, ingotId);
}

function correct(input: DecideInput, work: Work, body: DraftOf<"correct">): void {
  const correction = correctLast(body, lastTurnsLeft(input, work), input.named);
  if (correction === undefined) {
    work.issues.push({
      code: "nothing-to-correct",
      ...(body.from === undefined ? {} : { from: body.from }),
      ...(body.to === undefined ? {} : { to: body.to }),
    });
    return;
  }
  if (correction.problem !== undefined) {
    work.issues.push(
      correction.problem.code === "no-such-ingot"
        ? { ...correction.problem, rest: [] }
        : correction.problem,
    );
    return;
  }
  const row = takeBackRow(input, "correct");
  work.entries.push(row);
  work.corrections.push(correction);
  const touched = new Set<string>();
  for (const { old, fact, ingotId } of correction.changes) {
    work.takeBacks.push({ entryId: old.id, by: row.id });
    const home = ingotId ?? old.ingotId;
    work.entries.push({
      id: input.newId(),
      chatId: old.chatId,
      smithId: old.smithId,
      messageId: input.message.id,
      ...(home === undefined ? {} : { ingotId: home }),
      kind: fact.kind,
      at: old.at,
      arrived: toUtc(input.message.receivedAt),
      replaces: old.id,
      implied: old.implied,
      confidence: 1,
      fact,
    });
    if (home !== undefined) touched.add(home);
    if (old.ingotId !== undefined) touched.add(old.ingotId);
    if (ingotId !== undefined) work.inHand = ingotId;
  }
  for (const ingotId of touched) if (work.states.has(ingotId)) refold(input, work, ingotId);
}

/** A row that only takes others back. */
function takeBackRow(input: DecideInput, kind: "undo" | "correct" | "edit"): NewEntry {
  return {
    id: input.newId(),
    chatId: input.message.chatId,
    smithId: input.message.smithId,
    messageId: input.message.id,
    kind,
    at: toUtc(input.message.sentAt),
    arrived: toUtc(input.message.receivedAt),
    implied: [],
    confidence: 1,
  };
}

const editedIngot = (input: DecideInput): string | undefined =>
  input.edited.find((entry) => entry.ingotId !== undefined)?.ingotId;

function takeBackEdited(input: DecideInput, work: Work): void {
  const row = takeBackRow(input, "edit");
  work.entries.push(row);
  for (const entry of input.edited) {
    if (entry.takenBackBy === undefined && entry.fact !== undefined) {
      work.takeBacks.push({ entryId: entry.id, by: row.id });
    }
  }
  for (const ingotId of new Set(input.edited.flatMap((entry) => entry.ingotId ?? []))) {
    if (work.states.has(ingotId)) refold(input, work, ingotId);
  }
}

/** What an edit says stands where the first words stood, in their order. */
function keepPlaces(input: DecideInput, work: Work): void {
  const old = input.edited.filter(({ takenBackBy, fact }) => takenBackBy === undefined && fact);
  let index = 0;
  for (const [position, entry] of work.entries.entries()) {
    if (entry.fact === undefined) continue;
    const replaced = old[Math.min(index, old.length - 1)];
    index += 1;
    if (replaced !== undefined) work.entries[position] = { ...entry, replaces: replaced.id };
  }
  for (const ingotId of work.states.keys()) {
    if (work.entries.some((entry) => entry.ingotId === ingotId)) refold(input, work, ingotId);
  }
}

const toUtc = (iso: string): string => new Date(iso).toISOString();
