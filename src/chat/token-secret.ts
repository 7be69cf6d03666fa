import { createHmac } from "node:crypto";

/** A secret that only who knows the token can name; stable over restarts, another for each purpose. */
export function secretFrom(token: string, purpose: string): string {
  return createHmac("sha256", token).update(purpose).digest("hex");
}
