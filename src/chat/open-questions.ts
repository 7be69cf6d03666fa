/** A question beside the log that waits for its button: who was asked, and until when. */
import { createHmac, randomBytes, timingSafeEqual } from "node:crypto";

export type Standing = "open" | "over" | "not-theirs";

export interface OpenQuestions {
  /** 16 letters that name the question in its buttons. */
  ask(personId: string, untilMs: number): string;
  standing(name: string, personId: string, nowMs: number): Standing;
  /** It was answered. */
  close(name: string): void;
}

/** Most questions open at once; the oldest are dropped. */
const OPEN_LIMIT = 1000;

/** In this process's memory: a question is answered once. */
export function rememberedQuestions(): OpenQuestions {
  const open = new Map<string, { personId: string; untilMs: number }>();
  return {
    ask(personId, untilMs) {
      const name = randomBytes(12).toString("base64url");
      open.set(name, { personId, untilMs });
      const oldest = open.keys().next().value;
      if (open.size > OPEN_LIMIT && oldest !== undefined) open.delete(oldest);
      return name;
    },
    standing(name, personId, nowMs) {
      const asked = open.get(name);
      if (!asked || asked.untilMs < nowMs) return "over";
      return asked.personId === personId ? "open" : "not-theirs";
    },
    close: (name) => void open.delete(name),
  };
}

const SECONDS_BYTES = 4;
const MARK_BYTES = 8;

/**
 * For several processes, any of which may get the button: the name holds its end and a mark that only who
 * knows the secret can make for this person. Nothing is remembered, so until its end the other button may
 * still be pressed.
 */
export function signedQuestions(secret: string): OpenQuestions {
  const markOf = (personId: string, end: Buffer): Buffer =>
    createHmac("sha256", secret)
      .update(`question:${end.toString("hex")}:${personId}`)
      .digest()
      .subarray(0, MARK_BYTES);
  return {
    ask(personId, untilMs) {
      const end = Buffer.alloc(SECONDS_BYTES);
      end.writeUInt32BE(Math.floor(untilMs / 1000));
      return Buffer.concat([end, markOf(personId, end)]).toString("base64url");
    },
    standing(name, personId, nowMs) {
      const bytes = Buffer.from(name, "base64url");
      if (bytes.length !== SECONDS_BYTES + MARK_BYTES) return "over";
      const end = bytes.subarray(0, SECONDS_BYTES);
      if (!timingSafeEqual(bytes.subarray(SECONDS_BYTES), markOf(personId, end))) {
        return "not-theirs";
      }
      return end.readUInt32BE() * 1000 < nowMs ? "over" : "open";
    },
    close: () => undefined,
  };
}
