/** `forget me`: a person's records are given to them, and removed once they say so again. */
import type { PrivacyStore } from "../logbook/index.js";
import type { DoorLine } from "./door.js";
import { type OpenQuestions, rememberedQuestions } from "./open-questions.js";
import type { VoiceKeeping } from "./voice-keeping.js";

export interface Forgetting {
  /** True for the words that ask for it. */
  isAsked(text: string): boolean;
  /** The person's records as a JSON text, and the line that asks for the confirmation. */
  ask(personId: string, nowMs: number): Promise<{ readonly file: string; readonly line: DoorLine }>;
  /** A button of this question; undefined if the data is not ours. */
  press(personId: string, data: string, nowMs: number): Promise<DoorLine | undefined>;
}

/** How long the question stands, minutes. Common practice, no source; 5 to 60. */
const STANDS_MIN = 15;
const PREFIX = "forget:";
/** Sound that is put into the file, bytes; in base64 it stays below the 50 MB of a document [Bot API, sendDocument]. */
const SOUND_LIMIT_BYTES = 20_000_000;

export function createForgetting(
  privacy: PrivacyStore,
  voices?: VoiceKeeping,
  questions: OpenQuestions = rememberedQuestions(),
): Forgetting {
  return {
    isAsked: (text) => /^\/?forget[ _]me[.!]?$/i.test(text.trim()),
    async ask(personId, nowMs) {
      const records = await privacy.recordsOf(personId);
      const voice = (await voices?.of(personId, SOUND_LIMIT_BYTES)) ?? [];
      const silent = voice.filter(({ sound }) => sound === undefined).length;
      const nonce = questions.ask(personId, nowMs + STANDS_MIN * 60_000);
      return {
        file: `${JSON.stringify(voice.length > 0 ? { ...records, voice } : records, null, 2)}\n`,
        line: {
          text: `This file holds everything I keep of you${silent > 0 ? `, but for the sound of ${silent} voice notes that are too much for it` : ""}. Remove it all for good? Backups made before keep it until they are thrown away.`,
          buttons: [
            { label: "Remove it all", data: `${PREFIX}yes:${nonce}` },
            { label: "Keep it", data: `${PREFIX}no:${nonce}` },
          ],
        },
      };
    },
    async press(personId, data, nowMs) {
      const match = /^forget:(yes|no):([A-Za-z0-9_-]{16})$/.exec(data);
      if (!match?.[2])
        return data.startsWith(PREFIX) ? { text: "That button is not yours." } : undefined;
      const standing = questions.standing(match[2], personId, nowMs);
      if (standing === "over") return { text: "That question is over. Say: forget me." };
      if (standing === "not-theirs") return { text: "That button is not yours." };
      if (match[1] === "yes") {
        // The files first: who is forgotten in the log can not ask again.
        await voices?.forget(personId);
        await privacy.forget(personId);
      }
      questions.close(match[2]);
      return { text: match[1] === "yes" ? "Removed. Nothing of you is kept." : "Kept as it was." };
    },
  };
}
