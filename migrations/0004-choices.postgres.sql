-- What the owner chose for the whole bot, in the chat. A choice never made has no row.

CREATE TABLE owner_choice (
  name  text COLLATE "C" PRIMARY KEY CHECK (name IN ('keep_voice')),
  value integer NOT NULL CHECK (value IN (0, 1)),
  at    text COLLATE "C" NOT NULL CHECK (at LIKE '____-__-__T__:__:__.___Z')
);
