/** A log on disk with its smiths let in, ready for a process to work on. */
import { createHash } from "node:crypto";
import { mkdtempSync, rmSync } from "node:fs";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { openLog } from "../../src/store/index.js";
import { FAULT_TOKEN, type FaultServer, SECRET } from "./server.js";

export const OWNER_ID = "4242";

export interface Shop {
  readonly folder: string;
  readonly file: string;
  readonly env: (server: FaultServer) => Record<string, string>;
  readonly remove: () => void;
}

export async function openShop(smiths: readonly number[], folder?: string): Promise<Shop> {
  const place = folder ?? mkdtempSync(join(tmpdir(), "hearth-faults-"));
  const file = join(place, "log.sqlite");
  await letIn(file, smiths);
  return {
    folder: place,
    file,
    env: (server) => ({
      DB: file,
      BOT_TOKEN: FAULT_TOKEN,
      BOT_API_ROOT: server.root,
      OWNER_ID,
      WEBHOOK_SECRET: SECRET,
      LOG_LEVEL: "warn",
    }),
    remove: () => rmSync(place, { recursive: true, force: true }),
  };
}

/** The owner and these smiths come in, to the log of a file or an address. */
export async function letIn(db: string, smiths: readonly number[]): Promise<void> {
  const at = "2026-03-01T08:00:00.000Z";
  const log = await openLog({ db, now: () => at });
  const { access } = log;
  await access.setOwner(OWNER_ID, at);
  for (const smith of smiths) {
    const codeHash = createHash("sha256").update(String(smith)).digest("hex");
    await access.createInvite({ codeHash, role: "smith", at, expiresAt: "2026-03-02T08:00:00Z" });
    await access.useInvite(codeHash, { id: String(smith), name: `Smith ${smith}` }, at);
  }
  await log.close();
}

export async function freePort(): Promise<number> {
  const server = createServer();
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  const address = server.address();
  await new Promise<void>((resolve) => server.close(() => resolve()));
  if (address === null || typeof address === "string") throw new Error("no port");
  return address.port;
}
