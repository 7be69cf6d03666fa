/** Where the messenger delivers updates: secret compared in constant time, bodies limited, /healthz, /readyz. */
import { createHash, timingSafeEqual } from "node:crypto";
import { createServer, type IncomingMessage, type ServerResponse } from "node:http";
import type { AddressInfo } from "node:net";
import { answerHealth, type Health } from "./status-server.js";

export interface WebhookOptions {
  readonly port: number;
  readonly host?: string;
  readonly secret: string;
  /** Resolves once the update is committed; rejects if it must be delivered again. */
  readonly onUpdate: (update: unknown) => Promise<void>;
  readonly health: Health;
}

export interface WebhookServer {
  readonly port: number;
  /** Takes no new requests; resolves when those in flight have ended. */
  close(): Promise<void>;
}

/** Far above any update of the messenger. Common practice, no source; 256 KiB to 4 MiB. */
export const BODY_LIMIT_BYTES = 1_048_576;
export const WEBHOOK_PATH = "/updates";
const SECRET_HEADER = "x-telegram-bot-api-secret-token";

export async function listenForUpdates(options: WebhookOptions): Promise<WebhookServer> {
  if (options.secret === "") throw new RangeError("the webhook needs a secret, got none");
  const server = createServer((request, response) => {
    take(request, response, options).catch(() => answer(response, 500));
  });
  server.headersTimeout = 10_000;
  server.requestTimeout = 30_000;
  await new Promise<void>((resolve, reject) => {
    server.once("error", reject);
    server.listen(options.port, options.host ?? "127.0.0.1", resolve);
  });
  return {
    port: (server.address() as AddressInfo).port,
    close: () =>
      new Promise((resolve) => {
        server.close(() => resolve());
        server.closeIdleConnections();
      }),
  };
}

async function take(
  request: IncomingMessage,
  response: ServerResponse,
  options: WebhookOptions,
): Promise<void> {
  const path = (request.url ?? "").split("?")[0] ?? "";
  if (request.method === "GET" && (await answerHealth(path, response, options.health))) return;
  if (path !== WEBHOOK_PATH) return answer(response, 404);
  if (request.method !== "POST") return answer(response, 405);
  if (!sameSecret(request.headers[SECRET_HEADER], options.secret)) return answer(response, 401);
  const body = await readBody(request);
  if (body === undefined) return answer(response, 413);
  let update: unknown;
  try {
    update = JSON.parse(body);
  } catch {
    return answer(response, 400);
  }
  try {
    await options.onUpdate(update);
  } catch {
    // Not committed: the messenger delivers it again.
    return answer(response, 503);
  }
  answer(response, 200);
}

/** Digests are of one length, so that the comparison tells nothing about the secret's. */
export function sameSecret(given: string | readonly string[] | undefined, secret: string): boolean {
  const digest = (text: string): Buffer => createHash("sha256").update(text).digest();
  return timingSafeEqual(digest(typeof given === "string" ? given : ""), digest(secret));
}

async function readBody(request: IncomingMessage): Promise<string | undefined> {
  if (Number(request.headers["content-length"] ?? 0) > BODY_LIMIT_BYTES) return undefined;
  const parts: Buffer[] = [];
  let size = 0;
  for await (const part of request as AsyncIterable<Buffer>) {
    size += part.length;
    if (size > BODY_LIMIT_BYTES) return undefined;
    parts.push(part);
  }
  return Buffer.concat(parts).toString("utf8");
}

function answer(response: ServerResponse, status: number): void {
  if (response.headersSent || response.destroyed) return;
  const close = status === 413 ? { connection: "close" } : {};
  response.writeHead(status, { "content-type": "text/plain", ...close }).end();
}
