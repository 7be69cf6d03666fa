/** Who may come in, what runs there were, and what a person can ask to be forgotten. */

export type Role = "owner" | "smith";

export interface Person {
  /** The messenger's id of the person. */
  readonly id: string;
  readonly name?: string;
  readonly role: Role;
  readonly since: string;
}

/** A link that lets one person in, once. Only the hash of its code is kept. */
export interface NewInvite {
  readonly codeHash: string;
  readonly role: Role;
  /** Who made it; absent for the pairing link of the first start. */
  readonly by?: string;
  readonly at: string;
  readonly expiresAt: string;
}

/** What a button press needs to know of the reply it belongs to. */
export interface ReplyOwner {
  readonly chatId: string;
  readonly smithId: string;
  readonly codes: readonly string[];
}

/** Times are ISO 8601 in UTC. */
export interface AccessStore {
  /** Everyone let in, the owner first, then by time. */
  people(): Promise<readonly Person[]>;
  person(id: string): Promise<Person | undefined>;
  /** Makes this person the owner; an owner before stays as a smith. */
  setOwner(id: string, at: string): Promise<void>;
  createInvite(invite: NewInvite): Promise<void>;
  /** Lets the person in if the code is known, unused and not expired; a code works once. */
  useInvite(
    codeHash: string,
    person: { readonly id: string; readonly name?: string },
    at: string,
  ): Promise<Role | undefined>;
  /** False if there was no such smith; the owner cannot be removed. */
  removePerson(id: string, at: string): Promise<boolean>;
  groupIsIn(chatId: string): Promise<boolean>;
  letGroupIn(chatId: string, by: string, at: string): Promise<void>;
  letGroupOut(chatId: string, at: string): Promise<void>;
  /** Counts one attempt of somebody not let in; `day` is YYYY-MM-DD. Nothing else of them is kept. */
  countStranger(day: string): Promise<void>;
  strangers(day: string): Promise<number>;
  /** A chat got another id in the messenger; the log keeps the first. */
  chatMoved(from: string, to: string, at: string): Promise<void>;
  movedChats(): Promise<readonly { readonly from: string; readonly to: string }[]>;
  /** Whether the owner wants voice notes kept; false until they say so. */
  keepsVoice(): Promise<boolean>;
  keepVoice(keep: boolean, at: string): Promise<void>;
  /** Source keys of the edits of a message that are in the log. Who knows the chat says it, as in `LogStore`. */
  editsOf(sourceKey: string, chatId?: string): Promise<readonly string[]>;
  /** Whose reply this is and which buttons it has. */
  findReply(replyId: string, chatId?: string): Promise<ReplyOwner | undefined>;
}

/** How the run before this one ended. */
export interface LastRun {
  readonly startedAt: string;
  /** The last sign of life. */
  readonly beatAt: string;
  readonly endedWell: boolean;
  /** Runs of the last hour before this one that did not end well. */
  readonly badLately: number;
}

export interface RunStore {
  /** Opens a run; returns the one before, if any. */
  beginRun(id: string, at: string): Promise<LastRun | undefined>;
  beat(id: string, at: string): Promise<void>;
  endRun(id: string, at: string): Promise<void>;
}

export interface PrivacyStore {
  /** Everything kept of a person, table by table, ready to be written as JSON. */
  recordsOf(smithId: string): Promise<Readonly<Record<string, readonly unknown[]>>>;
  /** Removes it all for good; returns the number of rows removed. */
  forget(smithId: string): Promise<number>;
}
