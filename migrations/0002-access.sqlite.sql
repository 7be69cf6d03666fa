-- Who may come in, under which ids chats are known now, and what runs there were. None of it is the log:
-- these rows may change and go. Times are ISO 8601 in UTC with milliseconds.

CREATE TABLE person (
  id    TEXT PRIMARY KEY CHECK (id <> '' AND length(id) <= 100), -- the messenger's id, as smith.id
  name  TEXT CHECK (name <> '' AND length(name) <= 200),
  role  TEXT NOT NULL CHECK (role IN ('owner', 'smith')),
  since TEXT NOT NULL CHECK (since LIKE '____-__-__T__:__:__.___Z')
) STRICT, WITHOUT ROWID;
CREATE UNIQUE INDEX person_owner ON person (role) WHERE role = 'owner';

-- Links that let one person in, once. Only the hash of the code is kept.
CREATE TABLE invite (
  code_hash  TEXT PRIMARY KEY CHECK (length(code_hash) = 64),
  role       TEXT NOT NULL CHECK (role IN ('owner', 'smith')),
  made_by    TEXT CHECK (length(made_by) <= 100),
  made_at    TEXT NOT NULL CHECK (made_at LIKE '____-__-__T__:__:__.___Z'),
  expires_at TEXT NOT NULL CHECK (expires_at LIKE '____-__-__T__:__:__.___Z')
) STRICT, WITHOUT ROWID;

CREATE TABLE group_in (
  chat_id TEXT PRIMARY KEY CHECK (chat_id <> '' AND length(chat_id) <= 100),
  by      TEXT NOT NULL CHECK (length(by) <= 100),
  at      TEXT NOT NULL CHECK (at LIKE '____-__-__T__:__:__.___Z')
) STRICT, WITHOUT ROWID;

-- All that is kept of people who were not let in.
CREATE TABLE stranger_count (
  day      TEXT PRIMARY KEY CHECK (day LIKE '____-__-__'),
  attempts INTEGER NOT NULL CHECK (attempts > 0)
) STRICT, WITHOUT ROWID;

-- The log keeps a chat's first id.
CREATE TABLE chat_moved (
  to_id   TEXT PRIMARY KEY CHECK (to_id <> '' AND length(to_id) <= 100),
  from_id TEXT NOT NULL CHECK (from_id <> to_id AND length(from_id) <= 100),
  at      TEXT NOT NULL CHECK (at LIKE '____-__-__T__:__:__.___Z')
) STRICT, WITHOUT ROWID;

-- One row a run of the bot; ended_at stays empty when it was not stopped in order.
CREATE TABLE run (
  seq        INTEGER PRIMARY KEY,
  id         TEXT NOT NULL UNIQUE CHECK (id <> '' AND length(id) <= 64),
  started_at TEXT NOT NULL CHECK (started_at LIKE '____-__-__T__:__:__.___Z'),
  beat_at    TEXT NOT NULL CHECK (beat_at LIKE '____-__-__T__:__:__.___Z'),
  ended_at   TEXT CHECK (ended_at LIKE '____-__-__T__:__:__.___Z')
) STRICT;
