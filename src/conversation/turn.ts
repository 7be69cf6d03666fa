/**
 * One turn, pure: what was heard and decided becomes entries, one reply and perhaps one question.
 * Everything it needs is handed in; every sentence comes from this room.
 */

import type { Incoming, NewReply, ReplyBody, StoredAsk, Turn } from "../logbook/index.js";
import { answerQuestions } from "./answers.js";
import { askFor, MISHEARD } from "./asks.js";
import { attachment } from "./attachment.js";
import { AT_THE_FIRE, askButtons, button } from "./buttons.js";
import { adviceLines } from "./forge.js";
import { givenUpLines } from "./given-up-line.js";
import { injuryLine } from "./injury.js";
import { RANK, type RankedLine, shortest } from "./lines.js";
import { meltLines } from "./melt-lines.js";
import { meltsAfter } from "./melts-now.js";
import { recordLine } from "./record-line.js";
import { safetyLine, safetyText } from "./safety.js";
import { assumed, isSetup } from "./setup.js";
import { sheetHourLines, sheetHourRow } from "./sheet-hour.js";
import type { ShopNow } from "./shop-now.js";
import { spokenLine } from "./spoken.js";
import type { TurnInput } from "./turn-input.js";
import { chatUnits } from "./units.js";
import { ingotExample, issueWords, takenBackLine, unreadLine } from "./words.js";

export function compose(input: TurnInput): Turn {
  const { incoming, decision, heard, view } = input;
  const melts = meltsAfter(input.meltLog, decision, input.timezone);
  const shop = { ...settingsAfter(input), melts };
  const units = chatUnits(shop);
  const ask = askFor({ ...input, shop });
  const lines: RankedLine[] = [];
  const long: string[] = [];

  if (view.messages === 0) lines.push(...greeting(input));
  if (decision.undone.length > 0) {
    lines.push({
      rank: RANK.readBack,
      text: takenBackLine(
        decision.undone,
        decision.entries.filter(({ replaces }) => replaces !== undefined),
        input.before,
        units,
      ),
    });
  }
  const record = recordLine(decision, units);
  if (record !== undefined) lines.push({ rank: RANK.readBack, text: record });
  lines.push(...decision.issues.map((issue) => ({ rank: RANK.issue, text: issueWords(issue) })));
  lines.push(...givenUpLines(decision, units), ...sheetHourLines(input));
  const advice = adviceLines({ decision, before: input.before, shop, units });
  lines.push(...advice);
  lines.push(...meltLines(decision, shop, units));
  const answers = answerQuestions({ ...input, shop, units });
  lines.push(...answers.lines);
  long.push(...answers.long);
  const hurt = injuryLine(incoming.text);
  if (hurt !== undefined) lines.unshift({ rank: RANK.readBack, text: hurt, bold: true });
  else if (heard.reading.unread.length > 0) {
    lines.push({ rank: RANK.unread, text: unreadLine(heard.reading.unread) });
  }
  if (heard.wants === "stale") lines.push({ rank: RANK.issue, text: "Already answered." });
  if (heard.wants === "unknown-button") {
    lines.push({ rank: RANK.issue, text: "That button is too old. Say it instead." });
  }
  if (heard.settles !== undefined && isSetup(heard.settles.ask.about) && ask === undefined) {
    lines.push({ rank: RANK.aside, text: `Set up. Say: new ingot ${ingotExample(units)}` });
  }
  if (heard.file?.kind === "export") {
    const tables = heard.file.as === "json" ? "JSON" : "CSV";
    lines.push({
      rank: RANK.verdict,
      text: `The whole log of this chat, one ${tables} file a table:`,
    });
  }
  if (ask !== undefined && ask.line !== "") lines.push({ rank: RANK.ask, text: ask.line });
  const safety = safetyLine(
    decision.entries.filter(({ messageId }) => messageId === incoming.id),
    decision.state,
    view.safetyShown,
  );
  if (safety !== undefined) lines.push({ rank: RANK.safety, text: safetyText(safety, units) });

  const kept = [...shortest(lines), ...long.map((text) => ({ text }))];
  const shownSafety =
    safety !== undefined && kept.some(({ text }) => text === safetyText(safety, units));
  return {
    ...base(incoming),
    entries: decision.entries,
    takeBacks: decision.takeBacks,
    replies:
      kept.length === 0 ? [] : [reply(input, kept, ask?.ask, shownSafety ? safety : undefined)],
    ...(ask === undefined ? {} : { ask: ask.ask }),
    ...(heard.settles === undefined ? {} : { answers: heard.settles.ask.id }),
    ...(heard.sheetHour === undefined ? {} : { sheetHour: heard.sheetHour }),
    unread: heard.reading.unread,
  };
}

const base = (incoming: Incoming) => ({
  messageId: incoming.id,
  chatId: incoming.chatId,
  smithId: incoming.smithId,
  at: incoming.receivedAt,
});

function reply(
  input: TurnInput,
  lines: ReplyBody["lines"],
  ask: StoredAsk | undefined,
  safety: string | undefined,
): NewReply {
  const buttons =
    ask !== undefined
      ? [...(ask.about === MISHEARD ? AT_THE_FIRE.map((row) => [...row]) : []), ...askButtons(ask)]
      : input.decision.inHand !== undefined
        ? AT_THE_FIRE.map((row) => [...row])
        : [];
  if (input.dayLog !== undefined || input.heard.sheetHour !== undefined) {
    buttons.push(sheetHourRow(input.heard.sheetHour, input.sheetHour));
  }
  const attach = attachment(input);
  return {
    id: input.newId(),
    body: {
      lines,
      buttons,
      ...spokenOf(input, lines),
      ...(attach === undefined ? {} : { attach }),
    },
    safety: safety === undefined ? [] : [safety],
  };
}

/** The line that matters, for the ear, where the chat asked for that. */
function spokenOf(input: TurnInput, lines: ReplyBody["lines"]): { spoken?: string } {
  const line = lines.find(({ bold }) => bold === true)?.text;
  const spoken = line === undefined ? "" : spokenLine(line);
  return settingsAfter(input).spokenReplies === true && spoken !== "" ? { spoken } : {};
}

/** What the chat is told once: how it works, what is assumed. */
function greeting(input: TurnInput): RankedLine[] {
  const steel = input.decision.entries.length > 0;
  const taken = assumed(settingsAfter(input));
  if (steel)
    return taken === undefined ? [] : [{ rank: RANK.aside, text: `${taken} /setup changes it.` }];
  return [
    {
      rank: RANK.readBack,
      text: "Hearth Tally keeps the log of your ingots and says the next size.",
    },
    ...(taken === undefined ? [] : [{ rank: RANK.aside, text: taken }]),
  ];
}

/** The settings as they are once this message is written. */
export function settingsAfter(input: Pick<TurnInput, "shop" | "decision">): ShopNow {
  let shop = input.shop;
  for (const { fact } of input.decision.entries) {
    if (fact?.kind !== "setting") continue;
    const { kind: _kind, at: _at, approx: _approx, ...said } = fact;
    const known = Object.entries(said).filter(([, value]) => value !== undefined);
    shop = { ...shop, ...Object.fromEntries(known) };
  }
  return shop;
}

/** The turn of a message that our own code could not answer: it stays in the log, the smith is told. */
export function failedTurn(incoming: Incoming, newId: () => string): Turn {
  const lines = [{ text: "Kept as said, but I could not work it out. Say it another way." }];
  return {
    ...base(incoming),
    entries: [],
    takeBacks: [],
    replies: [{ id: newId(), body: { lines, buttons: [[button("undo")]] }, safety: [] }],
    unread: [incoming.text],
  };
}
