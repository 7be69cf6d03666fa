/** The parts of the messaging edge, put together: alone with its log, or one of several on a database. */
import type { LogStore } from "../logbook/index.js";
import { readUpdate } from "./arrival.js";
import type { ChatIds } from "./chat-ids.js";
import type { ChatLanes } from "./chat-lanes.js";
import type { Clock } from "./clock.js";
import { createDoor } from "./door.js";
import { createForgetting } from "./forgetting.js";
import type { MessengerCalls } from "./messenger-calls.js";
import type { MessengerOptions } from "./messenger-options.js";
import type { Metrics } from "./metrics.js";
import { signedQuestions } from "./open-questions.js";
import { createOutbox, type Outbox } from "./outbox.js";
import { createPacing, PUBLISHED_LIMITS } from "./pacing.js";
import { createSharedEdge, leasesOf, type SharedEdge, sendHold } from "./shared-edge.js";
import { createSharedPacing } from "./shared-pacing.js";
import type { ArrivalDeps } from "./take-arrival.js";
import type { Hear } from "./terminal.js";
import { secretFrom } from "./token-secret.js";
import { createUpdateTaker } from "./update-taker.js";
import { createVoiceKeeping } from "./voice-keeping.js";

export interface EdgePartsDeps {
  readonly options: MessengerOptions;
  /** As `options.store`, counted and timed where figures are served. */
  readonly store: LogStore;
  readonly calls: MessengerCalls;
  readonly ids: ChatIds;
  readonly lanes: ChatLanes;
  readonly clock: Clock;
  readonly metrics: Metrics;
  readonly signal: AbortSignal;
  readonly botName: () => string;
  readonly onWell: (well: boolean) => void;
}

export interface EdgeParts {
  readonly outbox: Outbox;
  readonly arrivals: ArrivalDeps;
  /** Resolves once the update may be acknowledged. */
  readonly onUpdate: (raw: unknown) => Promise<void>;
  readonly shared?: SharedEdge;
}

export function createEdgeParts(deps: EdgePartsDeps): EdgeParts {
  const { options, ids, clock, metrics, signal } = deps;
  const { logger, now, sharing } = options;
  const leases = sharing && leasesOf(sharing, clock, logger);
  const limits = options.limits ?? PUBLISHED_LIMITS;
  const outbox = createOutbox({
    store: deps.store,
    async send(reply, plainly) {
      const outcome = await deps.calls.send(ids, reply, plainly);
      metrics.sent(outcome.kind);
      return outcome;
    },
    moved: ids.moved,
    pacing: sharing
      ? createSharedPacing(sharing.work, limits, clock, signal)
      : createPacing(limits),
    clock,
    now,
    logger,
    signal,
    ...(sharing && leases ? { hold: sendHold(sharing, leases, clock) } : {}),
  });
  const arrivals = arrivalDeps(deps, outbox);
  const take = createUpdateTaker({
    arrivals,
    lanes: deps.lanes,
    clock,
    logger,
    signal,
    patient: options.webhook === undefined && sharing === undefined,
    metrics,
    onWell: deps.onWell,
  });
  const { hear } = options;
  const shared =
    sharing && leases
      ? createSharedEdge({
          sharing,
          leases,
          ids,
          arrivals,
          take,
          calls: deps.calls,
          ...(hear ? { hear } : {}),
          clock,
          now,
          logger,
          metrics,
          signal,
        })
      : undefined;
  return {
    outbox,
    arrivals,
    async onUpdate(raw) {
      metrics.messageIn(readUpdate(raw).kind);
      await (shared?.onUpdate(raw) ?? take(raw));
    },
    ...(shared ? { shared } : {}),
  };
}

function arrivalDeps(deps: EdgePartsDeps, outbox: Outbox): ArrivalDeps {
  const { options, calls, ids } = deps;
  const { access, now, hear, privacy, ownerId, voiceFolder, sharing, token } = options;
  const voices =
    voiceFolder === undefined ? undefined : createVoiceKeeping(voiceFolder, options.logger);
  const canKeepVoice = voices !== undefined && (hear !== undefined || sharing !== undefined);
  // Any of several processes may get the button of a question.
  const questions = sharing && signedQuestions(secretFrom(token, "questions"));
  return {
    handler: options.handler,
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
    ...(privacy ? { forgetting: createForgetting(privacy, voices, questions) } : {}),
    botName: deps.botName,
    say: (chatId, line) => calls.say(ids, chatId, line),
    sendFile: (chatId, name, text) => calls.sendFile(ids, chatId, name, text),
    endPress: calls.endPress,
    ...(hear ? { hearNote: timedHearing(hear, deps) } : {}),
    ...(voices ? { voices } : {}),
    kick: outbox.kick,
  };
}

function timedHearing(
  hear: Hear,
  { calls, clock, metrics }: EdgePartsDeps,
): NonNullable<ArrivalDeps["hearNote"]> {
  return async (file, who, keep) => {
    const fromMs = clock.nowMs();
    const words = await calls.hearNote(hear, file, who, keep);
    const outcome = words.text === "" ? "trouble" : "words";
    metrics.noteHeard(outcome, (clock.nowMs() - fromMs) / 1000);
    return words;
  };
}
