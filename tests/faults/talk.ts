/** A long talk of many invented smiths, the same for the same seed, as updates of the messenger. */
import type { Chance } from "./chance.js";
import type { Update } from "./server.js";

/** Second 0 of the talk; a fixed day in the past, so that nothing depends on today. */
const START_S = 1_772_438_400;
export const FIRST_SMITH = 5001;

const OPENINGS = [
  "ingot bowl 64 by 30, 450 g, 1.5 carbon",
  "new ingot, puck 60 by 25",
  "ingot cone 55 by 45, 380 g",
  "new ingot, 500 g bowl",
];
const GOALS = [
  "goal single edge 150 long 28 wide 3.5 thick",
  "blade double edge 180 mm long, 30 wide",
  "knife 120 long 25 wide 3 thick",
];
const ROUTES = ["route spine", "pipe to a face", "route end", "ring"];
const PLACES = ["spine", "edge", "face", "end"];

/** What a smith says in turn `turn`; at most a few words that need no answer of ours to make sense. */
function words(turn: number, chance: Chance): string {
  if (turn % 25 === 0) return chance.pick(OPENINGS);
  if (turn % 25 === 1) return chance.pick(GOALS);
  if (turn % 25 === 2) return chance.pick(ROUTES);
  const thick = 12 + chance.below(30);
  const size = `${thick} by ${thick + chance.below(12)} by ${60 + chance.below(150)}`;
  const heat = `heat ${turn % 25} at ${880 + chance.below(120)}`;
  const record = chance.pick([
    `${heat}, drew it to ${size}`,
    `${heat}, drew it to ${size}`,
    `${heat} flattened`,
    size,
    `crack ${1 + chance.below(4)} deep on the ${chance.pick(PLACES)}`,
    `ground ${2 + chance.below(9)} g off`,
    `now ${300 + chance.below(120)} g`,
    `note ${turn} rang dull <b>&`,
  ]);
  return chance.pick([
    ...Array.from({ length: 8 }, () => record),
    "undo",
    "next",
    "status",
    `no, ${thick} not ${thick + 5}`,
    "qwerty zxcvb",
  ]);
}

/** `chats` smiths, each in a private chat, `turns` messages each, shuffled but in order within a chat. */
export function talk(chats: number, turns: number, chance: Chance): Update[] {
  const left = Array.from({ length: chats }, (_, index) => ({
    smith: FIRST_SMITH + index,
    turn: 0,
  }));
  const updates: Update[] = [];
  while (left.length > 0) {
    const at = chance.below(left.length);
    const who = left[at];
    if (!who) continue;
    updates.push(update(updates.length, who.smith, who.turn, chance));
    who.turn += 1;
    if (who.turn >= turns) left.splice(at, 1);
  }
  return updates;
}

function update(index: number, smith: number, turn: number, chance: Chance): Update {
  const base = {
    message_id: turn + 1,
    date: START_S + turn * 60,
    chat: { id: smith, type: "private" },
    from: { id: smith, is_bot: false, first_name: `Smith ${smith}` },
  };
  // Now and then the message before is edited instead: to other figures, an undo, a question, or nonsense.
  const isEdit = turn % 25 > 3 && chance.hits(0.04);
  const text = words(turn, chance);
  if (isEdit) {
    const edited = { ...base, message_id: turn, date: base.date - 60, edit_date: base.date };
    return { update_id: 10_000 + index, edited_message: { ...edited, text } };
  }
  return { update_id: 10_000 + index, message: { ...base, text } };
}
