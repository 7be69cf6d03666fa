/** Entries in the making become drafts: checked against the schema, with what was implied and how sure they are. */
import {
  type Ask,
  type Draft,
  type DraftBody,
  draftSchema,
  type Reading,
} from "../logbook/index.js";
import { checkAll } from "./checks.js";
import { confidenceOf } from "./confidence.js";
import type { ReadingContext } from "./context.js";
import { LEAVE_OUT, onTop, unasked } from "./doubts.js";
import type { Body, Ledger } from "./ledger.js";
import type { Sentence } from "./sentence.js";

const SIGNIFICANT = 12;
/** Kinds that record steel: these happen at a time. */
const STEEL = new Set([
  "melt",
  "ingot",
  "goal",
  "route",
  "heat",
  "size",
  "crack",
  "removal",
  "finish",
  "note",
]);
const INTERNAL = new Set([
  "isNew",
  "justOpened",
  "waiting",
  "pendingFigure",
  "about",
  "pressureBar",
  "boreMm",
  "gone",
  "repeated",
]);

/** Without the noise of binary fractions: 7/8 in is 22.225 mm. */
const exact = (value: number): number => Number(value.toPrecision(SIGNIFICANT));

function drafted(body: Body, ledger: Ledger, of: Body = body): Draft | undefined {
  const clean: Record<string, unknown> = {};
  for (const [field, value] of Object.entries(body)) {
    if (value === undefined) continue;
    if (INTERNAL.has(field) && !(field === "about" && body.kind === "question")) continue;
    clean[field] = typeof value === "number" ? exact(value) : value;
  }
  if (ledger.at !== undefined && STEEL.has(body.kind)) clean.at = ledger.at;
  const parsed = draftSchema.safeParse(clean);
  if (!parsed.success) return undefined;
  const made: DraftBody = parsed.data;
  const implied = [...(ledger.implied.get(of) ?? [])].filter(
    (field) => field in clean || field === "units" || field === "temperatureUnits",
  );
  return { body: made, implied, confidence: 1 };
}

const only = (body: Body, ...fields: readonly string[]): boolean =>
  Object.keys(body).every((field) => fields.includes(field));

/** Entries that say nothing are dropped; an ingot of which only the name was said is a switch to it. */
function worth(body: Body): Body | undefined {
  const kind: string = body.kind;
  switch (kind) {
    case "ingot":
      if (!only(body, "kind", "name", "isNew") || body.isNew === true) return body;
      return typeof body.name === "string" ? { kind: "switch", ingot: body.name } : undefined;
    case "setting":
      return only(body, "kind", "about") ? undefined : body;
    case "size":
    case "goal":
      return only(body, "kind") ? undefined : body;
    case "removal":
      return only(body, "kind", "approx") && body.gone !== true ? undefined : body;
    default:
      return body;
  }
}

/** The reading of one message. `said`: something stood in it beside fillers. */
export function readingOf(
  text: string,
  context: ReadingContext,
  ledger: Ledger,
  unread: readonly string[],
  sentence: Sentence | undefined,
  said: boolean,
): Reading {
  checkAll(ledger, context);
  const found: Draft[] = [];
  let refused = false;
  for (const body of ledger.bodies) {
    const kept = worth(body);
    if (!kept) continue;
    const made = drafted(kept, ledger, body);
    if (made) found.push(made);
    else {
      refused = true;
      ledger.trace.push(`refused by the schema: ${JSON.stringify(body).slice(0, 200)}`);
    }
  }
  const ask = askOf(ledger, context);
  // Nothing that was said is lost: what no entry may hold is handed back whole.
  const whole = refused && unread.length === 0 && found.length === 0 ? [text.trim()] : [];
  const left = [...whole, ...unread, ...(sentence ? unasked(ledger, sentence) : [])].filter(
    (one) => one !== "",
  );
  const confidence =
    found.length === 0 ? 1 : confidenceOf(ledger, left.length > 0, ask !== undefined);
  const drafts = found.map((draft) => ({ ...draft, confidence }));
  const small =
    drafts.length === 0 && left.length === 0 && ask === undefined && !said && text.trim() !== "";
  return {
    text,
    drafts,
    unread: left,
    ...(ask && { ask }),
    confidence,
    ...(small && { smallTalk: true }),
    get trace() {
      return ledger.trace.map((line) => (typeof line === "string" ? line : line()));
    },
  };
}

/** The first doubt as a question; each choice holds what comes on top of the drafts. */
function askOf(ledger: Ledger, context: ReadingContext): Ask | undefined {
  const doubt = ledger.doubts[0];
  if (!doubt) return undefined;
  return {
    about: doubt.about,
    choices: doubt.choices
      .map((choice) => {
        const body = onTop(choice, doubt, context);
        const made = body && drafted(body, ledger, doubt.of ?? body);
        return { label: choice.label, drafts: made ? [made] : [] };
      })
      // What no entry may hold is not offered.
      .filter(({ label, drafts }) => drafts.length > 0 || label === LEAVE_OUT),
  };
}
