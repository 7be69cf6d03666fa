/**
 * Figures of the run for a Prometheus server. Labels come from short lists of our own: no words, names or
 * ids of a person or a chat are ever in them. docs/operations.md lists them all.
 */
import { Counter, collectDefaultMetrics, Gauge, Histogram, Registry } from "prom-client";
import type { Arrival } from "./arrival.js";
import type { SendOutcome } from "./send-outcome.js";

export interface Depths {
  readonly arrivals?: number;
  readonly oldestArrivalS?: number;
  readonly replies: number;
  readonly oldestReplyS: number;
  readonly notes?: number;
  readonly oldestNoteS?: number;
}

/** What the edge tells; `none` is deaf. */
export interface Metrics {
  readonly messageIn: (kind: Arrival["kind"]) => void;
  /** From the start of its handling to the commit, s. */
  readonly turnTook: (seconds: number) => void;
  readonly sent: (outcome: SendOutcome["kind"]) => void;
  readonly noteHeard: (outcome: "words" | "trouble", seconds: number) => void;
  readonly databaseCall: (call: string, seconds: number) => void;
  readonly databaseError: (code: string) => void;
  /** Asked at every scrape. */
  readonly watch: (depths: () => Promise<Depths>) => void;
}

export const NO_METRICS: Metrics = {
  messageIn: () => undefined,
  turnTook: () => undefined,
  sent: () => undefined,
  noteHeard: () => undefined,
  databaseCall: () => undefined,
  databaseError: () => undefined,
  watch: () => undefined,
};

export interface ServedMetrics extends Metrics {
  readonly contentType: string;
  /** The page that is scraped. */
  page(): Promise<string>;
}

const TURN_BUCKETS_S = [0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10];
const NOTE_BUCKETS_S = [0.5, 1, 2, 3, 5, 8, 13, 21, 34, 60, 180];
const CALL_BUCKETS_S = [0.0005, 0.001, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.5, 2];
/** A failed scrape of the depths shows as this. */
const UNKNOWN = Number.NaN;

export function createMetrics(): ServedMetrics {
  const registry = new Registry();
  const registers = [registry];
  collectDefaultMetrics({ register: registry, prefix: "hearth_" });
  const counter = (name: string, help: string, label: string) =>
    new Counter({ name: `hearth_${name}`, help, labelNames: [label] as const, registers });
  const seconds = (name: string, help: string, buckets: number[], labelNames: string[] = []) =>
    new Histogram({ name: `hearth_${name}`, help, buckets, labelNames, registers });
  const messages = counter("messages_in_total", "Updates taken in, by kind.", "kind");
  const sends = counter("sends_total", "Replies handed to the messenger, by outcome.", "outcome");
  const errors = counter("database_errors_total", "Refusals of the database, by code.", "code");
  const turns = seconds("turn_seconds", "Handling of one update, to its commit.", TURN_BUCKETS_S);
  const notes = seconds("voice_seconds", "Hearing of one voice note.", NOTE_BUCKETS_S, ["outcome"]);
  const calls = seconds("database_seconds", "One call of the store.", CALL_BUCKETS_S, ["call"]);
  const depthsOf = watchedDepths(registry);
  return {
    contentType: registry.contentType,
    async page() {
      await depthsOf.refresh();
      return registry.metrics();
    },
    messageIn: (kind) => messages.inc({ kind }),
    turnTook: (took) => turns.observe(took),
    sent: (outcome) => sends.inc({ outcome }),
    noteHeard: (outcome, took) => notes.observe({ outcome }, took),
    databaseCall: (call, took) => calls.observe({ call }, took),
    databaseError: (code) => errors.inc({ code: plainCode(code) }),
    watch: depthsOf.watch,
  };
}

/** Codes of databases and systems are short words; anything else could hold more than a code. */
const plainCode = (code: string): string => (/^[\w-]{1,24}$/.test(code) ? code : "other");

const DEPTHS = {
  arrivals: ["arrivals_waiting", "Updates put down and not dealt with."],
  oldestArrivalS: ["arrivals_oldest_seconds", "Age of the oldest of them."],
  replies: ["outbox_waiting", "Replies not yet sent."],
  oldestReplyS: ["outbox_oldest_seconds", "Age of the oldest of them."],
  notes: ["voice_waiting", "Voice notes not yet heard."],
  oldestNoteS: ["voice_oldest_seconds", "Age of the oldest of them."],
} as const;

function watchedDepths(registry: Registry) {
  let ask: (() => Promise<Depths>) | undefined;
  const gauges = Object.entries(DEPTHS).map(([key, [name, help]]) => ({
    key: key as keyof typeof DEPTHS,
    gauge: new Gauge({ name: `hearth_${name}`, help, registers: [registry] }),
  }));
  return {
    watch(depths: () => Promise<Depths>): void {
      ask = depths;
    },
    async refresh(): Promise<void> {
      if (ask === undefined) return;
      const now = await ask().catch(() => undefined);
      for (const { key, gauge } of gauges) {
        gauge.set(now === undefined ? UNKNOWN : (now[key] ?? 0));
      }
    },
  };
}
