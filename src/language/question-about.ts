/** What a question is about, by the words in it. */
import { means, type Part } from "./parts.js";

const LEAD = "^(?:(?:and|so|ok|okay|right|well|er|um|hey|oi|mate|please|now|then|also|but)[ ,]+)*";
/** Forms of asking that no single word of the vocabulary tells. */
export const ASKS = new RegExp(
  `${LEAD}(?:(?:i'm |i am |just )?wondering|i wonder|i'd like to (?:know|see)|i would like to (?:know|see)|i want to (?:know|see)|i need to know|suppose|supposing|say i|if i|if we|if i'm|do you (?:think|reckon)|reckon|do i|do we|does (?:my|the|this|it)|did i|have i|have we|would (?:a|the|it|this|my|that)|will (?:a|the|it|this|my|that)|could (?:i|a|the|it|this)|can (?:you|i|we|the|my|a|it)|is (?:it|this|that|there|\\d|my|the)|are (?:we|there)|am i|am i|let me see|let's see|list|give me|gimme|show|tell|remind me|explain|what've|what have|what's|whats|what|where|how|which|when|any (?:idea|chance|clue)|wrap|run me through|walk me through|fill me in|not sure (?:what|how|which|where))\\b`,
);
/** What is asked about, by the words in it; the first line that fits. */
const SCORES: readonly { readonly about: string; readonly says: RegExp }[] = [
  {
    about: "plan",
    says: /\b(work better|or as a ring|(face|spine|end|ring) or\b|suppose|supposing|what if|if (i|we|i'm)|still (get|make|a knife|a blade|enough)|come out of|out of this|get out of|which (blade|knife|route|way)|route|the plan|blade would|fit|suits?|enough (steel|for)|longest|biggest|largest)\b/,
  },
  {
    about: "force",
    says: /\b(force|tonnage|tonnes?|tons|tonner|tonners|kn|squeeze|press|enough to (move|squash|push|upset)|hammer (big|heavy|do|manage|handle|move|enough)|too (hard|stiff) for)\b/,
  },
  {
    about: "time",
    says: /\b(time (for|to|left)|seconds|too cold|before it('s| is| gets| drops| goes| cools)|drops (under|below)|goes (black|dull|cold)|stays? hot|hot enough|how (long|soon|quick\w*) (have|till|til|until|before|do i|can i|will it|does it|is it))\b/,
  },
  {
    about: "loss",
    says: /\b(lost|lose|losing|losses|loss|gone|thrown away|wasted|waste|burnt off|burned off|gone up in|eaten|scale)\b/,
  },
  {
    about: "next",
    says: /\b(how hot (?:should|do|must)|(?:temp|temperature|colour|color) (?:should|to)|should i go|how thin|how far (down|out)|next|after this|from here|now what|bring it (down )?to|take it to|aim(ing)? (for|at)|target|size to (hit|aim|forge|go)|what size (now|should|do)|ought to|should i (do|forge|hit|draw|bring)|do i (do|forge|hit) (now|next)?|what do i do)\b/,
  },
  {
    about: "day",
    says: /\b(today|todays|today's|yesterday|this morning|since (this )?morning|the day|day's|day sheet|so far today|done today)\b/,
  },
  {
    about: "summary",
    says: /\b((?:temp|temperature|colour|color) was|summary|sum(med)? (it|this|that|them|up)|wrap (it|this|that) (all )?up|whole story|story (of|so far)|in a few lines|recap|the card|from start to finish|everything (so far|about|on|we know)|history|overview)\b/,
  },
  {
    about: "status",
    says: /\b(how (big|heavy|thick|wide|long|far|many|hot|much)|what size|size (is|now|am)|where('s| is| am| are| does| did)|weigh(s|t)?|status|got (so far|in hand|left|here)|in hand|on the anvil|which (ingot|bar|heat)|what heat|pipe|cracks?|state of|far along|look like|how('s| is) (it|the|this|that|ingot))\b/,
  },
  {
    about: "help",
    says: /\b(help|say to you|tell you|you (do|understand|work|know|need|take)|how (do|does) (you|this|i use)|use (you|this)|commands|instructions|ask you)\b/,
  },
];
export const scored = (words: string, _parts: readonly Part[]): string | undefined =>
  SCORES.find((one) => one.says.test(words))?.about;

/** The meaning of the longest phrase that tells what is asked. */
export function best(parts: readonly Part[]): string | undefined {
  let found: string | undefined;
  let length = 0;
  for (const part of parts) {
    const about = means(part, "about");
    if (about === undefined || part.type !== "mark") continue;
    const words =
      part.words.split(" ").length * 10 +
      (/^(what if|which|will it|does it|too cold|what blade)/.test(part.words) ? 15 : 0) +
      part.words.length / 10;
    if (words > length) {
      length = words;
      found = about;
    }
  }
  return found;
}
