/** Keeps voice notes in a folder beside the log, a folder a person, for an owner who wishes it. */
import { chmod, copyFile, mkdir, readdir, readFile, rename, rm, stat } from "node:fs/promises";
import { join } from "node:path";
import type { ChatLogger } from "./chat-logger.js";
import { describeTrouble } from "./trouble.js";

export interface KeptNote {
  /** Chat and message it came with, as in `message.source_key`. */
  readonly name: string;
  readonly bytes: number;
  /** The sound in base64; absent once the limit is reached. */
  readonly sound?: string;
}

export interface VoiceKeeping {
  /** Copies the note. Never throws: a note that cannot be kept is heard all the same. */
  keep(file: string, personId: string, name: string): Promise<void>;
  /** Everything kept of a person, sounds up to `limitBytes` in all. */
  of(personId: string, limitBytes: number): Promise<readonly KeptNote[]>;
  /** Removes it all for good. */
  forget(personId: string): Promise<void>;
}

/** Folders are 0700, files 0600, whatever the process's mask. */
export function createVoiceKeeping(folder: string, logger: ChatLogger): VoiceKeeping {
  const of = (personId: string): string => {
    // A person of the messenger is a number; nothing else may become part of a path.
    if (!/^-?\d{1,20}$/.test(personId)) throw new RangeError(`no person's id: ${personId}`);
    return join(folder, personId);
  };
  return {
    async keep(file, personId, name) {
      try {
        const own = of(personId);
        if (!/^[\w-]{1,100}$/.test(name)) throw new RangeError(`no name of a note: ${name}`);
        await mkdir(own, { recursive: true, mode: 0o700 });
        await Promise.all([chmod(folder, 0o700), chmod(own, 0o700)]);
        // Under its name only once it is whole, so that a full disk leaves no half of a note.
        const part = join(own, `${name}.part`);
        try {
          await copyFile(file, part);
          await chmod(part, 0o600);
          await rename(part, join(own, `${name}.ogg`));
        } catch (error) {
          await rm(part, { force: true });
          throw error;
        }
      } catch (error) {
        logger.warn({ trouble: describeTrouble(error) }, "voice note not kept");
      }
    },
    async of(personId, limitBytes) {
      const own = of(personId);
      const notes: KeptNote[] = [];
      let left = limitBytes;
      for (const name of await namesIn(own)) {
        const { size: bytes } = await stat(join(own, name));
        const fits = bytes <= left;
        if (fits) left -= bytes;
        const sound = fits ? (await readFile(join(own, name))).toString("base64") : undefined;
        notes.push({ name, bytes, ...(sound === undefined ? {} : { sound }) });
      }
      return notes;
    },
    forget: (personId) => rm(of(personId), { recursive: true, force: true }),
  };
}

async function namesIn(folder: string): Promise<readonly string[]> {
  try {
    return (await readdir(folder)).filter((name) => name.endsWith(".ogg")).sort();
  } catch (error) {
    if (error instanceof Error && "code" in error && error.code === "ENOENT") return [];
    throw error;
  }
}
