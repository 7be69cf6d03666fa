/**
 * The part of the JSpeech Grammar Format (JSGF 1.0) that the grammar here is written in: words, `<rule>`, `|`,
 * `( )`, `[ ]` and weights `/3/`, and one word of our own making: `#name` stands for a figure of a kind. No repetition: every grammar is finite.
 */
export type Node =
  | { readonly is: "word"; readonly word: string }
  | { readonly is: "rule"; readonly name: string }
  | { readonly is: "choice"; readonly of: readonly Weighted[] };
export interface Weighted {
  readonly weight: number;
  readonly row: readonly Node[];
}
export interface Grammar {
  readonly rules: ReadonlyMap<string, Node>;
  readonly top: string;
}

const TOKEN = /\/[\d.]+\/|<\w+>|[()[\]|]|[a-z'#]+(?:\(\d\))?/g;
/** Chance that an optional part is said. */
const OPTIONAL = 0.5;

export function parseGrammar(text: string): Grammar {
  const rules = new Map<string, Node>();
  let top = "";
  for (const statement of text.replace(/#JSGF[^;]*;|grammar[^;]*;/g, "").split(";")) {
    const match = /^\s*(public\s+)?<(\w+)>\s*=\s*([\s\S]*)$/.exec(statement);
    if (match?.[2] === undefined || match[3] === undefined) continue;
    if (match[1] !== undefined) top = match[2];
    rules.set(match[2], parseBody(match[3].match(TOKEN) ?? [], match[2]));
  }
  if (top === "") throw new RangeError("a grammar without a public rule");
  return { rules, top };
}

function parseBody(tokens: readonly string[], name: string): Node {
  let at = 0;
  const choice = (): Node => {
    const of: Weighted[] = [];
    for (;;) {
      const row: Node[] = [];
      let weight = 1;
      for (; at < tokens.length; ) {
        const token = tokens[at] ?? "";
        if (token === "|" || token === ")" || token === "]") break;
        at += 1;
        if (token.startsWith("/")) weight = Number(token.slice(1, -1));
        else if (token === "(") {
          row.push(choice());
          at += 1;
        } else if (token === "[") {
          const inner = choice();
          at += 1;
          row.push({
            is: "choice",
            of: [
              { weight: 1 - OPTIONAL, row: [] },
              { weight: OPTIONAL, row: [inner] },
            ],
          });
        } else if (token.startsWith("<")) row.push({ is: "rule", name: token.slice(1, -1) });
        else row.push({ is: "word", word: token });
      }
      of.push({ weight, row });
      if (tokens[at] !== "|") break;
      at += 1;
    }
    return { is: "choice", of };
  };
  const whole = choice();
  if (at !== tokens.length) throw new RangeError(`rule ${name}: bracket out of place`);
  return whole;
}
