/** Files that go out with a reply; what draws them stands outside this room. */
import type { Attach } from "../logbook/index.js";

export interface SentFile {
  /** With its ending, without a folder. */
  readonly name: string;
  readonly bytes: Uint8Array;
  /** Size in pixels, where it is a picture. */
  readonly picture?: { readonly width: number; readonly height: number };
}

/** Makes the files of a request from the log as it is now; none when there is nothing to send. `chatId` is the log's. */
export type Render = (attach: Attach, chatId: string) => Promise<readonly SentFile[]>;

/** A messenger shows a photo up to these; published by it: sides together 10,000 px, ratio 20. */
const PHOTO = { sidesPx: 10_000, ratio: 20 };

export function isPhoto({ picture }: SentFile): boolean {
  if (picture === undefined) return false;
  const { height, width } = picture;
  const ratio = Math.max(height / width, width / height);
  return height + width <= PHOTO.sidesPx && ratio <= PHOTO.ratio;
}
