/** One-time codes of links: long enough that guessing is hopeless, kept only as a hash. */
import { createHash, randomBytes } from "node:crypto";

/** 128 bits, in the letters that a start link may carry (A-Z a-z 0-9 _ -, at most 64) [Bot API, deep links]. */
export const newInviteCode = (): string => randomBytes(16).toString("base64url");

export const isInviteCode = (text: string): boolean => /^[A-Za-z0-9_-]{22}$/.test(text);

export const hashCode = (code: string): string => createHash("sha256").update(code).digest("hex");

export const inviteLink = (botName: string, code: string): string =>
  `https://t.me/${botName}?start=${code}`;
