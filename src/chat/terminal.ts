/** The bot as a conversation in a terminal or a pipe: one line in, one reply out. */
import { createInterface } from "node:readline";
import type { Readable, Writable } from "node:stream";
import { type Handler, twoWays } from "../conversation/index.js";
import type { Incoming, LogStore, Reply } from "../logbook/index.js";
import { type NoteTrouble, troubleLine } from "../speech/index.js";
import { onlyAsks } from "./asking-codes.js";
import type { Render, SentFile } from "./attached.js";
import { LINE_LIMIT, type Line, readLines } from "./line-reader.js";
import { plainWords } from "./plain-words.js";
import { buttonsOf, terminalPage } from "./terminal-page.js";
import { describeTrouble } from "./trouble.js";

/**
 * Turns a voice note into words. `confidence` is 0 to 1; `other` is a second way to take it, `doubtful`
 * if the two are too near to choose. Without words, `trouble` is the line that says why.
 */
export type Hear = (
  file: string,
  who: Pick<Incoming, "chatId" | "smithId" | "sentAt">,
) => Promise<{
  readonly text: string;
  readonly confidence: number;
  readonly other?: string;
  readonly doubtful?: boolean;
  readonly trouble?: NoteTrouble;
}>;

export interface TerminalOptions {
  readonly handler: Handler;
  readonly store: LogStore;
  readonly newId: () => string;
  /** The time, ISO 8601. */
  readonly now: () => string;
  readonly input: Readable & { readonly isTTY?: boolean };
  readonly output: Writable;
  readonly chatId: string;
  readonly smithId: string;
  readonly smithName?: string;
  /** True where the output shows bold. */
  readonly colour: boolean;
  readonly hear?: Hear;
  /** Makes the files that a reply carries. */
  readonly render?: Render;
  /** Keeps one and gives its path. */
  readonly save?: (file: SentFile) => Promise<string>;
}

interface OfferedButton {
  readonly replyId: string;
  readonly label: string;
  readonly code: string;
}
type Said = Pick<Incoming, "kind" | "text" | "sourceKey" | "heardConfidence">;

const PROMPT = "> ";
const WELCOME = "Tell what you did, as you would say it. “help” tells more, Ctrl-D ends.";

/** Runs until the input ends. Every reply is out before the next line is read. */
export async function runTerminal(options: TerminalOptions): Promise<void> {
  const { handler, store, output, input } = options;
  const keyboard = input.isTTY === true;
  let offered: readonly OfferedButton[] = [];
  /** Why the note at hand was not heard: it is stored without words, and this is said. */
  let lost: string | undefined;
  let closed = false;
  output.on("error", () => {
    closed = true;
  });
  const print = (text: string): Promise<void> =>
    new Promise((resolve) => {
      if (closed) resolve();
      else output.write(text, () => resolve());
    });

  async function printReplies(): Promise<number> {
    const replies = await store.unsent(100, options.chatId);
    const buttons: OfferedButton[] = [];
    for (const reply of replies) {
      const page = terminalPage(reply.body, options.colour, buttons.length + 1);
      buttons.push(...offeredBy(reply));
      await print(`${page}\n\n`);
      if (closed) break;
      await printFiles(reply);
      await store.markSent(reply.id, options.now());
    }
    if (replies.length > 0) offered = buttons;
    return replies.length;
  }

  async function printFiles({ body, chatId }: Reply): Promise<void> {
    const { render, save } = options;
    if (body.attach === undefined || render === undefined || save === undefined) return;
    try {
      const paths: string[] = [];
      for (const file of await render(body.attach, chatId)) paths.push(await save(file));
      await print(
        `${paths.length === 0 ? "Nothing to write." : `Written: ${paths.join(", ")}`}\n\n`,
      );
    } catch (error) {
      await print(`The file was not written: ${describeTrouble(error)}.\n\n`);
    }
  }

  async function understand(words: string): Promise<Said | string> {
    const pressed = pressedButton(words, offered);
    if (pressed) {
      const once = `b:${pressed.replyId}:${pressed.code}`;
      const key = onlyAsks(pressed.code) ? options.newId() : once;
      return { kind: "button", text: pressed.code, sourceKey: sourceKey(key) };
    }
    const voice = /^voice\s+(\S+|\S.*\.(?:ogg|oga|opus|wav))$/i.exec(words);
    if (voice?.[1] === undefined) {
      return { kind: "text", text: words, sourceKey: sourceKey(options.newId()) };
    }
    if (!options.hear) return "Voice is not set up here. Type what you said.";
    const { chatId, smithId, now } = options;
    const heard = await options.hear(voice[1], { chatId, smithId, sentAt: now() });
    const text = plainWords(heard.text).trim().slice(0, LINE_LIMIT);
    if (text === "") lost = troubleLine(heard.trouble ?? "silent");
    return {
      kind: "voice",
      text:
        heard.other === undefined
          ? text
          : twoWays(text, plainWords(heard.other), heard.doubtful === true),
      heardConfidence: heard.confidence,
      sourceKey: sourceKey(options.newId()),
    };
  }

  const sourceKey = (id: string): string => `terminal:${options.chatId}:${id}`;

  async function answer(words: string): Promise<void> {
    const said = await understand(words);
    if (typeof said === "string") return print(`${said}\n\n`);
    const at = options.now();
    await handler.handle({
      id: options.newId(),
      edge: "terminal",
      chatId: options.chatId,
      smithId: options.smithId,
      ...(options.smithName === undefined ? {} : { smithName: options.smithName }),
      sentAt: at,
      receivedAt: at,
      ...said,
    });
    const printed = await printReplies();
    if (lost !== undefined) await print(`${lost}\n\n`);
    else if (printed === 0 && said.kind === "button") await print("That was done already.\n\n");
    lost = undefined;
  }

  async function take(line: Line): Promise<void> {
    if (line.kind === "too-long") {
      return print(`That line is longer than ${LINE_LIMIT} characters. Send it in parts.\n\n`);
    }
    const words = plainWords(line.text).trim();
    if (words === "") return;
    if (!keyboard) await print(`${PROMPT}${words}\n`);
    try {
      await answer(words);
    } catch (error) {
      await print(`That was not answered: ${describeTrouble(error)}. Nothing logged is lost.\n\n`);
    }
  }

  await handler.resume();
  await printReplies();
  if (keyboard) await print(`${WELCOME}\n`);
  const lines = keyboard ? keyboardLines(input, output) : readLines(input);
  for await (const line of lines) {
    await take(line);
    if (closed) break;
  }
  if (keyboard) await print("\n");
}

async function* keyboardLines(input: Readable, output: Writable): AsyncGenerator<Line> {
  const reader = createInterface({ input, output, prompt: PROMPT, historySize: 200 });
  let open = true;
  reader.on("SIGINT", () => reader.close());
  reader.on("close", () => {
    open = false;
  });
  reader.prompt();
  for await (const text of reader) {
    yield text.length > LINE_LIMIT ? { kind: "too-long" } : { kind: "words", text };
    // From Node 24 a closed reader refuses to prompt; its last lines may still be on their way here.
    if (open) reader.prompt();
  }
}

function offeredBy(reply: Reply): OfferedButton[] {
  return buttonsOf(reply.body).map(({ label, code }) => ({ replyId: reply.id, label, code }));
}

/** The button meant by a digit alone or by the button's own words. */
function pressedButton(
  words: string,
  offered: readonly OfferedButton[],
): OfferedButton | undefined {
  if (/^[1-9]\d?$/.test(words)) return offered[Number(words) - 1];
  const same = words.toLowerCase();
  return offered.find((button) => button.label.toLowerCase() === same);
}
