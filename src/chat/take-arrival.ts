/** What one arrival leads to: through the door, then to the handler; every refusal is one clear line. */
import { type Handler, twoWays } from "../conversation/index.js";
import type { AccessStore, Incoming } from "../logbook/index.js";
import { NOTE_LIMIT_S, type NoteTrouble, troubleLine } from "../speech/index.js";
import type { Arrival, Place, Sender } from "./arrival.js";
import { onlyAsks } from "./asking-codes.js";
import { decodeButton } from "./button-data.js";
import type { ChatIds } from "./chat-ids.js";
import { commandOf, type Door, type DoorLine } from "./door.js";
import type { Forgetting } from "./forgetting.js";
import { LINE_LIMIT } from "./line-reader.js";
import { editMark, isOutdated } from "./outdated.js";
import { plainWords } from "./plain-words.js";
import type { Hear } from "./terminal.js";
import type { VoiceKeeping } from "./voice-keeping.js";
import { VOICE_LIMIT_BYTES } from "./voice-note.js";

/** How long a note may be worked at before its sender is told, at least, s. Common practice, no source; 1 to 5 s. */
const LEAST_PATIENCE_S = 2;

export interface ArrivalDeps {
  readonly handler: Handler;
  readonly access: Pick<AccessStore, "editsOf" | "findReply" | "groupIsIn" | "keepsVoice">;
  readonly door: Door;
  readonly forgetting?: Forgetting;
  readonly ids: ChatIds;
  readonly newId: () => string;
  readonly now: () => string;
  readonly botName: () => string;
  /** One line beside the log, sent once and not tried again. `chatId` is the log's. */
  readonly say: (chatId: string, line: DoorLine) => Promise<void>;
  readonly sendFile: (chatId: string, name: string, text: string) => Promise<void>;
  /** Ends the waiting mark of a pressed button; `text` is shown to who pressed it. */
  readonly endPress: (queryId: string, text?: string) => Promise<void>;
  /** Fetches a voice note, hands the file to `keep` and hears it; absent where voice is not set up. */
  readonly hearNote?: (
    fileId: string,
    who: Parameters<Hear>[1],
    keep: (file: string) => Promise<void>,
  ) => ReturnType<Hear>;
  /** Where voice notes are kept if the owner wishes it. */
  readonly voices?: VoiceKeeping;
  /** There may be replies to send. */
  readonly kick: (chatId: string) => void;
}

/** `wireId` is the messenger's id of the chat: message numbers start anew when a chat moves. */
type Of<K extends Arrival["kind"]> = Extract<Arrival, { kind: K }> & { readonly wireId: string };
type Heard = Pick<Incoming, "kind" | "text" | "sourceKey" | "edits" | "heardConfidence">;

/** Resolves once all that the arrival leads to is committed. */
export async function takeArrival(arrival: Arrival, deps: ArrivalDeps): Promise<void> {
  if (arrival.kind === "nothing") return;
  if (arrival.kind === "moved") return takeMove(arrival, deps);
  const here = { ...arrival, wireId: arrival.chatId, chatId: deps.ids.toLog(arrival.chatId) };
  switch (here.kind) {
    case "press":
      return takePress(here, deps);
    case "words":
      return takeWords(here, deps);
    case "voice":
      return takeVoice(here, deps);
    case "other":
      if (await comesIn(here, deps)) {
        await deps.say(here.chatId, { text: "I keep words, not pictures. Tell me what you see." });
      }
  }
}

/** Only a group that was let in is followed: of others nothing is kept. */
async function takeMove(
  arrival: Extract<Arrival, { kind: "moved" }>,
  deps: ArrivalDeps,
): Promise<void> {
  if (!(await deps.access.groupIsIn(deps.ids.toLog(arrival.chatId)))) return;
  await deps.ids.moved(arrival.chatId, arrival.to);
}

async function comesIn(
  arrival: Place & { readonly from: Sender },
  deps: ArrivalDeps,
  text?: string,
): Promise<boolean> {
  const verdict = await deps.door.ask(arrival, arrival.from, text, deps.botName());
  if (verdict.enter) return true;
  for (const line of verdict.lines) await deps.say(arrival.chatId, line);
  return false;
}

async function takeWords(arrival: Of<"words">, deps: ArrivalDeps): Promise<void> {
  const { chatId, text } = arrival;
  const command = commandOf(text);
  const named = command?.bot?.toLowerCase();
  if (named !== undefined && named !== deps.botName().toLowerCase()) return;
  const edited = arrival.editedS !== undefined;
  if (!(await comesIn(arrival, deps, edited ? undefined : text))) return;
  if (text.length > LINE_LIMIT) {
    return deps.say(chatId, {
      text: `That is longer than ${LINE_LIMIT} characters. Send it in parts.`,
    });
  }
  if (deps.forgetting?.isAsked(text) && !edited) return forget(arrival, deps.forgetting, deps);
  const key = `messenger:${arrival.wireId}:${arrival.messageId}`;
  if (isOutdated(arrival, await deps.access.editsOf(key, chatId))) return;
  const heard: Heard = edited
    ? {
        kind: "edit",
        text,
        edits: key,
        sourceKey: `${key}${editMark(arrival)}`,
      }
    : { kind: "text", text: command ? wordsOf(command.name, command.rest) : text, sourceKey: key };
  await handle(arrival, heard, deps);
  if (arrival.caption && !edited) {
    await deps.say(chatId, { text: "I keep words, not pictures: I took the words under it." });
  }
}

/** A command is its word: `/next` is `next`; `/start` asks what there is to say. */
function wordsOf(name: string, rest: string): string {
  return name === "start" ? "help" : `${name.replace(/_/g, " ")} ${rest}`.trim();
}

async function forget(
  arrival: Of<"words">,
  forgetting: Forgetting,
  deps: ArrivalDeps,
): Promise<void> {
  const { chatId, from } = arrival;
  if (!arrival.isPrivate) {
    return deps.say(chatId, { text: "Say that to me in a private chat, not here." });
  }
  const { file, line } = await forgetting.ask(from.id, Date.parse(deps.now()));
  await deps.sendFile(chatId, "my-records.json", file);
  await deps.say(chatId, line);
}

type Note = Extract<Arrival, { kind: "voice" }>;

/** Why a note is not even fetched. */
export function noteRefused({ durationS = 0, bytes = 0 }: Note): NoteTrouble | undefined {
  if (durationS > NOTE_LIMIT_S) return "too-long";
  return bytes > VOICE_LIMIT_BYTES ? "too-big" : undefined;
}

async function takeVoice(arrival: Of<"voice">, deps: ArrivalDeps): Promise<void> {
  const { chatId } = arrival;
  if (!(await comesIn(arrival, deps))) return;
  if (!deps.hearNote) {
    return deps.say(chatId, { text: "Voice is not set up here. Type what you said." });
  }
  const refused = noteRefused(arrival);
  if (refused) return notHeard(arrival, refused, deps);
  const patience = Math.max(LEAST_PATIENCE_S, arrival.durationS ?? 0) * 1000;
  const slow = setTimeout(() => void deps.say(chatId, { text: "Listening…" }), patience);
  let words: Awaited<ReturnType<Hear>>;
  try {
    const { sentAt = deps.now() } = arrival;
    const who = { chatId, smithId: smithIdOf(arrival.from), sentAt };
    words = await deps.hearNote(arrival.fileId, who, (file) => keepNote(file, arrival, deps));
  } catch {
    return notHeard(arrival, "failed", deps);
  } finally {
    clearTimeout(slow);
  }
  const text = plainWords(words.text).trim().slice(0, LINE_LIMIT);
  if (text === "") return notHeard(arrival, words.trouble ?? "silent", deps);
  const { other, confidence } = words;
  await handle(
    arrival,
    voice(
      arrival,
      other ? twoWays(text, plainWords(other), words.doubtful === true) : text,
      confidence,
    ),
    deps,
  );
}

/** `wireId`: the messenger's id of the chat. */
export async function keepNote(
  file: string,
  arrival: Pick<Note, "from" | "messageId"> & { readonly wireId: string },
  deps: Pick<ArrivalDeps, "access" | "voices">,
): Promise<void> {
  if (!deps.voices || !(await deps.access.keepsVoice())) return;
  await deps.voices.keep(file, arrival.from.id, `${arrival.wireId}-${arrival.messageId}`);
}

const voice = (arrival: Of<"voice">, text: string, confidence: number): Heard => ({
  kind: "voice",
  text,
  heardConfidence: Math.min(1, Math.max(0, confidence)),
  sourceKey: `messenger:${arrival.wireId}:${arrival.messageId}`,
});

/** The note stays in the log without words, and its sender is told why. */
async function notHeard(
  arrival: Of<"voice">,
  trouble: NoteTrouble,
  deps: ArrivalDeps,
): Promise<void> {
  await handle(arrival, voice(arrival, "", 0), deps);
  await deps.say(arrival.chatId, { text: troubleLine(trouble) });
}

async function takePress(arrival: Of<"press">, deps: ArrivalDeps): Promise<void> {
  const { chatId, from, queryId, data } = arrival;
  const line =
    (await deps.door.press(arrival, from, data)) ??
    (await deps.forgetting?.press(from.id, data, Date.parse(deps.now())));
  if (line) {
    await deps.endPress(queryId);
    return deps.say(chatId, line);
  }
  // A press is refused where it was made, not with a line in the chat.
  const verdict = await deps.door.ask(arrival, from, undefined, deps.botName());
  if (!verdict.enter) return deps.endPress(queryId, "This is a private forge log.");
  const button = decodeButton(data);
  const reply = button && (await deps.access.findReply(button.replyId, chatId));
  if (!button || !reply || reply.chatId !== chatId || !reply.codes.includes(button.code)) {
    return deps.endPress(queryId, "That button does not work any more.");
  }
  if (reply.smithId !== smithIdOf(from)) {
    return deps.endPress(queryId, "That button answers somebody else.");
  }
  const once = `b:${button.replyId}:${button.code}`;
  const key = onlyAsks(button.code) ? `q:${queryId}` : once;
  await handle(
    arrival,
    { kind: "button", text: button.code, sourceKey: `messenger:${arrival.wireId}:${key}` },
    deps,
  );
  await deps.endPress(queryId);
}

/** The messenger's id of a person is their id in the log. */
const smithIdOf = (from: Sender): string => from.id;

async function handle(
  arrival: Place & { readonly from: Sender; readonly sentAt?: string },
  heard: Heard,
  deps: ArrivalDeps,
): Promise<void> {
  const receivedAt = deps.now();
  const { name } = arrival.from;
  await deps.handler.handle({
    id: deps.newId(),
    edge: "messenger",
    chatId: arrival.chatId,
    smithId: smithIdOf(arrival.from),
    ...(name === "" ? {} : { smithName: name }),
    sentAt: arrival.sentAt ?? receivedAt,
    receivedAt,
    ...heard,
  });
  deps.kick(arrival.chatId);
}
