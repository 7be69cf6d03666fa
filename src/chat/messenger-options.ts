/** What the messaging bot is made of. */
import type { DaySheets, Handler } from "../conversation/index.js";
import type { AccessStore, LogStore, PrivacyStore, RunStore } from "../logbook/index.js";
import type { Render } from "./attached.js";
import type { ChatLogger } from "./chat-logger.js";
import type { Clock } from "./clock.js";
import type { Speak } from "./messenger-calls.js";
import type { ServedMetrics } from "./metrics.js";
import type { PacingLimits } from "./pacing.js";
import type { WorkSharing } from "./shared-edge.js";
import type { Hear } from "./terminal.js";

export interface MessengerOptions {
  readonly token: string;
  /** Address of the Bot API server without a slash at its end; the public one if absent. */
  readonly apiRoot?: string;
  readonly handler: Handler;
  readonly store: LogStore;
  readonly access: AccessStore;
  readonly privacy?: PrivacyStore;
  readonly runs?: RunStore;
  readonly newId: () => string;
  /** The time, ISO 8601. */
  readonly now: () => string;
  readonly logger: ChatLogger;
  /** The owner's id in the messenger; without it a pairing link is printed while there is no owner. */
  readonly ownerId?: string;
  /** Asked of the messenger if absent. */
  readonly botInfo?: { readonly username: string };
  /** Listen instead of asking. `url`: where the messenger reaches this port from outside. */
  readonly webhook?: {
    readonly port: number;
    readonly host?: string;
    readonly secret?: string;
    readonly url?: string;
  };
  /** Day sheets that come by themselves; absent, they come when they are asked for. */
  readonly daySheets?: DaySheets;
  readonly hear?: Hear;
  /** Where voice notes are kept if the owner wishes it; absent, they never are. */
  readonly voiceFolder?: string;
  /** Says a reply aloud, for chats that asked for it. */
  readonly speak?: Speak;
  /** Makes the files that a reply carries; absent, replies go out without them. */
  readonly render?: Render;
  /** What the owner must see and no log may hold: the pairing link. Standard output if absent. */
  readonly print?: (line: string) => void;
  readonly limits?: PacingLimits;
  /** Several processes share the database; absent, this one is alone with its log. */
  readonly sharing?: WorkSharing;
  /** Figures of the run, served with the health of the process. */
  readonly status?: {
    readonly metrics: ServedMetrics;
    /** Another than the webhook's, this machine only unless `host` is given. */
    readonly port?: number;
    readonly host?: string;
  };
  readonly clock?: Clock;
  /** Calls go through grammY's own HTTP client, the only one that a mocked node:http sees. */
  readonly libraryClient?: boolean;
}

export interface Messenger {
  /** Resolves once updates are being taken. Rejects if the messenger refuses the token. */
  start(): Promise<void>;
  /** Work in flight ends, nothing new starts. */
  stop(): Promise<void>;
  /** The port listened on, in webhook mode. */
  port(): number | undefined;
  /** The port of figures and health. */
  statusPort(): number | undefined;
}
