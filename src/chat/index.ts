/** The edges that carry: a terminal and a messenger. */
export * from "./asking-codes.js";
export type { Render, SentFile } from "./attached.js";
export type { ChatLogger } from "./chat-logger.js";
export { type Clock, systemClock } from "./clock.js";
export * from "./messenger.js";
export type { Messenger, MessengerOptions } from "./messenger-options.js";
export { createMetrics, type ServedMetrics } from "./metrics.js";
export { type PacingLimits, PUBLISHED_LIMITS } from "./pacing.js";
export { redact } from "./redact.js";
export type { WorkSharing } from "./shared-edge.js";
export * from "./terminal.js";
