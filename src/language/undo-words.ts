/** Taking back in whatever words: a verb of taking away, and then only words that point at what was just logged. */

const VERB =
  /^(?:(?:please|pls|no|nope|oh|ah|ok|okay|hey|sorry|oops|damn|can you|could you|would you|will you|you can|just|now|and|so|then)[\s,]+)*(?:undo|un-?log|scratch|delete|erase|remove|cancel|forget|ignore|disregard|wipe|strike|bin|kill|chuck|withdraw|revert|reverse|retract|scrap|rub|roll back|get rid of|take back|take|pull|throw out|throw away|kick out|clear)\b/i;
/** Words that may follow, each alone. */
const POINTS =
  /^(?:that|it|this|those|these|them|the|my|your|all|of|what|whatever|i|you|just|last|previous|latest|most|recent|told|said|wrote|typed|sent|entered|logged|put|entry|entries|message|messages|msg|note|record|records|one|ones|thing|things|lot|bit|out|back|away|off the log|from|log|please|again|pls|plz|completely|would|could|will|thanks|mate|was|were|wrong|mistake|a|an|heat|heats|size|crack|removal|melt|weight|reading|line|lines|two|three|four|five|six|seven|eight|nine|ten|\d{1,2})$/i;
/** At least one of these makes it about the log and not about steel. */
const LOGGED =
  /\b(?:that|it|this|last|previous|latest|entry|entries|message|messages|msg|what i|those|ones?|thing|things|lot|heat|record|records)\b/i;
const COUNTS: Readonly<Record<string, number>> = {
  two: 2,
  three: 3,
  four: 4,
  five: 5,
  six: 6,
  seven: 7,
  eight: 8,
  nine: 9,
  ten: 10,
};
/** Verbs that also work steel: `take that off`, `pull it`; they need `back` or `out of the log`. */
const STEEL_VERB =
  /\b(?:take|pull|remove|clear|kick out|throw out|throw away|chuck|rub|strike|lose)\b/i;
const SAID_BACK = /\b(?:back|out|entry|entries|message|last|previous|log|record)\b/i;
const WHOLE =
  /^(?:pretend i (?:never|didn't) (?:said|say) (?:it|that)|(?:that|the last) (?:entry|message|one) was (?:a mistake|wrong)[\s,]*(?:lose it|bin it|drop it|delete it|forget it)?|i (?:never|didn't) (?:said|say|mean) that|never happened|didn't happen)$/i;

export interface Undone {
  readonly count: number | undefined;
  /** Characters of the clause that say it. */
  readonly length: number;
}

const NAMED =
  /^(?:please |pls |can you |could you |would you )*(?:undo|delete|erase|cancel|wipe|strike|remove|forget|scratch|un-?log)\s+(?:the |my |that |this )?(heat|crack|melt|size|removal|cut|weight|ingot|note|goal)\b(?!\s+(?:please|pls|again)?$)?/i;

/** The kind of entry that is named to be taken back (`delete heat 3`, `undo the crack`), if one is. */
export function namedToUndo(words: string): string | undefined {
  const found = NAMED.exec(words)?.[1]?.toLowerCase();
  return found === "cut" ? "removal" : found === "weight" ? "size" : found;
}

/** The undo that a clause begins with, or undefined. `words` is the clause as typed. */
export function undoneIn(words: string): Undone | undefined {
  if (WHOLE.test(words)) return { count: undefined, length: words.length };
  const verb = VERB.exec(words);
  if (!verb) return undefined;
  let end = verb[0].length;
  let count: number | undefined;
  for (const match of words.slice(end).matchAll(/[\s,]*([\p{L}\d']+)/gu)) {
    const word = match[1] ?? "";
    if (!POINTS.test(word)) break;
    // `scratch that | one and three eighths wide`: a figure begins.
    const after = words.slice(verb[0].length + (match.index ?? 0) + match[0].length);
    if (
      /^one$/i.test(word) &&
      /^\s+(and|point|inch|mil|eighty|ninety|\w+ty|\w+teen)\b/i.test(after)
    )
      break;
    const number = COUNTS[word.toLowerCase()] ?? (/^\d+$/.test(word) ? Number(word) : undefined);
    if (number !== undefined && number > 1) count = number;
    end = verb[0].length + (match.index ?? 0) + match[0].length;
  }
  const said = words.slice(0, end);
  if (!LOGGED.test(said.slice(verb[0].length)) && count === undefined) return undefined;
  if (STEEL_VERB.test(verb[0]) && !SAID_BACK.test(said.slice(verb[0].length))) return undefined;
  const rest = words.slice(end).trim();
  // What follows must begin something new: `…, 38 wide`, `… then heat 5 at 905`.
  const apart =
    rest === "" ||
    /^(?:[,;.:]|then\b|and\b|so\b|it\b|it's\b)/i.test(rest) ||
    /^\s*[,;]/.test(words.slice(end));
  return apart ? { count, length: end } : undefined;
}
