/**
 * Words that say that an ingot came to an end without a blade: scrapped, lost, given up. There is no kind of entry
 * for it, so the words are kept whole as a note on the ingot, and this rule, the only one, says what such a note is.
 */

export interface GivenUp {
  /** The ingot that the words name; else they speak of the one in hand. */
  readonly name?: string;
}

const NOUN = "(?:one|ingot|piece|bar|puck|cake|block|billet|lump|disc|ring|blade)";
const NAMED =
  "(?:ingot|number|no\\.?) ?#? ?(?<NAME>[\\p{L}\\p{N}][\\p{L}\\p{N}_-]{0,39})|#(?<SIGN>\\d{1,6})";
/** `this one`, `that ingot`, `ingot 7`, `#7`. */
const THING = `(?:(?:this|that|the|my) ${NOUN}|${NAMED})`;

const LEAD =
  "(?:(?:ok|okay|well|so|and|but|then|now|damn|sadly|sorry|right|finally|unfortunately|oh|no|i|we|have|i've|we've|had to|let's|just) )*";
/**
 * What is done to it. `lost it` is said of a crack, and an order without the word ingot (`scrap that`, `bin this one`) of the last
 * message: both stay out.
 */
const GIVES: readonly string[] = [
  `(?:scrapped|scrapping|binned|binning|ditched|abandoned|abandoning|wrote off|written off|writing off|threw away|threw out|thrown away|(?:gave|give|giving|given) up on) (?:${THING}|it)`,
  `(?:wrote|threw|thrown) (?:${THING}|it) (?:off|away|out)`,
  `lost (?:${THING})`,
  `(?:scrap|bin|abandon|write off|throw away) (?:(?:this|that|the|my) ingot|${NAMED})`,
];
const IS = "(?:'s| is| was| has been| went| got|)";
const HOW = "(?: now| all| just| completely| only| good as)*";
const STATE =
  "(?:dead|scrap|scrapped|ruined|a write-?off|written off|a (?:total )?loss|done for|given up|abandoned|binned|a goner|(?:beyond|past) (?:saving|repair|help)|(?:for|in|to) the (?:bin|scrap|scrap bin|scrap pile|scrap bucket))";
const BEING: readonly string[] = [
  `(?:${THING})${IS}${HOW} (?:${STATE}|lost|gone)`,
  `it(?:'s| is| was)${HOW} ${STATE}`,
  `ingot${IS}${HOW} (?:${STATE}|lost)`,
];
/** How it goes on: a reason without a figure, or the heat that it happened in. */
const TAIL =
  "(?: (?:(?:after|on|in|at|during) heat \\d{1,4}(?: [^\\d]*)?|(?:because|as|since|after|to|due|with|when|while|from|in|on|at|today|now|for good|completely|i'm afraid|it|too|sorry|this|through|cracked|broke)\\b[^\\d]*))?";

/** The name's group stands in several places; each rule has its own. */
const rules: readonly RegExp[] = [...GIVES, ...BEING].map((rule) => {
  let count = 0;
  const numbered = rule.replace(/\?<(NAME|SIGN)>/g, (_, group: string) => {
    count += 1;
    return `?<${group}${count}>`;
  });
  return new RegExp(`^${LEAD}${numbered}${TAIL}$`, "iu");
});
/** What may stand where a name does but is none: `ingot is dead`. */
const NO_NAME =
  /^(?:is|was|has|went|got|lost|dead|gone|scrap|scrapped|ruined|given|and|to|for|in|of)$/i;

const FIGURES =
  "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen twenty".split(
    " ",
  );
/** A number said in a word: `ingot seven`. */
function figureOf(name: string): string {
  const figure = FIGURES.indexOf(name.toLowerCase());
  return figure > 0 ? String(figure) : name;
}

const plain = (clause: string): string =>
  clause
    .replace(/[’‘]/g, "'")
    .replace(/\s+/g, " ")
    .trim()
    .replace(/[:.!]+$/, "")
    .trim();

/** A known name alone (`Rook is lost`) stands for `ingot Rook`; names without a letter must have the word before them. */
function withIngots(words: string, names: readonly string[]): string {
  let told = words;
  for (const [index, name] of names.entries()) {
    if (name.length < 2 || !/\p{L}/u.test(name)) continue;
    const bare = name.replace(/[\\^$.*+?()[\]{}|]/g, "\\$&");
    const alone = new RegExp(`(?<![\\p{L}\\p{N}-])(?:ingot )?${bare}(?![\\p{L}\\p{N}-])`, "giu");
    told = told.replace(alone, `ingot name-${index}`);
  }
  return told;
}

function inClause(clause: string, names: readonly string[]): GivenUp | undefined {
  const words = withIngots(plain(clause), names);
  for (const rule of rules) {
    const found = rule.exec(words);
    if (found === null) continue;
    const name = Object.values(found.groups ?? {}).find((each) => each !== undefined);
    if (name === undefined) return {};
    const known = /^name-(\d+)$/.exec(name)?.[1];
    if (known !== undefined) return { name: names[Number(known)] ?? name };
    if (!NO_NAME.test(name)) return { name: figureOf(name) };
  }
  return undefined;
}

const BREAK = /[,;!?\n]+|(?<!\bno)\.(?!\d)|\s[-–—]+\s|\b(?:and|but|so)\b/giu;

interface Clause {
  readonly from: number;
  readonly to: number;
  readonly asked: boolean;
}

function clausesOf(text: string): readonly Clause[] {
  const clauses: Clause[] = [];
  let from = 0;
  for (const sign of text.matchAll(BREAK)) {
    clauses.push({ from, to: sign.index, asked: sign[0].includes("?") });
    from = sign.index + sign[0].length;
  }
  return [...clauses, { from, to: text.length, asked: false }];
}

function found(
  text: string,
  names: readonly string[],
): (Clause & { readonly says: GivenUp }) | undefined {
  for (const clause of clausesOf(text)) {
    const says = clause.asked ? undefined : inClause(text.slice(clause.from, clause.to), names);
    if (says !== undefined) return { ...clause, says };
  }
  return undefined;
}

/** Whether a note gives an ingot up, and which; `names`: what ingots are called. Undefined for any other note. */
export const givenUp = (note: string, names: readonly string[] = []): GivenUp | undefined =>
  found(note, names)?.says;

const JOINTS = new Set(["and", "but", "so", "ok", "okay", "well"]);
const MARKS = " \t\r\n,;–—-";

/** Without the marks and the word that joined it to the rest of the message. */
function withoutJoint(text: string): string {
  const bare = trimmedEnd(text);
  const last = bare.slice(Math.max(bare.lastIndexOf(" "), bare.lastIndexOf(",")) + 1);
  return JOINTS.has(last.toLowerCase())
    ? trimmedEnd(bare.slice(0, bare.length - last.length))
    : bare;
}

function trimmedEnd(text: string): string {
  let end = text.length;
  while (end > 0 && MARKS.includes(text[end - 1] ?? "")) end -= 1;
  return text.slice(0, end).trimStart();
}
/** What comes after the reason is something else: a figure, or the next piece of work. */
const GOES_ON = /\d|\b(?:new|next|switch|back|start|started|starting|plan|undo|what|how)\b/i;

/**
 * A message that gives an ingot up, cut in three: what was said before, the note with the reasons that follow, and
 * what was said after. Undefined for any other message.
 */
export function splitGivenUp(
  text: string,
  names: readonly string[] = [],
): { readonly before: string; readonly note: string; readonly after: string } | undefined {
  const clause = found(text, names);
  if (clause === undefined) return undefined;
  const rest = text.slice(clause.to);
  const splits = GOES_ON.test(rest);
  return {
    before: withoutJoint(text.slice(0, clause.from)),
    note: text.slice(clause.from, splits ? clause.to : text.length).trim(),
    after: splits ? rest.replace(/^[\s,;.!–—-]+/, "").trim() : "",
  };
}
