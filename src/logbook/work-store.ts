/**
 * Work that several processes share on one database. An update is put down durably, then the chat is
 * taken in hand under a lease by one process at a time, which handles its updates in order; replies are
 * sent under a second lease. A process that dies leaves its leases to run out, and another goes on.
 */

export interface NewArrival {
  /** The messenger's id of the chat. */
  readonly wireChatId: string;
  readonly isPrivate: boolean;
  readonly fromId: string;
  readonly updateId: number;
  /** The update as it came, JSON. Removed once it is dealt with. */
  readonly body: string;
  /** Present for a voice note that must be heard before its turn. */
  readonly note?: { readonly durationS: number };
}

export interface Put {
  /** False: the sender was not let in, and nothing was kept. */
  readonly known: boolean;
  /** The log's id of the chat. */
  readonly chatId: string;
  /** The chat is now in the hand of who asked for it. */
  readonly mine: boolean;
  /** And this update is the first that waits in it. */
  readonly first: boolean;
}

/** What hearing a note gave; the words are removed with the arrival. */
export interface NoteResult {
  readonly text: string;
  readonly confidence: number;
  readonly other?: string;
  readonly doubtful?: boolean;
  readonly trouble?: string;
}

export interface HeldArrival {
  readonly chatId: string;
  readonly updateId: number;
  readonly body: string;
  /** For a note: what was heard, or why it was not. */
  readonly heard?: NoteResult;
}

export interface NoteJob {
  readonly chatId: string;
  readonly updateId: number;
  readonly body: string;
  /** How often a process took it up, this time counted. */
  readonly tries: number;
}

/** What is taken in hand: a chat's updates, or its replies. */
export type LaneKind = "take" | "send";

export interface NoteLimits {
  /** Notes of one chat that may wait; more are refused as busy. */
  readonly inChat: number;
  readonly inAll: number;
}

export interface WorkDepth {
  readonly arrivals: number;
  readonly oldestArrivalS: number;
  readonly replies: number;
  readonly oldestReplyS: number;
  readonly notes: number;
  readonly oldestNoteS: number;
}

/** Sending limits that all processes keep together; steady distance and burst as in the chat's pacing. */
export interface SharedLimit {
  readonly everyMs: number;
  readonly burst: number;
}

export interface WorkStore {
  /** Puts an update down; durable when it resolves. The same update twice is put down once. `worker` absent: does not ask for the chat. */
  put(arrival: NewArrival, limits: NoteLimits, worker?: string): Promise<Put>;
  /** Takes the chat in hand if nobody has it and there is something to do: its next update. */
  takeUp(chatId: string, worker: string): Promise<HeldArrival | undefined>;
  /**
   * The update is dealt with, and the chat let go. `replies`: there may be some to send; true if they are now
   * in the hand of `worker`.
   */
  done(chatId: string, updateId: number, worker: string, replies: boolean): Promise<boolean>;
  /** Chats with something to take or to send that nobody had in hand, now in the hand of `worker`; at most `limit`. */
  takeWaiting(kind: LaneKind, worker: string, limit: number): Promise<readonly string[]>;
  /**
   * The next update of a chat that is in hand already; lets the chat go if there is none to take now. A
   * note that was not heard yet is handed to the ears, and what came after it waits.
   */
  nextOf(chatId: string, worker: string): Promise<HeldArrival | undefined>;
  /** True if the chat's replies are now in the hand of `worker`; false also if there is nothing to send. */
  takeSending(chatId: string, worker: string): Promise<boolean>;
  /** Takes the chat's updates in hand whether or not there are any. */
  hold(chatId: string, worker: string): Promise<boolean>;
  letGo(kind: LaneKind, chatId: string, worker: string): Promise<void>;
  /** Prolongs the leases; gives the chats that are still in hand. */
  renew(kind: LaneKind, worker: string, chatIds: readonly string[]): Promise<readonly string[]>;
  /** Lets everything go that `worker` holds. */
  letAllGo(worker: string): Promise<void>;

  /** The note that waits longest, for this pair of ears; one whose ears died is given again. */
  takeNote(worker: string): Promise<NoteJob | undefined>;
  /** False if it is no longer this worker's to hear. */
  renewNote(job: NoteJob, worker: string): Promise<boolean>;
  /** The note has its words, or its trouble, and its chat may go on. */
  noteHeard(job: NoteJob, worker: string, result: NoteResult): Promise<void>;
  /** The note goes back to the queue, as its ears stop. */
  returnNote(job: NoteJob, worker: string): Promise<void>;
  /** Chats whose note has waited longer than its length and `leastS`; each note once. */
  slowNotes(leastS: number): Promise<readonly string[]>;
  /** Notes that no ears took up for so long are answered as busy; gives how many. */
  giveUpNotes(afterS: number): Promise<number>;

  /** Waiting time before the next message may go to this chat, or to anybody without one, ms; 0: it is booked. */
  bookSend(limit: SharedLimit, chatId?: string): Promise<number>;

  depth(): Promise<WorkDepth>;
  /** Reachable, with every migration of this version of the program. */
  ready(): Promise<boolean>;
  close(): Promise<void>;
}
