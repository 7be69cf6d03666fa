/** What became of a send: only these outcomes decide whether it is tried again. */
import { GrammyError, HttpError } from "grammy";

export type SendOutcome =
  | { readonly kind: "sent"; readonly sentAs?: string }
  /** Try again, not before `afterMs` if given. */
  | { readonly kind: "later"; readonly afterMs?: number; readonly reason: string }
  /** The chat has another id now. */
  | { readonly kind: "moved"; readonly to: string }
  /** The messenger refuses the marks or buttons of the text. */
  | { readonly kind: "unreadable"; readonly reason: string }
  /** Nobody will ever get it: bot blocked, chat deleted. */
  | { readonly kind: "gone"; readonly reason: string };

/** Longest wait that an answer may ask of us, ms. */
const LONGEST_WAIT_MS = 3_600_000;

export function failedSend(error: unknown): SendOutcome {
  if (error instanceof GrammyError) return refusedSend(error);
  if (error instanceof HttpError) return { kind: "later", reason: "network" };
  return { kind: "later", reason: error instanceof Error ? error.name : "unknown" };
}

function refusedSend(error: GrammyError): SendOutcome {
  const code = Number(error.error_code);
  const description = String(error.description ?? "").toLowerCase();
  const { retry_after: seconds, migrate_to_chat_id: movedTo } = error.parameters;
  if (movedTo !== undefined) return { kind: "moved", to: String(movedTo) };
  if (code === 429) {
    const asked = typeof seconds === "number" && seconds > 0 ? seconds * 1000 : 1000;
    return { kind: "later", afterMs: Math.min(asked, LONGEST_WAIT_MS), reason: "429" };
  }
  if (code === 403) return { kind: "gone", reason: "403" };
  if (code === 400) {
    return /chat not found|user not found|peer_id_invalid|chat_write_forbidden|deactivated|rights/.test(
      description,
    )
      ? { kind: "gone", reason: "400" }
      : { kind: "unreadable", reason: "400" };
  }
  return { kind: "later", reason: Number.isFinite(code) ? String(code) : "unknown" };
}
