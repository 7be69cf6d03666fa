-- When a chat's day sheet comes by itself. Not the log: the row changes with what is said, and goes with its chat
-- or with who said it. `minute` counts from midnight as the chat's clock shows it; NULL: turned off.

CREATE TABLE day_sheet_hour (
  chat_id  TEXT PRIMARY KEY REFERENCES chat (id),
  minute   INTEGER CHECK (minute BETWEEN 0 AND 1439),
  smith_id TEXT NOT NULL REFERENCES smith (id),                   -- who said so last
  at       TEXT NOT NULL CHECK (at LIKE '____-__-__T__:__:__.___Z'), -- and when
  done_on  TEXT CHECK (done_on LIKE '____-__-__')                 -- the last day of the chat's that was seen to
) STRICT, WITHOUT ROWID;
