/** Fetches a voice note into a private file for as long as it is heard, within a size and a time. */
import { mkdtemp, open, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";

/** What the messenger lets a bot fetch [Bot API, getFile]. */
export const VOICE_LIMIT_BYTES = 20_000_000;
const FETCH_TIMEOUT_MS = 30_000;

/** The note could not be fetched. Carries no address, as that holds the token. */
export class VoiceNotFetched extends Error {
  override readonly name = "VoiceNotFetched";
}

/** Runs `use` on the fetched file and removes the file afterwards, whatever happens. */
export async function withVoiceFile<T>(
  address: string,
  signal: AbortSignal,
  use: (file: string) => Promise<T>,
): Promise<T> {
  const folder = await mkdtemp(join(tmpdir(), "hearth-voice-"));
  try {
    const file = join(folder, "note.ogg");
    await fetchInto(address, file, signal);
    return await use(file);
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

async function fetchInto(address: string, file: string, signal: AbortSignal): Promise<void> {
  const limit = AbortSignal.any([signal, AbortSignal.timeout(FETCH_TIMEOUT_MS)]);
  let response: Response;
  try {
    response = await fetch(address, { signal: limit, redirect: "error" });
  } catch {
    throw new VoiceNotFetched("network");
  }
  if (!response.ok || !response.body) throw new VoiceNotFetched(`status ${response.status}`);
  const handle = await open(file, "wx", 0o600);
  try {
    let bytes = 0;
    for await (const part of response.body) {
      bytes += part.byteLength;
      if (bytes > VOICE_LIMIT_BYTES) throw new VoiceNotFetched("too big");
      await handle.write(part);
    }
  } catch (error) {
    if (error instanceof VoiceNotFetched) throw error;
    throw new VoiceNotFetched("broken off");
  } finally {
    await handle.close();
  }
}
