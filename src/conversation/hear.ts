/** What an incoming message says: a button's meaning, an answer to an open question, or words read. */
import { sheetHourIn } from "../language/index.js";
import type { Draft, DraftBody, Incoming, OpenAsk, Reading } from "../logbook/index.js";
import { type ButtonName, readCode } from "./buttons.js";
import { type FileAsked, fileAsked } from "./file-asked.js";
import { ANSWER_PREFIX, isSetup } from "./setup.js";
import { misheard, readWays, waysOf } from "./two-ways.js";

export interface Heard {
  readonly reading: Reading;
  /** What to write instead, if a figure of a voice note was misheard. */
  readonly instead?: { readonly label: string; readonly drafts: readonly Draft[] };
  /** The question that this message settles, and which choice was taken. */
  readonly settles?: { readonly ask: OpenAsk; readonly index: number | undefined };
  /** A file that the whole message asks for. */
  readonly file?: FileAsked;
  /** Minute of the day at which the day's sheet is to come by itself. */
  readonly sheetHour?: number | "off";
  /** A button whose meaning is not a draft. */
  readonly wants?: "crack-place" | "setup" | "start" | "stale" | "unknown-button";
}

export function hear(
  incoming: Incoming,
  ask: OpenAsk | undefined,
  read: (text: string, expects: string | undefined) => Reading,
): Heard {
  if (incoming.kind === "button") return pressed(incoming, ask);
  if (incoming.kind === "voice" && waysOf(incoming.text).other !== undefined) {
    return { reading: readWays(incoming.text, (words) => read(words, undefined)) };
  }
  const kept =
    incoming.kind === "voice"
      ? misheard(incoming.text, (words) => read(words, undefined))
      : undefined;
  if (kept !== undefined) return kept;
  const words = incoming.text.trim();
  const sheetHour = sheetHourIn(words);
  if (sheetHour !== undefined) return { reading: nothing(incoming), sheetHour };
  const file = fileAsked(words.replace(/^(\/[a-z]+)@\S+/i, "$1"));
  if (file !== undefined) return filed(incoming, file);
  const command = /^\/([a-z]+)(@\S+)?$/i.exec(words)?.[1]?.toLowerCase();
  if (command !== undefined) return commanded(command, incoming);
  const open = ask !== undefined && !ask.answered ? ask : undefined;
  if (open === undefined || incoming.kind === "edit")
    return { reading: read(incoming.text, undefined) };
  const index = open.choices.findIndex(
    ({ label }) => label.toLowerCase() === words.toLowerCase().replace(/[.!]$/, ""),
  );
  if (index >= 0) return chosen(incoming, open, index);
  // `2`: the second, as the terminal numbers them; to a question of the setup it is a figure.
  const number = /^[1-9]$/.test(words) && !isSetup(open.about) ? Number(words) : 0;
  if (number >= 1 && number <= open.choices.length) return chosen(incoming, open, number - 1);
  return answered(incoming, open, read);
}

const sheetOf = (date: string): FileAsked => ({
  kind: "day",
  as: "png",
  date,
  question: { kind: "question", about: "day" },
});

function filed(incoming: Incoming, file: FileAsked): Heard {
  const drafts =
    file.question === undefined ? [] : [{ body: file.question, implied: [], confidence: 1 }];
  return { reading: said(incoming, drafts), file };
}

/** Words that answer what was asked, though on no button; anything else leaves the question open. */
function answered(
  incoming: Incoming,
  open: OpenAsk,
  read: (text: string, expects: string | undefined) => Reading,
): Heard {
  const prefix = isSetup(open.about) ? ANSWER_PREFIX[open.about] : undefined;
  if (prefix !== undefined) {
    const reading = read(prefix + incoming.text, open.about);
    if (reading.drafts.length > 0 && reading.drafts.every(({ body }) => body.kind === "setting")) {
      return { reading, settles: { ask: open, index: undefined } };
    }
  }
  const figure = figureAnswered(incoming, open, read);
  if (figure !== undefined) return figure;
  const reading = read(incoming.text, open.about);
  const setting = reading.drafts.some(({ body }) => body.kind === "setting");
  return isSetup(open.about) && setting
    ? { reading, settles: { ask: open, index: undefined } }
    : { reading };
}

/** A bare figure, with its unit or without. */
const FIGURE =
  /^(?:no[ ,]+)?(\d+(?:[.,]\d+)?(?: \d\/\d+)?)\s*(mm|cm|in|"|g|kg|oz|lb|°?[cf])?[.!]?$/i;
/** How a figure of a field is said, for reading it as any other. */
const SAID: Readonly<Record<string, (figure: string) => string>> = {
  temperatureC: (figure) => `heat at ${figure}`,
  massG: (figure) => `weighs ${/[a-z]/i.test(figure) ? figure : `${figure} g`}`,
  thicknessMm: (figure) => `${figure} thick`,
  widthMm: (figure) => `${figure} wide`,
  lengthMm: (figure) => `${figure} long`,
  diameterMm: (figure) => `${figure} across`,
  heightMm: (figure) => `${figure} high`,
};

/** `925` to a question about one figure: that figure, in the entry that was asked about. */
function figureAnswered(
  incoming: Incoming,
  open: OpenAsk,
  read: (text: string, expects: string | undefined) => Reading,
): Heard | undefined {
  const words = FIGURE.exec(incoming.text.trim());
  const bodies = open.choices.flatMap(({ drafts }) =>
    (drafts as readonly Draft[]).map(({ body }) => body),
  );
  const [first] = bodies;
  if (words === null || first === undefined || open.about !== "slip") return undefined;
  const asked = Object.keys(SAID).filter(
    (field) => new Set(bodies.map((body) => figureOf(body, field))).size > 1,
  );
  const [field] = asked;
  if (field === undefined || asked.length > 1) return undefined;
  const said = SAID[field]?.(`${words[1]}${words[2] ?? ""}`) ?? "";
  const reading = read(said, undefined);
  const value = reading.drafts
    .map(({ body }) => figureOf(body, field))
    .find((one) => one !== undefined);
  if (value === undefined || reading.ask !== undefined) return undefined;
  const body = { ...first, [field]: value } as DraftBody;
  return {
    reading: { ...nothing(incoming), drafts: [{ body, implied: [], confidence: 1 }] },
    settles: { ask: open, index: undefined },
  };
}

const figureOf = (body: DraftBody, field: string): unknown =>
  (body as unknown as Readonly<Record<string, unknown>>)[field];

function pressed(incoming: Incoming, ask: OpenAsk | undefined): Heard {
  const press = readCode(incoming.text);
  if (press === undefined) return { reading: nothing(incoming), wants: "unknown-button" };
  if (press.press === "sheet-hour") {
    return { reading: nothing(incoming), sheetHour: press.minute };
  }
  if (press.press === "sheet") return filed(incoming, sheetOf(press.date));
  if (press.press !== "ask") return plainPress(incoming, press.press);
  const valid = ask?.id === press.askId && press.index < ask.choices.length;
  if (!valid || ask.answered) return { reading: nothing(incoming), wants: "stale" };
  return chosen(incoming, ask, press.index);
}

function chosen(incoming: Incoming, ask: OpenAsk, index: number): Heard {
  const choice = ask.choices[index];
  return {
    reading: said(incoming, (choice?.drafts ?? []) as readonly Draft[]),
    settles: { ask, index },
  };
}

function plainPress(incoming: Incoming, name: ButtonName): Heard {
  const as = (body: DraftBody): Heard => ({
    reading: said(incoming, [{ body, implied: [], confidence: 1 }]),
  });
  switch (name) {
    case "heat":
      return as({ kind: "heat" });
    case "undo":
      return as({ kind: "undo" });
    case "crack":
      return { reading: nothing(incoming), wants: "crack-place" };
    case "setup":
      return { reading: nothing(incoming), wants: "setup" };
    case "next":
    case "plan":
    case "summary":
    case "day":
      return as({ kind: "question", about: name });
  }
}

function commanded(command: string, incoming: Incoming): Heard {
  const as = (body: DraftBody): Heard => ({
    reading: said(incoming, [{ body, implied: [], confidence: 1 }]),
  });
  switch (command) {
    case "start":
      return { reading: nothing(incoming), wants: "start" };
    case "setup":
    case "settings":
      return { reading: nothing(incoming), wants: "setup" };
    case "undo":
      return as({ kind: "undo" });
    case "next":
    case "plan":
    case "summary":
    case "day":
    case "status":
      return as({ kind: "question", about: command });
    case "figures":
      return as({ kind: "question", about: "loss", topic: "figures" });
    default:
      return as({ kind: "question", about: "help" });
  }
}

const nothing = (incoming: Incoming): Reading => said(incoming, []);

const said = (incoming: Incoming, drafts: readonly Draft[]): Reading => ({
  text: incoming.text,
  drafts,
  unread: [],
  confidence: 1,
  trace: [],
});
