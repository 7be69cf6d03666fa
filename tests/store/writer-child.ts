/**
 * A process that writes turn after turn until it is killed: `writer-child.ts FILE RUN`. It prints `open`,
 * then the id of each message once its turn is committed; or `refused CODE LINE` and ends.
 */
import { writeSync } from "node:fs";
import { openSqliteStore, StoreFailed } from "../../src/store/index.js";
import { atSecond, type Said, sampleMessage, sampleTurn } from "./sample-turns.js";

const [file = "", run = ""] = process.argv.slice(2);
/** At once, not through a buffer that a kill would lose; again while the reader of the pipe is behind. */
function say(line: string): void {
  for (;;) {
    try {
      writeSync(1, `${line}\n`);
      return;
    } catch (error) {
      if (!(error instanceof Error && "code" in error && error.code === "EAGAIN")) throw error;
    }
  }
}
const said: readonly Said[] = [
  { fact: { kind: "heat", temperatureC: 950 } },
  { fact: { kind: "melt", charge: [{ what: "iron", massG: 700 }, { what: "cast iron" }] } },
];

async function write(): Promise<void> {
  const store = await openSqliteStore({ file, now: () => atSecond(0) });
  say("open");
  for (let n = 0; ; n += 1) {
    const sample = { id: `${run}-${n}`, second: n };
    await store.receive(sampleMessage(sample));
    await store.commit(sampleTurn(sample, said));
    say(sample.id);
  }
}

write().catch((error: unknown) => {
  const line = error instanceof StoreFailed ? `${error.code} ${error.message}` : String(error);
  say(`refused ${line}`);
  process.exitCode = 1;
});
