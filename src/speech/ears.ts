/** Hears voice notes in worker threads, so that nobody's typed message waits: a queue with a limit, one note a thread at a time. */
import { readFile, stat } from "node:fs/promises";
import { Worker } from "node:worker_threads";
import type { ReadingContext } from "../language/index.js";
import { NOTE_LIMIT_BYTES, type NoteTrouble } from "./note-trouble.js";
import type { NoteHeard } from "./recogniser.js";
import type { Answer, Job } from "./worker.js";

export interface EarsOptions {
  /** Threads; each holds an engine. Common practice, no source; 1 to the number of cores. */
  readonly threads?: number;
  /** Notes that may wait. */
  readonly queue?: number;
  /** A model for the second engine; absent, the engine that ships. */
  readonly model?: string;
}

export interface Ears {
  /** Resolves when a note can be heard; rejects with a clear line if the engine can not start. */
  ready(): Promise<void>;
  /** Never rejects: what went wrong is in the answer. */
  hear(file: string, context?: ReadingContext): Promise<NoteHeard>;
  hearBytes(bytes: Uint8Array, context?: ReadingContext): Promise<NoteHeard>;
  close(): Promise<void>;
}

/** The engine could not start; `message` is for the person who starts the bot. */
export class EarsBroken extends Error {
  override readonly name = "EarsBroken";
}

const QUEUE = 8;
/** The engine keeps a little of every grammar that it was given: a thread makes way for a fresh one after so many notes. */
const NOTES_A_THREAD = 40;
/** A note that takes longer is given up, ms. */
const PATIENCE_MS = 180_000;

interface Waiting {
  readonly job: Job;
  readonly answer: (heard: NoteHeard) => void;
}
interface Thread {
  readonly worker: Worker;
  readonly ready: Promise<void>;
  notes: number;
  now: Waiting | undefined;
  timer: NodeJS.Timeout | undefined;
}

const trouble = (code: NoteTrouble): NoteHeard => ({ kind: "trouble", trouble: code, tookS: 0 });

export function createEars(options: EarsOptions = {}): Ears {
  const queue: Waiting[] = [];
  const threads = new Set<Thread>();
  let lastId = 0;
  let closing = false;

  function start(): Thread {
    const thread = startThread(options.model);
    threads.add(thread);
    thread.worker.on("message", (message: Answer) => {
      if ("heard" in message) finish(thread, message.heard);
    });
    thread.worker.on("error", () => finish(thread, trouble("failed"), true));
    thread.worker.on("exit", () => finish(thread, trouble("failed"), true));
    thread.ready.then(next, () => finish(thread, trouble("failed"), true));
    return thread;
  }

  function finish(thread: Thread, heard: NoteHeard, lost = false): void {
    clearTimeout(thread.timer);
    thread.now?.answer(heard);
    thread.now = undefined;
    if (lost || thread.notes >= NOTES_A_THREAD) {
      if (threads.delete(thread)) void thread.worker.terminate();
    }
    next();
  }

  function next(): void {
    if (closing || queue.length === 0) return;
    let thread = [...threads].find((one) => one.now === undefined);
    if (thread === undefined && threads.size < (options.threads ?? 1)) thread = start();
    if (thread === undefined) return;
    const free = thread;
    const waiting = queue.shift();
    if (waiting === undefined) return;
    free.now = waiting;
    free.notes += 1;
    free.timer = setTimeout(() => finish(free, trouble("failed"), true), PATIENCE_MS);
    free.ready.then(
      () => free.worker.postMessage(waiting.job),
      () => undefined,
    );
  }

  const hearBytes = (bytes: Uint8Array, context?: ReadingContext): Promise<NoteHeard> => {
    if (closing || queue.length >= (options.queue ?? QUEUE))
      return Promise.resolve(trouble("busy"));
    return new Promise((answer) => {
      lastId += 1;
      queue.push({ job: { id: lastId, bytes, context }, answer });
      next();
    });
  };

  return {
    async ready() {
      const [thread = start()] = threads;
      await thread.ready;
    },
    hearBytes,
    async hear(file, context) {
      const bytes = await fileBytes(file);
      return typeof bytes === "string" ? trouble(bytes) : hearBytes(bytes, context);
    },
    async close() {
      closing = true;
      for (const { answer } of queue.splice(0)) answer(trouble("busy"));
      await Promise.all(
        [...threads].map(({ worker, timer }) => {
          clearTimeout(timer);
          return worker.terminate();
        }),
      );
    },
  };
}

/** Size is looked at before anything is read. */
async function fileBytes(file: string): Promise<Uint8Array | NoteTrouble> {
  try {
    const about = await stat(file);
    if (!about.isFile()) return "missing";
    if (about.size > NOTE_LIMIT_BYTES) return "too-big";
    return await readFile(file);
  } catch {
    return "missing";
  }
}

const FROM_SOURCE = `
  const { workerData } = require("node:worker_threads");
  import("tsx/esm/api").then(({ register }) => {
    register();
    return import(workerData.entry);
  });`;

/** MB. A note leaves some ten of garbage: within these it is collected in time, and 40 to 60 are in use. */
const resourceLimits = { maxOldGenerationSizeMb: 192, maxYoungGenerationSizeMb: 12 };

/** From source the thread needs what runs TypeScript; from `dist` it does not. */
function startThread(model: string | undefined): Thread {
  const workerData = model === undefined ? {} : { model };
  const worker = import.meta.url.endsWith(".ts")
    ? new Worker(FROM_SOURCE, {
        eval: true,
        resourceLimits,
        workerData: { ...workerData, entry: new URL("./worker.ts", import.meta.url).href },
      })
    : new Worker(new URL("./worker.js", import.meta.url), { resourceLimits, workerData });
  const ready = new Promise<void>((resolve, reject) => {
    worker.on("message", (message: Answer) => {
      if ("ready" in message) resolve();
      if ("broken" in message) reject(new EarsBroken(message.broken));
    });
    worker.on("error", (cause) => reject(new EarsBroken(cause.message)));
  });
  ready.catch(() => undefined);
  return { worker, ready, notes: 0, now: undefined, timer: undefined };
}
