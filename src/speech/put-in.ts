/** Puts figures into a grammar: every `#kind` becomes the values of that kind as they are said, weighed by the shop. */
import type { ReadingContext } from "../language/index.js";
import { type Arc, type Automaton, SILENT } from "./automaton.js";
import { chancesOf, type FigureKind, spreadOf } from "./figure-kinds.js";
import { formsOf } from "./number-forms.js";

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

const rounded = (chance: number): number =>
  chance <= 0 ? 0 : STEP ** Math.round(Math.log(chance) / Math.log(STEP));

function grown(chances: ReadonlyMap<number, number>): Growing {
  const root: Growing = { moves: new Map(), end: 0 };
  for (const [value, chance] of chances) {
    for (const { words, share } of formsOf(value)) {
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

/** Norms every branch and merges equal ones. */
function folded(root: Growing): { branch: Branch; count: number } {
  const known = new Map<string, Branch>();
  const fold = (node: Growing): { branch: Branch; mass: number } => {
    const moves = [...node.moves].map(([word, next]) => ({ word, ...fold(next) }));
    const mass = node.end + moves.reduce((sum, move) => sum + move.mass, 0);
    const own = moves.map(({ word, branch, mass: part }) => ({
      word,
      chance: part / mass,
      to: branch,
    }));
    const key = `${(node.end / mass).toPrecision(3)} ${own.map(({ word, chance, to }) => `${word} ${chance.toPrecision(3)} ${to.id}`).join(",")}`;
    const same = known.get(key);
    if (same !== undefined) return { branch: same, mass };
    const branch = { id: known.size, moves: own, end: node.end / mass };
    known.set(key, branch);
    return { branch, mass };
  };
  const { branch } = fold(root);
  return { branch, count: known.size };
}

export function figureBranches(context: ReadingContext): (kind: string) => Branch {
  const made = new Map<string, Branch>();
  return (kind) => {
    const known = made.get(kind);
    if (known !== undefined) return known;
    const { branch } = folded(grown(chancesOf(spreadOf(kind.slice(1) as FigureKind, context))));
    made.set(kind, branch);
    return branch;
  };
}

/** A grammar with its figures in. */
export interface Filled extends Automaton {
  /** Kind of the figure that a state lies in. */
  readonly kindOf: (state: number) => FigureKind | undefined;
  readonly leaving: (state: number) => readonly Arc[];
}

/** The grammar for one note. The same figure before the same rest of a sentence is laid down once. */
export function putIn(grammar: Automaton, context: ReadingContext): Filled {
  const branchOf = figureBranches(context);
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
