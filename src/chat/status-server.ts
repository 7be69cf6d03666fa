/** Figures and health of one process over HTTP, for this machine unless another address is asked for. */
import { createServer, type ServerResponse } from "node:http";
import type { AddressInfo } from "node:net";
import type { ServedMetrics } from "./metrics.js";

export interface Health {
  /** Alive: not stopping, and the last thing that had to be written could be. */
  readonly isWell: () => boolean;
  /** The database is reachable and its tables are those of this program. Never rejects. */
  readonly isReady: () => Promise<boolean>;
}

export interface StatusServer {
  readonly port: number;
  close(): Promise<void>;
}

export async function serveStatus(options: {
  readonly port: number;
  readonly host?: string;
  readonly metrics: Pick<ServedMetrics, "page" | "contentType">;
  readonly health: Health;
}): Promise<StatusServer> {
  const { metrics, health } = options;
  async function take(path: string, response: ServerResponse): Promise<void> {
    if (await answerHealth(path, response, health)) return;
    if (path !== "/metrics") return answer(response, 404);
    answer(response, 200, await metrics.page(), metrics.contentType);
  }
  const server = createServer((request, response) => {
    request.resume();
    if (request.method !== "GET") return answer(response, 405);
    take((request.url ?? "").split("?")[0] ?? "", response).catch(() => answer(response, 500));
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
        server.closeAllConnections();
      }),
  };
}

/** True if the path was one of health. */
export async function answerHealth(
  path: string,
  response: ServerResponse,
  health: Health,
): Promise<boolean> {
  if (path !== "/healthz" && path !== "/readyz") return false;
  const good = path === "/healthz" ? health.isWell() : health.isWell() && (await health.isReady());
  const [yes, no] = path === "/healthz" ? ["well\n", "unwell\n"] : ["ready\n", "not ready\n"];
  answer(response, good ? 200 : 503, good ? yes : no);
  return true;
}

function answer(response: ServerResponse, status: number, body = "", type = "text/plain"): void {
  if (response.headersSent || response.destroyed) return;
  response.writeHead(status, { "content-type": type }).end(body);
}
