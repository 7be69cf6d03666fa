/** A thread that hears one note after another. Talks in the messages of `ears.ts`. */
import { parentPort, workerData } from "node:worker_threads";
import type { ReadingContext } from "../language/index.js";
import { createCleaner } from "./clean.js";
import { createListener } from "./listener.js";
import { openNote } from "./open-note.js";
import type { NoteHeard } from "./recogniser.js";
import { createModelListener } from "./second-engine.js";
import { third } from "./third.js";

export interface Job {
  readonly id: number;
  readonly bytes: Uint8Array;
  readonly context: ReadingContext | undefined;
}
export type Answer =
  | { readonly id: number; readonly heard: NoteHeard }
  | { readonly ready: true }
  | { readonly broken: string };

const port = parentPort;
if (port === null) throw new RangeError("speech/worker runs as a worker thread only");

async function run(): Promise<void> {
  const { model } = workerData as { model?: string };
  const clean = await createCleaner();
  const listener = model === undefined ? await createListener() : createModelListener(model);
  const hear = async ({ bytes, context }: Job): Promise<NoteHeard> => {
    const from = performance.now();
    const took = (): number => Math.round(performance.now() - from) / 1000;
    const note = await openNote(bytes);
    if ("trouble" in note) return { kind: "trouble", ...note, tookS: took() };
    const heard = listener.recognise(third(clean(note.samples)), context);
    return { ...heard, durationS: Math.round(note.durationS * 100) / 100, tookS: took() };
  };
  port?.on("message", (job: Job) => {
    void hear(job)
      .catch((): NoteHeard => ({ kind: "trouble", trouble: "failed", tookS: 0 }))
      .then((heard) => port.postMessage({ id: job.id, heard } satisfies Answer));
  });
  port?.postMessage({ ready: true } satisfies Answer);
}

run().catch((cause: unknown) => {
  port.postMessage({
    broken: cause instanceof Error ? cause.message : String(cause),
  } satisfies Answer);
});
