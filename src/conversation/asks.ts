/** The one question that a turn may put, with its choices as buttons. */
import type { CRACK_PLACES, Draft, DraftBody, IngotName, StoredAsk } from "../logbook/index.js";
import { afterSetup, isSetup, SETUP_QUESTIONS, type SetupQuestion, setupAsk } from "./setup.js";
import type { TurnInput } from "./turn-input.js";
import { waysOf } from "./two-ways.js";
import { chatUnits } from "./units.js";
import { clip } from "./words.js";

export interface Asked {
  readonly ask: StoredAsk;
  /** The sentence that asks. */
  readonly line: string;
}

const LABEL = 40;
const HEARD = 160;
const MOST_INGOTS = 4;

export function askFor(input: TurnInput): Asked | undefined {
  const { heard, view } = input;
  const firstContact = view.messages === 0 && input.decision.entries.length === 0;
  const next =
    heard.settles !== undefined && isSetup(heard.settles.ask.about)
      ? afterSetup(heard.settles.ask.about, heard.settles.index)
      : undefined;
  if (heard.reading.ask !== undefined) return doubt(input);
  const missing = input.decision.issues.find(({ code }) => code === "no-such-ingot");
  if (missing?.code === "no-such-ingot") return whichIngot(input, missing.name, missing.rest);
  if (heard.wants === "crack-place") return crackPlace(input);
  if (next !== undefined) return setup(next, input);
  if (heard.wants === "setup" || heard.wants === "start" || firstContact) {
    return setup("setup-units", input);
  }
  if (nothingRead(input)) return keepAsNote(input);
  return input.decision.entries.length > 0 ? misheardFigure(input) : undefined;
}

/** About what a button puts right that was kept; nothing is asked in words. */
export const MISHEARD = "misheard";

function misheardFigure(input: TurnInput): Asked | undefined {
  const { instead } = input.heard;
  if (instead === undefined) return undefined;
  const choices = [choice(instead.label, instead.drafts)];
  return { ask: { id: input.newId(), about: MISHEARD, choices }, line: "" };
}

const setup = (about: SetupQuestion, input: TurnInput): Asked => ({
  ask: setupAsk(about, input.newId(), chatUnits(input.shop)),
  line: SETUP_QUESTIONS[about],
});

/** Two readings that matter: the reader's own question. */
function doubt(input: TurnInput): Asked | undefined {
  const { ask } = input.heard.reading;
  if (ask === undefined) return undefined;
  const choices = ask.choices.map(({ label, drafts }) => choice(label, drafts));
  return {
    ask: { id: input.newId(), about: ask.about, choices },
    line:
      ask.about === "heard"
        ? `Heard: ${clip(waysOf(input.incoming.text).text, HEARD)}. Which is it?`
        : (DOUBT_WORDS[ask.about] ?? "Which is it?"),
  };
}

const DOUBT_WORDS: Readonly<Record<string, string>> = {
  "which-dimension": "Which way was that measured?",
  slip: "That cannot be right. Which is it?",
  unit: "In which unit?",
  ingot: "Which ingot?",
  record: "Log it?",
};

function whichIngot(input: TurnInput, name: string, rest: readonly Draft[]): Asked {
  const open = input.view.ingots.filter(({ finished }) => !finished).slice(0, MOST_INGOTS);
  const goTo = ({ name: known }: IngotName) =>
    choice(`Ingot ${known}`, [plain({ kind: "switch", ingot: known }), ...rest]);
  return {
    ask: {
      id: input.newId(),
      about: "ingot",
      choices: [
        ...open.map(goTo),
        choice(`New ingot ${name}`, [plain({ kind: "ingot", name: clip(name, LABEL) }), ...rest]),
      ],
    },
    line: "Nothing logged yet.",
  };
}

const PLACES = [
  "spine",
  "edge",
  "face",
  "end",
  "top",
  "rim",
  "tang",
  "tip",
] as const satisfies readonly (typeof CRACK_PLACES)[number][];

const crackPlace = (input: TurnInput): Asked => ({
  ask: {
    id: input.newId(),
    about: "crack-place",
    choices: PLACES.map((place) =>
      choice(place.charAt(0).toUpperCase() + place.slice(1), [plain({ kind: "crack", place })]),
    ),
  },
  line: "Crack where? Or say it: 2 deep 10 long on the spine.",
});

const nothingRead = ({ heard, decision }: TurnInput): boolean =>
  heard.reading.unread.length > 0 &&
  decision.entries.length === 0 &&
  decision.questions.length === 0 &&
  decision.issues.length === 0;

const keepAsNote = (input: TurnInput): Asked => ({
  ask: {
    id: input.newId(),
    about: "record",
    choices: [
      choice("Keep as a note", [
        plain({ kind: "note", note: input.heard.reading.text.slice(0, 8000) }),
      ]),
      choice("Leave it", []),
    ],
  },
  line: "Say it another way, or keep it as a note.",
});

const plain = (body: DraftBody): Draft => ({ body, implied: [], confidence: 1 });

const choice = (label: string, drafts: readonly Draft[]): StoredAsk["choices"][number] => ({
  label: clip(label, LABEL),
  drafts: drafts.map(({ body, implied, confidence }) => ({
    body,
    implied: [...implied],
    confidence,
  })),
});
