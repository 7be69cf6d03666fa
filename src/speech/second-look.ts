/**
 * Looks at a sentence again: every figure of it against the values that sound alike, weighed by what the shop knows
 * of each figure alone and of all together. What remains is a handful of whole sentences for the engine to choose from.
 */
import type { ReadingContext } from "../language/index.js";
import type { Arc, Automaton } from "./automaton.js";
import { chancesOf, type FigureKind, spreadOf } from "./figure-kinds.js";
import { type Form, formsAlone, formsOf } from "./number-forms.js";
import { soundDistance } from "./sound-alike.js";
import { type Figures, togetherLog } from "./together.js";
import type { TracedFigure } from "./trace-figures.js";

/** Sounds farther apart than this are not mistaken for each other. */
const FARTHEST = 2.6;
/** Weight of a unit of distance against a logarithm of chance, when choosing what to look at. */
const DISTANCE_WEIGHT = 1.3;
const PER_FIGURE = 8;
const MOST_SENTENCES = 48;

export interface Sentence {
  readonly words: readonly string[];
  readonly values: readonly number[];
  /** Logarithm of its chance by the shop alone. */
  readonly log: number;
}
interface Candidate {
  readonly value: number;
  readonly words: readonly string[];
  readonly log: number;
  readonly rank: number;
}

export type Phones = (word: string) => readonly string[];

/** All ways to say each value of a kind, with their phones: made once a context. `phones` must stay the same for a word. */
export function lookAgain(context: ReadingContext, phones: Phones) {
  const tables = new Map<
    FigureKind,
    { value: number; form: Form; phones: readonly string[]; log: number }[]
  >();
  const tableOf = (kind: FigureKind) => {
    const known = tables.get(kind);
    if (known !== undefined) return known;
    const rows = [...chancesOf(spreadOf(kind, context))].flatMap(([value, chance]) =>
      (kind === "said" ? formsAlone : formsOf)(value).map((form) => ({
        value,
        form,
        phones: form.words.split(" ").flatMap((word) => phones(word)),
        log: Math.log(chance * form.share),
      })),
    );
    tables.set(kind, rows);
    return rows;
  };

  function candidates(figure: TracedFigure, words: readonly string[]): Candidate[] {
    const heard = words.slice(figure.from, figure.to).flatMap((word) => phones(word));
    const best = new Map<number, Candidate>();
    for (const row of tableOf(figure.kind)) {
      if (Math.abs(row.phones.length - heard.length) > 4) continue;
      const distance = soundDistance(heard, row.phones, FARTHEST);
      if (distance >= FARTHEST) continue;
      const rank = row.log - DISTANCE_WEIGHT * distance;
      const known = best.get(row.value);
      if (known === undefined || rank > known.rank) {
        best.set(row.value, {
          value: row.value,
          words: row.form.words.split(" "),
          log: row.log,
          rank,
        });
      }
    }
    return [...best.values()].sort((a, b) => b.rank - a.rank).slice(0, PER_FIGURE);
  }

  return (words: readonly string[], figures: readonly TracedFigure[]): Sentence[] => {
    let rows: { parts: Candidate[]; rank: number }[] = [{ parts: [], rank: 0 }];
    for (const figure of figures) {
      const found = candidates(figure, words);
      if (found.length === 0) return [];
      rows = rows
        .flatMap(({ parts, rank }) =>
          found.map((one) => ({ parts: [...parts, one], rank: rank + one.rank })),
        )
        .sort((a, b) => b.rank - a.rank)
        .slice(0, MOST_SENTENCES * 8);
    }
    const weighed = rows.map(({ parts, rank }) => {
      const known: Figures = Object.fromEntries(
        figures.map(({ kind }, i) => [kind, parts[i]?.value]),
      );
      const together = togetherLog(known, context);
      return {
        parts,
        rank: rank + together,
        log: parts.reduce((sum, { log }) => sum + log, together),
      };
    });
    return weighed
      .sort((a, b) => b.rank - a.rank)
      .slice(0, MOST_SENTENCES)
      .map(({ parts, log }) => ({
        words: put(words, figures, parts),
        values: parts.map(({ value }) => value),
        log,
      }));
  };
}

function put(
  words: readonly string[],
  figures: readonly TracedFigure[],
  parts: readonly Candidate[],
): string[] {
  const out: string[] = [];
  let at = 0;
  figures.forEach((figure, i) => {
    out.push(...words.slice(at, figure.from), ...(parts[i]?.words ?? []));
    at = figure.to;
  });
  return [...out, ...words.slice(at)];
}

/** A grammar of exactly these sentences, each with its chance. */
export function sentencesAutomaton(sentences: readonly Sentence[]): Automaton {
  const most = Math.max(...sentences.map(({ log }) => log));
  const moves: Map<string, number>[] = [new Map()];
  const mass: number[] = [0];
  const ending: number[] = [0];
  for (const { words, log } of sentences) {
    const chance = Math.exp(log - most);
    let at = 0;
    mass[0] = (mass[0] ?? 0) + chance;
    for (const word of words) {
      const next = moves[at]?.get(word) ?? moves.length;
      if (next === moves.length) {
        moves.push(new Map());
        mass.push(0);
        ending.push(0);
        moves[at]?.set(word, next);
      }
      mass[next] = (mass[next] ?? 0) + chance;
      at = next;
    }
    ending[at] = (ending[at] ?? 0) + chance;
  }
  const arcs: Arc[] = moves.flatMap((row, from) =>
    [...row].map(([word, to]) => ({ from, to, chance: (mass[to] ?? 0) / (mass[from] ?? 1), word })),
  );
  return {
    states: moves.length,
    start: 0,
    arcs,
    ends: ending.map((chance, i) => chance / (mass[i] ?? 1)),
  };
}
