/** The messaging edge: updates in by long polling or webhook, replies out through the outbox. */
import { createHmac } from "node:crypto";
import { setMaxListeners } from "node:events";
import { type ChatIds, loadChatIds } from "./chat-ids.js";
import { createChatLanes } from "./chat-lanes.js";
import { backOffMs, systemClock } from "./clock.js";
import { createDoor, INVITE_HOURS } from "./door.js";
import { createForgetting } from "./forgetting.js";
import { heartbeat } from "./heartbeat.js";
import { inviteLink } from "./invite-code.js";
import { createCalls } from "./messenger-calls.js";
import type { Messenger, MessengerOptions } from "./messenger-options.js";
import { createOutbox, type Outbox } from "./outbox.js";
import { createPacing, PUBLISHED_LIMITS } from "./pacing.js";
import { pollUpdates } from "./polling.js";
import { redact } from "./redact.js";
import type { ArrivalDeps } from "./take-arrival.js";
import { describeTrouble, isStoreTrouble } from "./trouble.js";
import { createUpdateTaker } from "./update-taker.js";
import { createVoiceKeeping } from "./voice-keeping.js";
import { listenForUpdates, type WebhookServer } from "./webhook.js";

/** The token is wrong, or the address is. */
export class MessengerRefused extends Error {
  override readonly name = "MessengerRefused";
}

export function createMessenger(options: MessengerOptions): Messenger {
  const { token, handler, store, access, logger, now } = options;
  const clock = options.clock ?? systemClock;
  const stopping = new AbortController();
  const { signal } = stopping;
  // Every chat that waits to be sent to listens.
  setMaxListeners(0, signal);
  const calls = createCalls({
    token,
    apiRoot: options.apiRoot ?? "https://api.telegram.org",
    libraryClient: options.libraryClient === true,
    logger,
    signal,
    ...(options.speak === undefined ? {} : { speak: options.speak }),
    ...(options.render === undefined ? {} : { render: options.render }),
  });
  const lanes = createChatLanes();
  const runId = options.newId();
  let botName = options.botInfo?.username ?? "";
  let running: Promise<void> = Promise.resolve();
  let server: WebhookServer | undefined;
  let beating: Promise<void> = Promise.resolve();
  let well = false;

  function arrivalDeps(ids: ChatIds, outbox: Outbox): ArrivalDeps {
    const { hear, privacy, ownerId, voiceFolder } = options;
    const voices = voiceFolder === undefined ? undefined : createVoiceKeeping(voiceFolder, logger);
    const canKeepVoice = hear !== undefined && voices !== undefined;
    return {
      handler,
      access,
      ids,
      now,
      newId: options.newId,
      door: createDoor({
        access,
        now,
        canKeepVoice,
        ...(ownerId === undefined ? {} : { ownerId }),
      }),
      ...(privacy ? { forgetting: createForgetting(privacy, voices) } : {}),
      botName: () => botName,
      say: (chatId, line) => calls.say(ids, chatId, line),
      sendFile: (chatId, name, text) => calls.sendFile(ids, chatId, name, text),
      endPress: calls.endPress,
      ...(hear ? { hearNote: (file, who, keep) => calls.hearNote(hear, file, who, keep) } : {}),
      ...(voices ? { voices } : {}),
      kick: outbox.kick,
    };
  }

  async function nameOfBot(): Promise<void> {
    for (let tries = 0; botName === "" && !signal.aborted; tries += 1) {
      try {
        botName = await calls.username();
      } catch (error) {
        const code = error instanceof Error && "error_code" in error ? error.error_code : undefined;
        if (code === 401 || code === 404) {
          throw new MessengerRefused("the messenger refuses the token: check BOT_TOKEN");
        }
        logger.warn({ trouble: redact(describeTrouble(error), token) }, "messenger not reached");
        await clock.sleep(backOffMs(tries, 30_000), signal);
      }
    }
  }

  /** Answers what the last run stored and did not answer. */
  async function resume(): Promise<void> {
    for (let tries = 0; !signal.aborted; tries += 1) {
      try {
        const resumed = await handler.resume();
        if (resumed > 0) logger.info({ resumed }, "taken up from the last run");
        return;
      } catch (error) {
        logger.error({ trouble: describeTrouble(error) }, "could not resume");
        if (!isStoreTrouble(error)) return;
        await clock.sleep(backOffMs(tries, 15_000), signal);
      }
    }
  }

  async function tellAddress(url: string, secret: string): Promise<void> {
    for (let tries = 0; !signal.aborted; tries += 1) {
      const outcome = await calls.deliverTo(url, secret);
      if (outcome === "done") return;
      if (outcome === "refused") {
        throw new MessengerRefused(
          "the messenger refuses the webhook's address: check WEBHOOK_URL",
        );
      }
      await clock.sleep(backOffMs(tries, 30_000), signal);
    }
  }

  async function receive(arrivals: ArrivalDeps): Promise<void> {
    const { webhook } = options;
    const take = createUpdateTaker({
      arrivals,
      lanes,
      clock,
      logger,
      signal,
      patient: webhook === undefined,
      onWell: (now) => {
        well = now;
      },
    });
    if (!webhook) {
      await calls.ownUpdates();
      running = pollUpdates({ fetch: calls.updates, onUpdate: take, clock, logger, signal });
      return;
    }
    const secret = webhook.secret ?? secretFrom(token);
    server = await listenForUpdates({
      port: webhook.port,
      ...(webhook.host === undefined ? {} : { host: webhook.host }),
      secret,
      onUpdate: take,
      isWell: () => well && !signal.aborted,
    });
    logger.info({ port: server.port }, "listening for updates");
    if (webhook.url !== undefined) await tellAddress(webhook.url, secret);
  }

  async function begin(): Promise<void> {
    const ids = await loadChatIds(access, now);
    const outbox = createOutbox({
      store,
      send: (reply, plainly) => calls.send(ids, reply, plainly),
      moved: ids.moved,
      pacing: createPacing(options.limits ?? PUBLISHED_LIMITS),
      clock,
      now,
      logger,
      signal,
    });
    const deps = arrivalDeps(ids, outbox);
    const lastRun = await options.runs?.beginRun(runId, now());
    const { pairingCode } = await deps.door.open();
    await nameOfBot();
    if (signal.aborted) return;
    if (pairingCode !== undefined) {
      const print = options.print ?? ((line: string) => console.log(line));
      print(`Open this link once, within ${INVITE_HOURS} h, to own the bot:`);
      print(inviteLink(botName, pairingCode));
    }
    await resume();
    await outbox.kickAll();
    if (options.runs) {
      beating = heartbeat({ runs: options.runs, runId, now, clock, logger, signal });
    }
    // A bot that falls over again and again says so once an hour.
    if (lastRun && !lastRun.endedWell && lastRun.badLately <= 1) {
      const owner = (await access.people()).find((each) => each.role === "owner");
      if (owner) {
        await deps.say(owner.id, {
          text: `The last run ended badly, after ${lastRun.beatAt}. What was left open is taken up now.`,
        });
      }
    }
    if (signal.aborted) return;
    well = true;
    await receive(deps);
    running = Promise.all([running, idleAfterStop(outbox)]).then(() => undefined);
  }

  let begun: Promise<void> | undefined;
  return {
    port: () => server?.port,
    start() {
      begun ??= begin();
      return begun;
    },
    async stop() {
      stopping.abort();
      await begun?.catch(() => undefined);
      await server?.close();
      await running;
      await lanes.idle();
      await beating;
      await options.runs?.endRun(runId, now()).catch(() => undefined);
    },
  };

  async function idleAfterStop(outbox: Outbox): Promise<void> {
    await new Promise<void>((resolve) => {
      if (signal.aborted) resolve();
      else signal.addEventListener("abort", () => resolve(), { once: true });
    });
    await outbox.idle();
  }
}

/** A secret that only who knows the token can name; stable over restarts. */
function secretFrom(token: string): string {
  return createHmac("sha256", token).update("webhook").digest("hex");
}
