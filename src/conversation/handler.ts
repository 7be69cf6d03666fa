/** One handler for all edges: an incoming message in; entries, reply and question written in one turn. */
import { type ReadingContext, read } from "../language/index.js";
import {
  type ChatView,
  type Draft,
  decide,
  type Entry,
  foldIngot,
  foldShop,
  givenUp,
  type Incoming,
  type IngotName,
  type IngotState,
  type LogStore,
  type OpenAsk,
  type Reading,
  type ShopSettings,
  type Turn,
} from "../logbook/index.js";
import { dateIn, dayBounds, isTimezone } from "../report/index.js";
import { ChatMemory, type Taught } from "./chat-memory.js";
import { type Heard, hear } from "./hear.js";
import { readingContext } from "./known.js";
import { shopNow } from "./learned-shop.js";
import { meltEntries } from "./melt-log.js";
import type { ShopNow } from "./shop-now.js";
import { compose, failedTurn } from "./turn.js";

export interface HandlerDeps {
  readonly store: LogStore;
  /** A fresh id, at most 20 characters of [0-9a-z]. */
  readonly newId: () => string;
  /** IANA zone of chats that did not set one. */
  readonly timezone: string;
  /** Told of a message that could not be answered; the message stays in the log. */
  readonly onFailure?: (messageId: string, cause: unknown) => void;
}

export interface Handler {
  /** Stores the message, answers it, writes the turn. The same message twice is handled once. */
  handle(incoming: Incoming): Promise<void>;
  /** Answers what was stored but not yet handled when the last run ended; of one chat if given. */
  resume(chatId?: string): Promise<number>;
}

export function createHandler(deps: HandlerDeps): Handler {
  const memory = new ChatMemory();
  const { taught, melts } = memory;
  const answer = async (incoming: Incoming): Promise<void> => {
    try {
      const turn = await turnFor(deps, memory, incoming);
      await deps.store.commit(turn);
      memory.answered(incoming.chatId);
      if (changesWhatWasLearned(turn)) taught.delete(incoming.chatId);
      if (changesMelts(turn, melts.get(incoming.chatId))) melts.delete(incoming.chatId);
    } catch (cause) {
      if (!(cause instanceof TypeError || cause instanceof RangeError)) throw cause;
      deps.onFailure?.(incoming.id, cause);
      await deps.store.commit(failedTurn(incoming, deps.newId));
    }
  };
  return {
    async handle(incoming) {
      const seen = await deps.store.receive(incoming);
      if (seen === "handled") return;
      // Stored by an attempt before this one: under the id that it has in the log.
      const stored = seen === "again" ? await deps.store.unhandled() : [];
      await answer(stored.find(({ sourceKey }) => sourceKey === incoming.sourceKey) ?? incoming);
    },
    async resume(chatId) {
      const all = await deps.store.unhandled();
      const waiting = all.filter((one) => chatId === undefined || one.chatId === chatId);
      for (const incoming of waiting) await answer(incoming);
      return waiting.length;
    },
  };
}

/** Everything that the pure turn needs, fetched; then the turn. */
async function turnFor(deps: HandlerDeps, memory: ChatMemory, incoming: Incoming) {
  const { store, newId } = deps;
  const { zones, taught, melts } = memory;
  const { view, shop: said, timezone } = await chatNow(deps, zones, incoming);
  memory.check(incoming.chatId, view.messages);
  const shop = await taughtShop(store, taught, incoming.chatId, said);
  const inHandLog = await logOf(store, incoming.chatId, view.inHand);
  const state = view.inHand === undefined ? undefined : foldIngot(view.inHand, inHandLog);
  const edited =
    incoming.edits === undefined
      ? []
      : await store.entriesOfMessage(incoming.edits, incoming.chatId);
  const heard = await heardIn(store, incoming, view, (text, expects) =>
    read(text, readingContext({ now: incoming.sentAt, timezone, shop, view, state, expects })),
  );
  const known = view.ingots.map(({ name }) => name);
  const named = await namesIn(store, incoming.chatId, heard.reading.drafts, known);
  const logs = new Map<string, readonly Entry[]>();
  if (view.inHand !== undefined) logs.set(view.inHand, inHandLog);
  for (const ingotId of ingotsTouched(view, named, edited)) {
    if (!logs.has(ingotId)) logs.set(ingotId, await store.ingotLog(incoming.chatId, ingotId));
  }
  const replaced = await replacedRows(store, incoming.chatId, view, heard.reading.drafts);
  const decision = decide({
    message: incoming,
    drafts: heard.reading.drafts,
    view,
    logs,
    folded: new Map(state === undefined ? [] : [[state.ingotId, state]]),
    named,
    edited,
    replaced,
    newId,
  });
  const asks = decision.questions.map(({ question }) => question.about);
  const dayLog = asks.includes("day")
    ? await dayEntries(store, incoming, timezone, heard.file?.date)
    : undefined;
  const sheetHour = dayLog === undefined ? undefined : await store.sheetHour(incoming.chatId);
  const states = [state, ...decision.questions.map((asked) => asked.state)];
  const wantsMelts =
    states.some((each) => each?.facts.melt !== undefined) ||
    heard.reading.drafts.some(({ body }) => aboutMelts(body));
  const meltLog = wantsMelts
    ? (melts.get(incoming.chatId) ?? (await meltEntries(store, incoming.chatId, incoming.sentAt)))
    : [];
  if (wantsMelts) melts.set(incoming.chatId, meltLog);
  return compose({
    incoming,
    view,
    shop,
    timezone,
    meltLog,
    heard,
    decision,
    before: state,
    dayLog,
    sheetHour,
    newId,
  });
}

/** The shop with its own figures; reckoned anew only when a setting or the finished ingots have changed. */
async function taughtShop(
  store: LogStore,
  taught: Map<string, Taught>,
  chatId: string,
  said: ShopSettings,
): Promise<ShopNow> {
  const known = taught.get(chatId);
  const settings = JSON.stringify(said);
  if (known?.settings === settings) return known.shop;
  const finished = known?.finished ?? (await finishedStates(store, chatId));
  const shop = shopNow(said, finished);
  taught.set(chatId, { finished, settings, shop });
  return shop;
}

/** Finished ingots that the shop's own figures are learned from: the latest, so that old habits fade. */
const LEARNED_FROM = 24;

async function finishedStates(store: LogStore, chatId: string): Promise<readonly IngotState[]> {
  const names = await store.finishedIngots(chatId, LEARNED_FROM);
  const states: IngotState[] = [];
  for (const { ingotId } of names) {
    states.push(foldIngot(ingotId, await store.ingotLog(chatId, ingotId)));
  }
  return states;
}

/** A blade done, a note (it may give its ingot up), anything taken back: the ended ingots are looked at anew. */
const changesWhatWasLearned = ({ entries, takeBacks }: Turn): boolean =>
  takeBacks.length > 0 || entries.some(({ kind }) => kind === "finish" || kind === "note");

const aboutMelts = (body: Draft["body"]): boolean =>
  body.kind === "melt" ||
  (body.kind === "ingot" && body.melt !== undefined) ||
  (body.kind === "question" && (body.topic === "charge" || body.about === "day"));

const changesMelts = ({ entries, takeBacks }: Turn, known: readonly Entry[] = []): boolean =>
  entries.some(({ kind }) => kind === "melt") ||
  takeBacks.some(({ entryId }) => known.some(({ id }) => id === entryId));

/** What the shop knows before a message is read: for who must hear it first. */
export async function knownShop(
  deps: Pick<HandlerDeps, "store" | "timezone">,
  who: Pick<Incoming, "chatId" | "smithId" | "sentAt">,
): Promise<ReadingContext> {
  const { view, shop, timezone } = await chatNow(deps, new Map(), who);
  const log = await logOf(deps.store, who.chatId, view.inHand);
  const state = view.inHand === undefined ? undefined : foldIngot(view.inHand, log);
  const expects = view.ask?.answered === false ? view.ask.about : undefined;
  return readingContext({ now: who.sentAt, timezone, shop, view, state, expects });
}

async function chatNow(
  deps: Pick<HandlerDeps, "store" | "timezone">,
  zones: Map<string, string>,
  incoming: Pick<Incoming, "chatId" | "smithId" | "sentAt">,
) {
  const known = zones.get(incoming.chatId) ?? deps.timezone;
  const sinceIn = (zone: string): string => dayBounds(dateIn(incoming.sentAt, zone), zone).from;
  let view = await deps.store.view(incoming.chatId, incoming.smithId, sinceIn(known));
  const shop = foldShop(view.settings);
  const said = shop.timezone !== undefined && isTimezone(shop.timezone) ? shop.timezone : undefined;
  const timezone = said ?? deps.timezone;
  if (timezone !== known) {
    zones.set(incoming.chatId, timezone);
    view = await deps.store.view(incoming.chatId, incoming.smithId, sinceIn(timezone));
  }
  return { view, shop, timezone };
}

const logOf = async (
  store: LogStore,
  chatId: string,
  ingotId: string | undefined,
): Promise<readonly Entry[]> => (ingotId === undefined ? [] : store.ingotLog(chatId, ingotId));

/** What the message says, with the question that it answers, if it answers one. */
async function heardIn(
  store: LogStore,
  incoming: Incoming,
  view: ChatView,
  reading: (text: string, expects: string | undefined) => Reading,
): Promise<Heard> {
  const asked = /^a:([0-9a-zA-Z]{1,24}):/.exec(incoming.text)?.[1];
  const ask: OpenAsk | undefined =
    incoming.kind === "button" && asked !== undefined
      ? await store.findAsk(incoming.chatId, asked)
      : view.ask;
  return hear(incoming, ask, reading);
}

/** Ingots that the drafts name, found in the log by name. */
async function namesIn(
  store: LogStore,
  chatId: string,
  drafts: readonly Draft[],
  known: readonly string[],
): Promise<ReadonlyMap<string, IngotName>> {
  const names = drafts.flatMap(({ body }) => {
    if (body.kind === "switch") return [body.ingot];
    if (body.kind === "note") return givenUp(body.note, known)?.name ?? [];
    if (body.kind === "ingot" && body.name !== undefined) return [body.name];
    if (body.kind === "question" && body.ingot !== undefined) return [body.ingot];
    return body.kind === "correct" && body.field === "ingot" ? [String(body.to ?? "")] : [];
  });
  const found = new Map<string, IngotName>();
  for (const name of names) {
    const ingot = await store.findIngot(chatId, name);
    if (ingot !== undefined) found.set(name.toLowerCase(), ingot);
  }
  return found;
}

function ingotsTouched(
  view: ChatView,
  named: ReadonlyMap<string, IngotName>,
  edited: readonly Entry[],
): ReadonlySet<string> {
  const ids = [...named.values()].map(({ ingotId }) => ingotId);
  if (view.previousInHand !== undefined) ids.push(view.previousInHand);
  for (const entry of edited) if (entry.ingotId !== undefined) ids.push(entry.ingotId);
  for (const entry of view.lastTurns[0]?.entries ?? []) {
    if (entry.ingotId !== undefined) ids.push(entry.ingotId);
  }
  return new Set(ids);
}

/** Rows that standing entries of the last turns took the place of, for undo. */
async function replacedRows(
  store: LogStore,
  chatId: string,
  view: ChatView,
  drafts: readonly Draft[],
): Promise<ReadonlyMap<string, Entry>> {
  if (!drafts.some(({ body }) => body.kind === "undo")) return new Map();
  const ids = view.lastTurns.flatMap(({ entries }) =>
    entries.flatMap(({ replaces }) => replaces ?? []),
  );
  const rows = ids.length === 0 ? [] : await store.entriesById(chatId, ids);
  return new Map(rows.map((row) => [row.id, row]));
}

async function dayEntries(
  store: LogStore,
  incoming: Incoming,
  timezone: string,
  asked: string | undefined,
): Promise<{ date: string; entries: readonly Entry[]; states: ReadonlyMap<string, IngotState> }> {
  const date = asked ?? dateIn(incoming.sentAt, timezone);
  const { from, to } = dayBounds(date, timezone);
  const entries = await store.day(incoming.chatId, from, to);
  const states = new Map<string, IngotState>();
  for (const id of new Set(entries.flatMap(({ ingotId }) => ingotId ?? []))) {
    states.set(id, foldIngot(id, await store.ingotLog(incoming.chatId, id)));
  }
  return { date, entries, states };
}
