/** Puts figures into a grammar: every `#kind` becomes the values of that kind as they are said, weighed by the shop. */
import type { ReadingContext } from "../language/index.js";
import { type Arc, type Automaton, SILENT } from "./automaton.js";
import { chancesOf, type FigureKind, spreadOf } from "./figure-kinds.js";
import { formsAlone, formsOf } from "./number-forms.js";

/** A tree of words in which branches with the same future are one. */
interface Branch {
  readonly id: number;
  readonly moves: readonly {
    readonly word: string;
    readonly chance: number;
    readonly to: Branch;
  }[];
  readonly end: number;
}
interface Growing {
  readonly moves: Map<string, Growing>;
  end: number;
}
/** Chances are rounded to steps of this many to one, so that branches can be shared. */
const STEP = 3;

type Chances = ReadonlyMap<number, number>;

const rounded = (chance: number): number =>
  chance <= 0 ? 0 : STEP ** Math.round(Math.log(chance) / Math.log(STEP));

function grown(kind: FigureKind, chances: Chances): Growing {
  const root: Growing = { moves: new Map(), end: 0 };
  for (const [value, chance] of chances) {
    for (const { words, share } of (kind === "said" ? formsAlone : formsOf)(value)) {
      let at = root;
      for (const word of words.split(" ")) {
        const next = at.moves.get(word) ?? { moves: new Map(), end: 0 };
        at.moves.set(word, next);
        at = next;
      }
      at.end += rounded(chance * share);
    }
  }
  return root;
}

/** A logarithm in steps of a thousandth, whole: the same for chances that are the same to three digits. */
const thousandths = (chance: number): number => Math.round(1000 * Math.log(chance + 1e-12));

/** Norms every branch and merges equal ones. */
function folded(root: Growing): Branch {
  const known = new Map<string, Branch>();
  const fold = (node: Growing): { branch: Branch; mass: number } => {
    const moves = [...node.moves].map(([word, next]) => ({ word, ...fold(next) }));
    const mass = node.end + moves.reduce((sum, move) => sum + move.mass, 0);
    const own = moves.map(({ word, branch, mass: part }) => ({
      word,
      chance: part / mass,
      to: branch,
    }));
    let key = `${thousandths(node.end / mass)}`;
    for (const { word, chance, to } of own) key += `,${word} ${thousandths(chance)} ${to.id}`;
    const same = known.get(key);
    if (same !== undefined) return { branch: same, mass };
    const branch = { id: known.size, moves: own, end: node.end / mass };
    known.set(key, branch);
    return { branch, mass };
  };
  return fold(root).branch;
}

/** Most kinds have the same chances from note to note: the last branch of each stays. */
const lately = new Map<FigureKind, { readonly chances: Chances; readonly branch: Branch }>();

function branchFor(kind: FigureKind, context: ReadingContext): Branch {
  const chances = chancesOf(spreadOf(kind, context));
  const last = lately.get(kind);
  if (last !== undefined && same(last.chances, chances)) return last.branch;
  const branch = folded(grown(kind, chances));
  lately.set(kind, { chances, branch });
  return branch;
}

function same(a: Chances, b: Chances): boolean {
  if (a.size !== b.size) return false;
  for (const [value, chance] of a) if (b.get(value) !== chance) return false;
  return true;
}

/** A grammar with its figures in. */
export interface Filled extends Automaton {
  /** Kind of the figure that a state lies in. */
  readonly kindOf: (state: number) => FigureKind | undefined;
  readonly leaving: (state: number) => readonly Arc[];
}

/** The grammar for one note. The same figure before the same rest of a sentence is laid down once. */
export function putIn(grammar: Automaton, context: ReadingContext): Filled {
  const branches = new Map<string, Branch>();
  const branchOf = (word: string): Branch => {
    const known = branches.get(word) ?? branchFor(word.slice(1) as FigureKind, context);
    branches.set(word, known);
    return known;
  };
  const arcs: Arc[] = [];
  const laid = new Map<string, number>();
  const kinds: string[] = [];
  /** State that stands for `branch` when the figure is followed by `to`. */
  const stateOf = (kind: string, branch: Branch, to: number): number => {
    const key = `${kind} ${branch.id} ${to}`;
    const known = laid.get(key);
    if (known !== undefined) return known;
    const state = grammar.states + kinds.length;
    kinds.push(kind.slice(1));
    laid.set(key, state);
    for (const move of branch.moves) {
      const { end, moves } = move.to;
      if (end > 0) arcs.push({ from: state, to, chance: move.chance * end, word: move.word });
      if (moves.length > 0) {
        const next = stateOf(kind, move.to, to);
        arcs.push({ from: state, to: next, chance: move.chance * (1 - end), word: move.word });
      }
    }
    return state;
  };
  for (const arc of grammar.arcs) {
    if (!arc.word.startsWith("#")) arcs.push(arc);
    else {
      const entry = stateOf(arc.word, branchOf(arc.word), arc.to);
      arcs.push({ from: arc.from, to: entry, chance: arc.chance, word: SILENT });
    }
  }
  const states = grammar.states + kinds.length;
  const rows: Arc[][] = Array.from({ length: states }, () => []);
  for (const arc of arcs) rows[arc.from]?.push(arc);
  return {
    states,
    start: grammar.start,
    arcs,
    ends: [...grammar.ends, ...kinds.map(() => 0)],
    kindOf: (state) => kinds[state - grammar.states] as FigureKind | undefined,
    leaving: (state) => rows[state] ?? [],
  };
}
