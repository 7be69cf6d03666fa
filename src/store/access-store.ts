/** Who may come in, moved chats, runs and forgetting, on a connection of its own beside the log's. */
import { existsSync } from "node:fs";
import type Database from "better-sqlite3";
import { z } from "zod";
import type { LastRun, NewInvite, Person, ReplyOwner, Role } from "../logbook/index.js";
import {
  type Access,
  hourBefore,
  lastRunOf,
  movedOf,
  personOf,
  RUNS_KEPT,
  replyOwnerOf,
} from "./access-rows.js";
import { forgetSmith, recordsOfSmith } from "./forget.js";
import { KeptDatabase } from "./kept-database.js";
import { asStoreFailed, StoreFailed } from "./store-failed.js";
import { utc } from "./times.js";

/** Waiting for the log's own short transactions, ms. */
const BUSY_MS = 5000;

/** Opens the access side of a log that `openSqliteStore` has opened (and brought up to date) before. */
export function openSqliteAccess(options: { readonly file: string }): Access {
  if (!existsSync(options.file)) {
    throw new StoreFailed("not-found", `${options.file}: open the log first`);
  }
  try {
    const db = new KeptDatabase(options.file, { timeout: BUSY_MS });
    db.pragma("foreign_keys = ON");
    db.pragma("synchronous = FULL");
    return new SqliteAccess(db);
  } catch (error) {
    throw asStoreFailed(error, options.file);
  }
}

class SqliteAccess implements Access {
  readonly #db: Database.Database;

  constructor(db: Database.Database) {
    this.#db = db;
  }

  people(): Promise<readonly Person[]> {
    return this.#do(() =>
      this.#db
        .prepare("SELECT id, name, role, since FROM person ORDER BY role = 'smith', since, id")
        .all()
        .map(personOf),
    );
  }

  person(id: string): Promise<Person | undefined> {
    return this.#do(() => {
      const row = this.#db.prepare("SELECT id, name, role, since FROM person WHERE id = ?").get(id);
      return row === undefined ? undefined : personOf(row);
    });
  }

  setOwner(id: string, at: string): Promise<void> {
    return this.#write(() => {
      const owner = this.#db.prepare("SELECT id FROM person WHERE role = 'owner'").pluck().get();
      if (owner === id) return;
      this.#db.prepare("UPDATE person SET role = 'smith' WHERE role = 'owner'").run();
      this.#letIn(id, undefined, "owner", at);
    });
  }

  createInvite(invite: NewInvite): Promise<void> {
    return this.#write(() => {
      this.#db.prepare("DELETE FROM invite WHERE expires_at <= ?").run(utc(invite.at));
      // One pairing link at a time.
      if (invite.role === "owner")
        this.#db.prepare("DELETE FROM invite WHERE role = 'owner'").run();
      this.#db
        .prepare(
          "INSERT INTO invite (code_hash, role, made_by, made_at, expires_at) VALUES (?, ?, ?, ?, ?)",
        )
        .run(
          invite.codeHash,
          invite.role,
          invite.by ?? null,
          utc(invite.at),
          utc(invite.expiresAt),
        );
    });
  }

  useInvite(
    codeHash: string,
    person: { readonly id: string; readonly name?: string },
    at: string,
  ): Promise<Role | undefined> {
    return this.#write(() => {
      const role = this.#db
        .prepare("DELETE FROM invite WHERE code_hash = ? AND expires_at > ? RETURNING role")
        .pluck()
        .get(codeHash, utc(at));
      if (role !== "owner" && role !== "smith") return undefined;
      const owned = this.#db.prepare("SELECT 1 FROM person WHERE role = 'owner'").get();
      if (role === "owner" && owned !== undefined) return undefined;
      this.#letIn(person.id, person.name, role, at);
      return role;
    });
  }

  #letIn(id: string, name: string | undefined, role: Role, at: string): void {
    this.#db
      .prepare(
        `INSERT INTO person (id, name, role, since) VALUES (?, ?, ?, ?)
         ON CONFLICT (id) DO UPDATE SET name = coalesce(excluded.name, name), role = excluded.role`,
      )
      .run(id, name ?? null, role, utc(at));
  }

  removePerson(id: string): Promise<boolean> {
    return this.#write(
      () =>
        this.#db.prepare("DELETE FROM person WHERE id = ? AND role = 'smith'").run(id).changes > 0,
    );
  }

  groupIsIn(chatId: string): Promise<boolean> {
    return this.#do(
      () => this.#db.prepare("SELECT 1 FROM group_in WHERE chat_id = ?").get(chatId) !== undefined,
    );
  }

  letGroupIn(chatId: string, by: string, at: string): Promise<void> {
    return this.#write(() => {
      this.#db
        .prepare(
          "INSERT INTO group_in (chat_id, by, at) VALUES (?, ?, ?) ON CONFLICT (chat_id) DO NOTHING",
        )
        .run(chatId, by, utc(at));
    });
  }

  letGroupOut(chatId: string): Promise<void> {
    return this.#write(() => {
      this.#db.prepare("DELETE FROM group_in WHERE chat_id = ?").run(chatId);
    });
  }

  countStranger(day: string): Promise<void> {
    return this.#write(() => {
      this.#db
        .prepare(
          `INSERT INTO stranger_count (day, attempts) VALUES (?, 1)
           ON CONFLICT (day) DO UPDATE SET attempts = attempts + 1`,
        )
        .run(day);
    });
  }

  strangers(day: string): Promise<number> {
    return this.#do(() =>
      Number(
        this.#db.prepare("SELECT attempts FROM stranger_count WHERE day = ?").pluck().get(day) ?? 0,
      ),
    );
  }

  chatMoved(from: string, to: string, at: string): Promise<void> {
    return this.#write(() => {
      this.#db
        .prepare(
          "INSERT INTO chat_moved (to_id, from_id, at) VALUES (?, ?, ?) ON CONFLICT (to_id) DO NOTHING",
        )
        .run(to, from, utc(at));
    });
  }

  movedChats(): Promise<readonly { readonly from: string; readonly to: string }[]> {
    return this.#do(() =>
      this.#db.prepare("SELECT from_id, to_id FROM chat_moved ORDER BY at").all().map(movedOf),
    );
  }

  keepsVoice(): Promise<boolean> {
    return this.#do(
      () =>
        this.#db
          .prepare("SELECT value FROM owner_choice WHERE name = 'keep_voice'")
          .pluck()
          .get() === 1,
    );
  }

  keepVoice(keep: boolean, at: string): Promise<void> {
    return this.#write(() => {
      this.#db
        .prepare(
          `INSERT INTO owner_choice (name, value, at) VALUES ('keep_voice', ?, ?)
           ON CONFLICT (name) DO UPDATE SET value = excluded.value, at = excluded.at`,
        )
        .run(keep ? 1 : 0, utc(at));
    });
  }

  editsOf(sourceKey: string): Promise<readonly string[]> {
    return this.#do(() =>
      z
        .array(z.string())
        .parse(
          this.#db
            .prepare("SELECT source_key FROM message WHERE edits = ? ORDER BY seq")
            .pluck()
            .all(sourceKey),
        ),
    );
  }

  findReply(replyId: string): Promise<ReplyOwner | undefined> {
    return this.#do(() => {
      const raw = this.#db
        .prepare(
          `SELECT r.chat_id, m.smith_id, r.body FROM reply r JOIN message m ON m.id = r.message_id
           WHERE r.id = ?`,
        )
        .get(replyId);
      if (raw === undefined) return undefined;
      return replyOwnerOf(raw);
    });
  }

  beginRun(id: string, at: string): Promise<LastRun | undefined> {
    return this.#write(() => {
      const raw = this.#db
        .prepare("SELECT started_at, beat_at, ended_at FROM run ORDER BY seq DESC LIMIT 1")
        .get();
      const badLately = Number(
        this.#db
          .prepare("SELECT count(*) FROM run WHERE ended_at IS NULL AND started_at > ?")
          .pluck()
          .get(hourBefore(at)),
      );
      this.#db
        .prepare("INSERT INTO run (id, started_at, beat_at) VALUES (?, ?, ?)")
        .run(id, utc(at), utc(at));
      this.#db
        .prepare("DELETE FROM run WHERE seq <= (SELECT max(seq) FROM run) - ?")
        .run(RUNS_KEPT);
      if (raw === undefined) return undefined;
      return lastRunOf(raw, badLately);
    });
  }

  beat(id: string, at: string): Promise<void> {
    return this.#write(() => {
      this.#db.prepare("UPDATE run SET beat_at = ? WHERE id = ?").run(utc(at), id);
    });
  }

  endRun(id: string, at: string): Promise<void> {
    return this.#write(() => {
      this.#db
        .prepare("UPDATE run SET beat_at = ?, ended_at = ? WHERE id = ?")
        .run(utc(at), utc(at), id);
    });
  }

  recordsOf(smithId: string): Promise<Readonly<Record<string, readonly unknown[]>>> {
    return this.#do(() => recordsOfSmith(this.#db, smithId));
  }

  async forget(smithId: string): Promise<number> {
    const removed = await this.#write(() => forgetSmith(this.#db, smithId));
    // The journal still holds the old pages until it is written into the file and emptied.
    await this.#do(() => this.#db.pragma("wal_checkpoint(TRUNCATE)"));
    return removed;
  }

  async close(): Promise<void> {
    this.#db.close();
  }

  async #do<T>(work: () => T): Promise<T> {
    try {
      return work();
    } catch (error) {
      throw asStoreFailed(error, this.#db.name);
    }
  }

  #write<T>(work: () => T): Promise<T> {
    return this.#do(() => this.#db.transaction(work).immediate());
  }
}
