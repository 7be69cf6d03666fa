/** Finds which words of a sentence are figures, and of which kind: the likeliest way through the grammar of the note. */
import { type Arc, SILENT } from "./automaton.js";
import type { FigureKind } from "./figure-kinds.js";
import type { Filled } from "./put-in.js";

export interface TracedFigure {
  readonly kind: FigureKind;
  /** Words [from, to) of the sentence. */
  readonly from: number;
  readonly to: number;
}

interface Way {
  readonly log: number;
  readonly figures: readonly TracedFigure[];
}

/** `log`: natural logarithm of the sentence's chance. Undefined if the grammar does not have the sentence. */
export function traceFigures(grammar: Filled, words: readonly string[]): Way | undefined {
  let ways = new Map<number, Way>([[grammar.start, { log: 0, figures: [] }]]);
  withSilent(grammar, ways, 0);
  words.forEach((word, index) => {
    const next = new Map<number, Way>();
    for (const [state, way] of ways) {
      for (const arc of grammar.leaving(state)) {
        if (arc.word !== word) continue;
        offer(next, arc, way, closed(grammar, state, arc.to, way.figures, index + 1));
      }
    }
    withSilent(grammar, next, index + 1);
    ways = next;
  });
  let best: Way | undefined;
  for (const [state, way] of ways) {
    const end = grammar.ends[state] ?? 0;
    const log = way.log + Math.log(end);
    if (end > 0 && (best === undefined || log > best.log)) best = { log, figures: way.figures };
  }
  return best;
}

function offer(ways: Map<number, Way>, arc: Arc, way: Way, figures: readonly TracedFigure[]): void {
  const log = way.log + Math.log(arc.chance);
  const known = ways.get(arc.to);
  if (known === undefined || log > known.log) ways.set(arc.to, { log, figures });
}

/** A figure begins where a silent arc leads into it, and is closed when the next state lies outside. */
function withSilent(grammar: Filled, ways: Map<number, Way>, at: number): void {
  for (const [state, way] of [...ways]) {
    for (const arc of grammar.leaving(state)) {
      const kind = grammar.kindOf(arc.to);
      if (arc.word !== SILENT || kind === undefined) continue;
      offer(ways, arc, way, [...way.figures, { kind, from: at, to: at }]);
    }
  }
}

function closed(
  grammar: Filled,
  from: number,
  to: number,
  figures: readonly TracedFigure[],
  at: number,
): readonly TracedFigure[] {
  const open = figures[figures.length - 1];
  if (open === undefined || grammar.kindOf(from) === undefined || grammar.kindOf(to) !== undefined)
    return figures;
  return [...figures.slice(0, -1), { ...open, to: at }];
}
