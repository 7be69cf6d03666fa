-- When a chat's day sheet comes by itself. Not the log: the row changes with what is said, and goes with its chat
-- or with who said it. `minute` counts from midnight as the chat's clock shows it; NULL: turned off.

CREATE TABLE day_sheet_hour (
  chat_id  text COLLATE "C" PRIMARY KEY REFERENCES chat (id) DEFERRABLE,
  minute   integer CHECK (minute BETWEEN 0 AND 1439),
  smith_id text COLLATE "C" NOT NULL,                                            -- who said so last
  at       text COLLATE "C" NOT NULL CHECK (at LIKE '____-__-__T__:__:__.___Z'), -- and when
  done_on  text COLLATE "C" CHECK (done_on LIKE '____-__-__'),                   -- the last day of the chat's that was seen to
  FOREIGN KEY (chat_id, smith_id) REFERENCES smith (chat_id, id) DEFERRABLE
);
