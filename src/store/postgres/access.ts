/** Who may come in, moved chats, runs and forgetting, in the database of the log. */
import { z } from "zod";
import type { LastRun, NewInvite, Person, ReplyOwner, Role } from "../../logbook/index.js";
import {
  type Access,
  hourBefore,
  lastRunOf,
  movedOf,
  personOf,
  RUNS_KEPT,
  replyOwnerOf,
} from "../access-rows.js";
import { utc } from "../times.js";
import type { PostgresDatabase, Sql } from "./database.js";
import { forgetSmith, recordsOfSmith } from "./forget.js";

const PERSON = "SELECT id, name, role, since FROM person";
const sourceKeys = z.array(z.object({ source_key: z.string() }));
/** Who is let in or made the owner is decided by one process at a time. */
const ONE_AT_A_TIME = "LOCK TABLE person IN SHARE ROW EXCLUSIVE MODE";

export class PostgresAccess implements Access {
  readonly #database: PostgresDatabase;

  constructor(database: PostgresDatabase) {
    this.#database = database;
  }

  people(): Promise<readonly Person[]> {
    return this.#database.read(async (sql) =>
      (await sql.all(`${PERSON} ORDER BY role = 'smith', since, id`)).map(personOf),
    );
  }

  person(id: string): Promise<Person | undefined> {
    return this.#database.readOne(async (sql) => {
      const row = await sql.one(`${PERSON} WHERE id = $1`, id);
      return row === undefined ? undefined : personOf(row);
    });
  }

  setOwner(id: string, at: string): Promise<void> {
    return this.#database.write(async (sql) => {
      await sql.run(ONE_AT_A_TIME);
      const owner = await sql.one<{ id: string }>("SELECT id FROM person WHERE role = 'owner'");
      if (owner?.id === id) return;
      await sql.run("UPDATE person SET role = 'smith' WHERE role = 'owner'");
      await letIn(sql, id, undefined, "owner", at);
    });
  }

  createInvite(invite: NewInvite): Promise<void> {
    return this.#database.write(async (sql) => {
      await sql.run("DELETE FROM invite WHERE expires_at <= $1", utc(invite.at));
      // One pairing link at a time.
      if (invite.role === "owner") await sql.run("DELETE FROM invite WHERE role = 'owner'");
      await sql.run(
        "INSERT INTO invite (code_hash, role, made_by, made_at, expires_at) VALUES ($1, $2, $3, $4, $5)",
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
    return this.#database.write(async (sql) => {
      await sql.run(ONE_AT_A_TIME);
      const used = await sql.one<{ role: string }>(
        "DELETE FROM invite WHERE code_hash = $1 AND expires_at > $2 RETURNING role",
        codeHash,
        utc(at),
      );
      const role = used?.role;
      if (role !== "owner" && role !== "smith") return undefined;
      const owned = await sql.one("SELECT 1 FROM person WHERE role = 'owner'");
      if (role === "owner" && owned !== undefined) return undefined;
      await letIn(sql, person.id, person.name, role, at);
      return role;
    });
  }

  removePerson(id: string): Promise<boolean> {
    return this.#database.write(
      async (sql) => (await sql.run("DELETE FROM person WHERE id = $1 AND role = 'smith'", id)) > 0,
    );
  }

  groupIsIn(chatId: string): Promise<boolean> {
    return this.#database.readOne(
      async (sql) =>
        (await sql.one("SELECT 1 FROM group_in WHERE chat_id = $1", chatId)) !== undefined,
    );
  }

  letGroupIn(chatId: string, by: string, at: string): Promise<void> {
    return this.#run(
      "INSERT INTO group_in (chat_id, by, at) VALUES ($1, $2, $3) ON CONFLICT (chat_id) DO NOTHING",
      chatId,
      by,
      utc(at),
    );
  }

  letGroupOut(chatId: string): Promise<void> {
    return this.#run("DELETE FROM group_in WHERE chat_id = $1", chatId);
  }

  countStranger(day: string): Promise<void> {
    return this.#run(
      `INSERT INTO stranger_count AS c (day, attempts) VALUES ($1, 1)
       ON CONFLICT (day) DO UPDATE SET attempts = c.attempts + 1`,
      day,
    );
  }

  strangers(day: string): Promise<number> {
    return this.#database.read(async (sql) => {
      const row = await sql.one<{ attempts: number }>(
        "SELECT attempts FROM stranger_count WHERE day = $1",
        day,
      );
      return row?.attempts ?? 0;
    });
  }

  chatMoved(from: string, to: string, at: string): Promise<void> {
    return this.#run(
      "INSERT INTO chat_moved (to_id, from_id, at) VALUES ($1, $2, $3) ON CONFLICT (to_id) DO NOTHING",
      to,
      from,
      utc(at),
    );
  }

  movedChats(): Promise<readonly { readonly from: string; readonly to: string }[]> {
    return this.#database.read(async (sql) =>
      (await sql.all("SELECT from_id, to_id FROM chat_moved ORDER BY at")).map(movedOf),
    );
  }

  keepsVoice(): Promise<boolean> {
    return this.#database.readOne(async (sql) => {
      const row = await sql.one<{ value: number }>(
        "SELECT value FROM owner_choice WHERE name = 'keep_voice'",
      );
      return row?.value === 1;
    });
  }

  keepVoice(keep: boolean, at: string): Promise<void> {
    return this.#run(
      `INSERT INTO owner_choice (name, value, at) VALUES ('keep_voice', $1, $2)
       ON CONFLICT (name) DO UPDATE SET value = excluded.value, at = excluded.at`,
      keep ? 1 : 0,
      utc(at),
    );
  }

  editsOf(sourceKey: string, chatId?: string): Promise<readonly string[]> {
    return this.#database.readOne(async (sql) => {
      const rows =
        chatId === undefined
          ? await sql.all("SELECT source_key FROM message WHERE edits = $1 ORDER BY seq", sourceKey)
          : await sql.all(
              "SELECT source_key FROM message WHERE chat_id = $2 AND edits = $1 ORDER BY seq",
              sourceKey,
              chatId,
            );
      return sourceKeys.parse(rows).map(({ source_key }) => source_key);
    });
  }

  findReply(replyId: string, chatId?: string): Promise<ReplyOwner | undefined> {
    return this.#database.readOne(async (sql) => {
      const found = `SELECT r.chat_id, m.smith_id, r.body FROM reply r
        JOIN message m ON m.chat_id = r.chat_id AND m.id = r.message_id WHERE r.id = $1`;
      const row =
        chatId === undefined
          ? await sql.one(found, replyId)
          : await sql.one(`${found} AND r.chat_id = $2`, replyId, chatId);
      return row === undefined ? undefined : replyOwnerOf(row);
    });
  }

  beginRun(id: string, at: string): Promise<LastRun | undefined> {
    return this.#database.write(async (sql) => {
      const last = await sql.one(
        "SELECT started_at, beat_at, ended_at FROM run ORDER BY seq DESC LIMIT 1",
      );
      const bad = await sql.one<{ runs: number }>(
        "SELECT count(*) AS runs FROM run WHERE ended_at IS NULL AND started_at > $1",
        hourBefore(at),
      );
      await sql.run("INSERT INTO run (id, started_at, beat_at) VALUES ($1, $2, $2)", id, utc(at));
      await sql.run("DELETE FROM run WHERE seq <= (SELECT max(seq) FROM run) - $1", RUNS_KEPT);
      return last === undefined ? undefined : lastRunOf(last, bad?.runs ?? 0);
    });
  }

  beat(id: string, at: string): Promise<void> {
    return this.#run("UPDATE run SET beat_at = $1 WHERE id = $2", utc(at), id);
  }

  endRun(id: string, at: string): Promise<void> {
    return this.#run("UPDATE run SET beat_at = $1, ended_at = $1 WHERE id = $2", utc(at), id);
  }

  recordsOf(smithId: string): Promise<Readonly<Record<string, readonly unknown[]>>> {
    return this.#database.read((sql) => recordsOfSmith(sql, smithId), { patient: true });
  }

  forget(smithId: string): Promise<number> {
    return this.#database.write((sql) => forgetSmith(sql, smithId), { patient: true });
  }

  /** The connections belong to who opened the database. */
  async close(): Promise<void> {}

  async #run(text: string, ...values: readonly unknown[]): Promise<void> {
    await this.#database.write((sql) => sql.run(text, ...values));
  }
}

async function letIn(
  sql: Sql,
  id: string,
  name: string | undefined,
  role: Role,
  at: string,
): Promise<void> {
  await sql.run(
    `INSERT INTO person AS p (id, name, role, since) VALUES ($1, $2, $3, $4)
     ON CONFLICT (id) DO UPDATE SET name = coalesce(excluded.name, p.name), role = excluded.role`,
    id,
    name ?? null,
    role,
    utc(at),
  );
}
