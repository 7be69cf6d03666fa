/**
 * The messaging edge where several processes share one database: an update is acknowledged once it is put
 * down, and dealt with by whichever process takes its chat in hand; notes are heard by any pair of ears.
 */
import type { HeldArrival, NoteJob, NoteLimits, NoteResult, WorkStore } from "../logbook/index.js";
import type { NoteTrouble } from "../speech/index.js";
import { type Arrival, readUpdate } from "./arrival.js";
import type { ChatIds } from "./chat-ids.js";
import type { ChatLogger } from "./chat-logger.js";
import type { Clock } from "./clock.js";
import { createLeases, type Leases } from "./leases.js";
import type { MessengerCalls } from "./messenger-calls.js";
import type { Metrics } from "./metrics.js";
import type { Outbox, SendHold } from "./outbox.js";
import { createSharedChats } from "./shared-chats.js";
import { hearShared } from "./shared-ears.js";
import { type ArrivalDeps, keepNote, noteRefused } from "./take-arrival.js";
import type { Hear } from "./terminal.js";

export interface WorkSharing {
  readonly work: WorkStore;
  /** Names this process in the database. */
  readonly worker: string;
  /** `hands` take updates and send replies, `ears` hear voice notes. */
  readonly role: "all" | "hands" | "ears";
  /** After so long without a sign of life another process goes on, ms. */
  readonly leaseMs?: number;
  /** Chats in hand at once. */
  readonly atOnce?: number;
  /** Notes heard at once: the threads of the recogniser. */
  readonly notesAtOnce?: number;
  /** How often work is looked for that nobody has in hand, ms. */
  readonly lookEveryMs?: number;
  readonly noteLimits?: NoteLimits;
}

/** Longer than a pause of the process or the database that is no death. Common practice, no source; 5 to 60 s. */
const LEASE_MS = 15_000;
/** Common practice, no source: 4 to 64, by the connections of the database. */
const AT_ONCE = 16;
const LOOK_EVERY_MS = 1000;
const LOOK_FOR_NOTES_MS = 250;
/** Common practice, no source: a smith at the anvil says no more than a few in a row. */
const NOTE_LIMITS: NoteLimits = { inChat: 5, inAll: 200 };
/** No ears took it up for so long: its sender is told, s. Common practice, no source; 2 to 30 min. */
const GIVE_UP_NOTES_S = 600;
/** As in a single process: a note may be worked at for its own length, and so long at least, s. */
const LEAST_PATIENCE_S = 2;

export interface SharedEdgeDeps {
  readonly sharing: WorkSharing;
  readonly leases: Leases;
  readonly ids: ChatIds;
  readonly arrivals: ArrivalDeps;
  /** Deals with one update until it is committed. */
  readonly take: (raw: unknown, more?: Partial<ArrivalDeps>) => Promise<void>;
  readonly calls: Pick<MessengerCalls, "hearNote">;
  readonly hear?: Hear;
  readonly clock: Clock;
  readonly now: () => string;
  readonly logger: ChatLogger;
  readonly metrics: Metrics;
  readonly signal: AbortSignal;
}

export interface SharedEdge {
  /** Resolves once the update is durable. */
  onUpdate(raw: unknown): Promise<void>;
  /** Calls `answer` with this chat in hand, unless another has it. */
  within(chatId: string, answer: () => Promise<unknown>): Promise<void>;
  /** Runs until the signal aborts and what was in flight has ended. `outbox`: the replies of this process. */
  run(outbox: Outbox): Promise<void>;
}

export function leasesOf(sharing: WorkSharing, clock: Clock, logger: ChatLogger): Leases {
  const { work, worker, leaseMs = LEASE_MS } = sharing;
  return createLeases({ work, worker, leaseMs, clock, logger });
}

/** A chat's replies are sent under a lease of their own, so that a slow send holds up no message. */
export function sendHold({ work, worker }: WorkSharing, leases: Leases, clock: Clock): SendHold {
  return {
    async take(chatId) {
      const askedMs = clock.nowMs();
      const mine = await work.takeSending(chatId, worker);
      if (mine) leases.given("send", chatId, askedMs);
      return mine;
    },
    holds: (chatId) => leases.holds("send", chatId),
    async letGo(chatId) {
      leases.gone("send", chatId);
      await work.letGo("send", chatId, worker);
    },
  };
}

export function createSharedEdge(deps: SharedEdgeDeps): SharedEdge {
  const { sharing, leases, clock, logger, metrics, signal, ids } = deps;
  const { work, worker, role, leaseMs = LEASE_MS } = sharing;
  let kick: Outbox["kick"] = () => undefined;

  async function take(held: HeldArrival): Promise<boolean> {
    const raw: unknown = JSON.parse(held.body);
    const arrival = readUpdate(raw);
    if (arrival.kind !== "nothing") ids.learn(held.chatId, arrival.chatId);
    const { heard } = held;
    let replies = false;
    await deps.take(raw, {
      kick: () => {
        replies = true;
      },
      ...(heard === undefined ? {} : { hearNote: async () => wordsOf(heard) }),
    });
    // Held already: they are sent in turn.
    if (replies && leases.holds("send", held.chatId)) kick(held.chatId);
    return replies;
  }

  const chats = createSharedChats({
    work,
    worker,
    leases,
    limits: sharing.noteLimits ?? NOTE_LIMITS,
    take,
    send: (chatId) => kick(chatId, "held"),
    async alsoLook() {
      const line = { text: "Listening…" };
      for (const chatId of await work.slowNotes(LEAST_PATIENCE_S)) {
        await deps.arrivals.say(chatId, line);
      }
      if ((await work.giveUpNotes(GIVE_UP_NOTES_S)) > 0) logger.warn({}, "no ears take up notes");
    },
    atOnce: sharing.atOnce ?? AT_ONCE,
    lookEveryMs: sharing.lookEveryMs ?? LOOK_EVERY_MS,
    clock,
    logger,
    signal,
  });

  async function hearJob(job: NoteJob): Promise<NoteResult> {
    const arrival = readUpdate(JSON.parse(job.body));
    if (arrival.kind !== "voice" || !deps.hear) return FAILED;
    const who = {
      chatId: job.chatId,
      smithId: arrival.from.id,
      sentAt: arrival.sentAt ?? deps.now(),
    };
    const own = { ...arrival, wireId: arrival.chatId };
    try {
      return await deps.calls.hearNote(deps.hear, arrival.fileId, who, (file) =>
        keepNote(file, own, deps.arrivals),
      );
    } catch {
      return FAILED;
    }
  }

  const ears = (): Promise<void> =>
    role === "hands" || !deps.hear
      ? Promise.resolve()
      : hearShared({
          work,
          worker,
          hear: hearJob,
          heard: chats.wake,
          atOnce: sharing.notesAtOnce ?? 1,
          lookEveryMs: LOOK_FOR_NOTES_MS,
          leaseMs,
          clock,
          logger,
          metrics,
          signal,
        });

  return {
    async onUpdate(raw) {
      const arrival = readUpdate(raw);
      if (arrival.kind === "nothing") return;
      if (arrival.kind === "moved") return deps.take(raw);
      const put = await chats.put({
        wireChatId: arrival.chatId,
        isPrivate: arrival.isPrivate,
        fromId: arrival.from.id,
        updateId: updateIdOf(raw),
        body: JSON.stringify(raw),
        ...noteOf(arrival),
      });
      ids.learn(put.chatId, arrival.chatId);
      // Of people who were not let in nothing is put down; the door answers them.
      if (!put.known) await deps.take(raw);
    },
    async within(chatId, answer) {
      const askedMs = clock.nowMs();
      if (!(await work.hold(chatId, worker))) return;
      leases.given("take", chatId, askedMs);
      try {
        await answer();
      } finally {
        leases.gone("take", chatId);
        await work.letGo("take", chatId, worker);
      }
    },
    async run(outbox) {
      kick = outbox.kick;
      const ended = new AbortController();
      const keeping = leases.keep(ended.signal);
      const hands = role === "ears" ? Promise.resolve() : chats.run().then(() => outbox.idle());
      await Promise.all([hands, ears()]);
      ended.abort();
      await keeping;
      await work.letAllGo(worker).catch(() => undefined);
    },
  };
}

const FAILED: NoteResult = { text: "", confidence: 0, trouble: "failed" };

function wordsOf({ trouble, ...words }: NoteResult): Awaited<ReturnType<Hear>> {
  return trouble === undefined ? words : { ...words, trouble: trouble as NoteTrouble };
}

/** `readUpdate` has found the number to be one. */
const updateIdOf = (raw: unknown): number => (raw as { update_id: number }).update_id;

function noteOf(arrival: Arrival): { note?: { durationS: number } } {
  if (arrival.kind !== "voice" || noteRefused(arrival)) return {};
  return { note: { durationS: arrival.durationS ?? 0 } };
}
