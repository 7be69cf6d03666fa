/**
 * A Bot API server on loopback that fails on purpose: delivers twice, late and out of order, closes
 * connections in the middle of a response, answers 429, 500, 502 and garbage.
 */
import { createServer, type IncomingMessage, type ServerResponse } from "node:http";
import type { AddressInfo } from "node:net";
import type { Chance } from "./chance.js";

export const FAULT_TOKEN = "987654321:AAfaulttoken-faulttoken_faulttoken123";
export const SECRET = "faults-secret";

export interface Faults {
  /** Likelihoods, 0 to 1, for each answer of getUpdates or each delivery. */
  readonly twice: number;
  /** Delivered to a second webhook at the same moment, where there are several. */
  readonly atOnce?: number;
  /** Held back while other chats go on, as from a phone without a network. */
  readonly late: number;
  readonly shuffled: number;
  /** Likelihoods for each call. */
  readonly cut: number;
  readonly tooMany: number;
  readonly internal: number;
  readonly badGateway: number;
  readonly garbage: number;
}
export const NO_FAULTS: Faults = {
  twice: 0,
  late: 0,
  shuffled: 0,
  cut: 0,
  tooMany: 0,
  internal: 0,
  badGateway: 0,
  garbage: 0,
};

export interface Update {
  readonly update_id: number;
  readonly [field: string]: unknown;
}
export interface Sent {
  readonly method: string;
  readonly chatId: string;
  readonly text: string;
  readonly atMs: number;
  readonly markup: string;
}

export interface FaultServer {
  readonly root: string;
  readonly sent: Sent[];
  readonly answered: Map<string, number>;
  /** Voice notes by their file id: what fetching one gives. */
  readonly notes: Map<string, string>;
  faults: Faults;
  /** Hands an update over; in webhook mode to an address, in order within a chat. */
  give(update: Update): void;
  /** Where updates go, to any of several; undefined for long polling. */
  webhook: string | readonly string[] | undefined;
  /** Updates not yet acknowledged. */
  open(): number;
  /** Calls of getUpdates so far. */
  polls(): number;
  close(): Promise<void>;
}

export async function openFaultServer(chance: Chance): Promise<FaultServer> {
  const pending: Update[] = [];
  const acked: Update[] = [];
  const sent: Sent[] = [];
  const answered = new Map<string, number>();
  const notes = new Map<string, string>();
  const queues = new Map<string, Update[]>();
  const timers = new Set<NodeJS.Timeout>();
  const held = new Map<string, Update[]>();
  let nextId = 10_000;
  let waiting: (() => void)[] = [];
  let polls = 0;
  let messageId = 1;
  let closed = false;
  let state: FaultServer;

  const later = (ms: number, what: () => void): void => {
    const timer = setTimeout(() => {
      timers.delete(timer);
      what();
    }, ms);
    timers.add(timer);
  };
  const wake = (): void => {
    for (const each of waiting) each();
    waiting = [];
  };

  async function getUpdates(body: Record<string, unknown>): Promise<readonly Update[]> {
    polls += 1;
    const offset = Number(body.offset ?? 0);
    while (pending[0] !== undefined && pending[0].update_id < offset) {
      acked.push(pending.shift() as Update);
    }
    const ready = (): Update[] => pending.slice(0, Number(body.limit ?? 100));
    if (ready().length === 0 && Number(body.timeout ?? 0) > 0) {
      await new Promise<void>((resolve) => {
        waiting.push(resolve);
        later(Math.min(Number(body.timeout) * 1000, 2000), resolve);
      });
    }
    const batch = ready();
    if (acked.length > 0 && chance.hits(state.faults.twice)) batch.push(chance.pick(acked));
    if (chance.hits(state.faults.shuffled)) batch.reverse();
    return batch;
  }

  function send(method: string, body: Record<string, unknown>): unknown {
    sent.push({
      method,
      chatId: String(body.chat_id),
      text: String(body.text ?? ""),
      atMs: performance.now(),
      markup: JSON.stringify(body.reply_markup ?? null),
    });
    return { message_id: messageId++, date: 1, chat: { id: body.chat_id, type: "private" } };
  }

  async function answer(request: IncomingMessage, response: ServerResponse): Promise<void> {
    const raw: Buffer[] = [];
    for await (const part of request as AsyncIterable<Buffer>) raw.push(part);
    const text = Buffer.concat(raw).toString();
    const method = (request.url ?? "").split("/").at(-1) ?? "";
    const json = request.headers["content-type"]?.includes("json") === true && text !== "";
    const body = json ? (JSON.parse(text) as Record<string, unknown>) : {};
    answered.set(method, (answered.get(method) ?? 0) + 1);
    const fail = (status: number, description: string, parameters?: object): void =>
      reply(response, status, { ok: false, error_code: status, description, parameters });
    const { faults } = state;
    if ((request.url ?? "").startsWith("/file/")) {
      const note = notes.get(method);
      response.writeHead(note === undefined ? 404 : 200).end(note ?? "");
      return;
    }
    if (chance.hits(faults.tooMany)) return fail(429, "Too Many Requests", { retry_after: 1 });
    if (chance.hits(faults.internal)) return fail(500, "Internal Server Error");
    if (chance.hits(faults.badGateway)) {
      response.writeHead(502, { "content-type": "text/html" }).end("<html>502</html>");
      return;
    }
    let result: unknown = true;
    if (method === "getMe")
      result = { id: 1, is_bot: true, first_name: "F", username: "fault_bot" };
    if (method === "getUpdates") result = await getUpdates(body);
    if (method === "getFile") {
      result = { file_id: body.file_id, file_path: `voice/${String(body.file_id)}` };
    }
    if (method === "sendMessage" || method === "sendDocument") result = send(method, body);
    const whole = JSON.stringify({ ok: true, result });
    if (chance.hits(faults.garbage)) {
      response.writeHead(200, { "content-type": "application/json" }).end(whole.slice(0, 9));
    } else if (chance.hits(faults.cut)) {
      // What was asked is done, but the answer never arrives whole.
      response.writeHead(200, { "content-length": String(whole.length) });
      response.write(whole.slice(0, Math.floor(whole.length / 2)));
      later(2, () => response.destroy());
    } else {
      reply(response, 200, { ok: true, result });
    }
  }

  /** From now on the bot can get it; its number says when. */
  function show(update: Update): void {
    const numbered = { ...update, update_id: nextId++ };
    if (state.webhook === undefined) {
      pending.push(numbered);
      wake();
      return;
    }
    const chat = chatOf(update);
    const queue = queues.get(chat);
    if (queue) queue.push(numbered);
    else {
      queues.set(chat, [numbered]);
      void pump(chat);
    }
  }

  /** Delivers the updates of one chat one after another, each until it is taken. */
  async function pump(chat: string): Promise<void> {
    const queue = queues.get(chat) ?? [];
    while (queue[0] !== undefined && !closed) {
      const update = queue[0];
      const taken = await post(update);
      if (taken && !chance.hits(state.faults.twice)) queue.shift();
      else await new Promise<void>((resolve) => later(taken ? 1 : 40, resolve));
    }
    queues.delete(chat);
  }

  /** True if one of those it went to has taken it. */
  async function post(update: Update): Promise<boolean> {
    const { webhook } = state;
    if (webhook === undefined) return false;
    if (typeof webhook === "string") return postTo(webhook, update);
    const first = chance.pick(webhook);
    const others = webhook.filter((each) => each !== first);
    if (others.length === 0 || !chance.hits(state.faults.atOnce ?? 0)) return postTo(first, update);
    const both = [first, chance.pick(others)].map((each) => postTo(each, update));
    return (await Promise.all(both)).some((taken) => taken);
  }

  async function postTo(address: string, update: Update): Promise<boolean> {
    try {
      const response = await fetch(address, {
        method: "POST",
        headers: {
          "content-type": "application/json",
          "x-telegram-bot-api-secret-token": SECRET,
        },
        body: JSON.stringify(update),
        signal: AbortSignal.timeout(5000),
      });
      await response.arrayBuffer();
      return response.status === 200 && !chance.hits(state.faults.cut);
    } catch {
      return false;
    }
  }

  const server = createServer((request, response) => {
    answer(request, response).catch(() => response.destroy());
  });
  server.keepAliveTimeout = 30_000;
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));

  state = {
    root: `http://127.0.0.1:${(server.address() as AddressInfo).port}`,
    sent,
    answered,
    notes,
    faults: NO_FAULTS,
    webhook: undefined,
    give(update) {
      const chat = chatOf(update);
      const before = held.get(chat);
      if (before) before.push(update);
      else if (chance.hits(state.faults.late)) {
        const waitingHere = [update];
        held.set(chat, waitingHere);
        later(50 + chance.below(500), () => {
          held.delete(chat);
          for (const each of waitingHere) show(each);
        });
      } else show(update);
    },
    open: () =>
      pending.length +
      [...queues.values(), ...held.values()].reduce((total, queue) => total + queue.length, 0),
    polls: () => polls,
    async close() {
      closed = true;
      for (const timer of timers) clearTimeout(timer);
      wake();
      server.closeAllConnections();
      await new Promise<void>((resolve) => server.close(() => resolve()));
    },
  };
  return state;
}

function reply(response: ServerResponse, status: number, body: unknown): void {
  response.writeHead(status, { "content-type": "application/json" }).end(JSON.stringify(body));
}

export function chatOf(update: Update): string {
  const found = /"chat":\{"id":(-?\d+)/.exec(JSON.stringify(update));
  return found?.[1] ?? "none";
}
