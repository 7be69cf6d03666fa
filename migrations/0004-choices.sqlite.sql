-- What the owner chose for the whole bot, in the chat. A choice never made has no row.

CREATE TABLE owner_choice (
  name  TEXT PRIMARY KEY CHECK (name IN ('keep_voice')),
  value INTEGER NOT NULL CHECK (value IN (0, 1)),
  at    TEXT NOT NULL CHECK (at LIKE '____-__-__T__:__:__.___Z')
) STRICT, WITHOUT ROWID;
