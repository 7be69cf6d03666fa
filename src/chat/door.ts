/** Who may come in: owner, invited smiths, groups that the owner let in; one polite line for the rest. */
import type { AccessStore } from "../logbook/index.js";
import type { Place, Sender } from "./arrival.js";
import { createAttemptLimit } from "./attempt-limit.js";
import { hashCode, inviteLink, isInviteCode, newInviteCode } from "./invite-code.js";

export interface DoorDeps {
  readonly access: AccessStore;
  /** ISO 8601. */
  readonly now: () => string;
  readonly ownerId?: string;
  /** There is a folder that voice notes can be kept in. */
  readonly canKeepVoice?: boolean;
}

export interface DoorLine {
  readonly text: string;
  readonly buttons?: readonly { readonly label: string; readonly data: string }[];
}
/** What the door says to an arrival: let it through, or answer these lines (perhaps none) and stop. */
export type Verdict =
  | { readonly enter: true }
  | { readonly enter: false; readonly lines: readonly DoorLine[] };

export interface Door {
  /** Names the owner if configured; else, while there is none, makes a pairing code. */
  open(): Promise<{ readonly pairingCode?: string }>;
  /** For words: `text` as sent. For anything else leave it out. */
  ask(place: Place, from: Sender, text: string | undefined, botName: string): Promise<Verdict>;
  /** A button of the door's own; undefined if the data is not the door's. */
  press(place: Place, from: Sender, data: string): Promise<DoorLine | undefined>;
  isOwner(id: string): Promise<boolean>;
}

/** How long a link works, hours. Common practice, no source; 1 to 168. */
export const INVITE_HOURS = 24;
/** Codes that may be tried in an hour. Common practice, no source; 3 to 10 a person. */
const CODE_TRIES = { perPerson: 5, inAll: 100, windowMs: 3_600_000 };
/** One polite line a day, and no flood of them. Common practice, no source; 50 to 1,000 in all. */
const POLITE_LINES = { perPerson: 1, inAll: 200, windowMs: 86_400_000 };

const enter: Verdict = { enter: true };
const say = (...lines: DoorLine[]): Verdict => ({ enter: false, lines });
const REMOVE = "door-remove:";

export function createDoor(deps: DoorDeps): Door {
  const { access, now } = deps;
  const codeTries = createAttemptLimit(CODE_TRIES);
  const politeLines = createAttemptLimit(POLITE_LINES);
  const nowMs = (): number => Date.parse(now());

  async function makeCode(role: "owner" | "smith", by?: string): Promise<string> {
    const code = newInviteCode();
    await access.createInvite({
      codeHash: hashCode(code),
      role,
      ...(by === undefined ? {} : { by }),
      at: now(),
      expiresAt: new Date(nowMs() + INVITE_HOURS * 3_600_000).toISOString(),
    });
    return code;
  }

  async function stranger(place: Place, from: Sender): Promise<Verdict> {
    await access.countStranger(now().slice(0, 10));
    if (!politeLines.allow(place.isPrivate ? from.id : place.chatId, nowMs())) return say();
    return say({
      text: place.isPrivate
        ? "This is a private forge log. Ask its owner for an invitation link."
        : "This is a private forge log. Its owner can let this group in with /letin.",
    });
  }

  async function tryCode(from: Sender, code: string): Promise<Verdict | undefined> {
    if (!isInviteCode(code) || !codeTries.allow(from.id, nowMs())) return undefined;
    const person = from.name === "" ? { id: from.id } : { id: from.id, name: from.name };
    const role = await access.useInvite(hashCode(code), person, now());
    if (role === undefined) return undefined;
    return role === "owner"
      ? say({
          text: "You own this forge log now. /invite makes a link for another smith, /people lists who is in.",
        })
      : say({
          text: `You are in. Tell me what is on the anvil.${(await access.keepsVoice()) ? " Voice notes are kept here." : ""}`,
        });
  }

  async function peopleLine(): Promise<DoorLine> {
    const people = await access.people();
    const lines = people.map(
      (each) => `${each.name ?? each.id}: ${each.role}, since ${each.since.slice(0, 10)}`,
    );
    if (await access.keepsVoice()) lines.push("Voice notes are kept; /dropvoice ends it.");
    return {
      text: lines.join("\n"),
      buttons: people
        .filter((each) => each.role !== "owner")
        .map((each) => ({ label: `Remove ${each.name ?? each.id}`, data: `${REMOVE}${each.id}` })),
    };
  }

  async function ownerCommand(
    command: string,
    place: Place,
    from: Sender,
    botName: string,
  ): Promise<Verdict | undefined> {
    if (place.isPrivate) {
      if (command === "invite") {
        const link = inviteLink(botName, await makeCode("smith", from.id));
        return say({
          text: `One person can come in with this link within ${INVITE_HOURS} h:\n${link}`,
        });
      }
      if (command === "people") return say(await peopleLine());
      return deps.canKeepVoice === true ? voiceCommand(command) : undefined;
    }
    if (command === "letin") {
      await access.letGroupIn(place.chatId, from.id, now());
      return say({ text: "This group is in. Each smith has an ingot in hand of their own." });
    }
    if (command === "letout") {
      await access.letGroupOut(place.chatId, now());
      return say({ text: "This group is out. What was logged stays." });
    }
    return undefined;
  }

  async function voiceCommand(command: string): Promise<Verdict | undefined> {
    if (command === "keepvoice") {
      await access.keepVoice(true, now());
      return say({
        text: "Voice notes are kept from now on, in a folder beside the log. Tell the smiths. /dropvoice ends it.",
      });
    }
    if (command === "dropvoice") {
      await access.keepVoice(false, now());
      return say({
        text: "Voice notes are removed once heard from now on. Those kept so far stay in their folder until you delete it, or their smith says “forget me”.",
      });
    }
    return undefined;
  }

  async function isOwner(id: string): Promise<boolean> {
    return (await access.person(id))?.role === "owner";
  }

  return {
    isOwner,
    async open() {
      if (deps.ownerId !== undefined) {
        await access.setOwner(deps.ownerId, now());
        return {};
      }
      const people = await access.people();
      if (people.some((each) => each.role === "owner")) return {};
      return { pairingCode: await makeCode("owner") };
    },
    async ask(place, from, text, botName) {
      const command = text === undefined ? undefined : commandOf(text);
      const person = await access.person(from.id);
      if (place.isPrivate && command?.name === "start" && command.rest !== "" && !person) {
        return (await tryCode(from, command.rest)) ?? stranger(place, from);
      }
      if (person?.role === "owner" && command) {
        const done = await ownerCommand(command.name, place, from, botName);
        if (done) return done;
      }
      const allowed = place.isPrivate ? person !== undefined : await access.groupIsIn(place.chatId);
      return allowed ? enter : stranger(place, from);
    },
    async press(place, from, data) {
      if (!data.startsWith(REMOVE)) return undefined;
      if (!place.isPrivate || !(await isOwner(from.id))) {
        return { text: "Only the owner can do that." };
      }
      const removed = await access.removePerson(data.slice(REMOVE.length), now());
      return { text: removed ? "Removed. What they logged stays." : "They were not in." };
    },
  };
}

/** `/name rest`, or `/name@bot rest` where several bots read. */
export interface Command {
  readonly name: string;
  readonly bot?: string;
  readonly rest: string;
}

export function commandOf(text: string): Command | undefined {
  const match = /^\/([a-z_]{1,32})(?:@(\w{1,64}))?(?:\s+([\s\S]*))?$/i.exec(text);
  if (match?.[1] === undefined) return undefined;
  return {
    name: match[1].toLowerCase(),
    ...(match[2] === undefined ? {} : { bot: match[2] }),
    rest: (match[3] ?? "").trim(),
  };
}
