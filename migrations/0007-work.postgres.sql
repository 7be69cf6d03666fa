-- Work that several processes share: what came in and is not dealt with yet, and who has which chat in hand. None of it is
-- the log: these rows change and go. SQLite has none of this, as one process is alone with its file there; its number stays
-- free. Times are the server's own (timestamptz), as only its clock decides about a lease.

-- Who has a chat in hand, for its updates and for its replies, and until when if no sign of life comes.
CREATE TABLE chat_lane (
  chat_id     text COLLATE "C" PRIMARY KEY CHECK (chat_id <> '' AND length(chat_id) <= 100),
  taken_by    text COLLATE "C" CHECK (length(taken_by) <= 64),
  taken_until timestamptz,
  sent_by     text COLLATE "C" CHECK (length(sent_by) <= 64),
  sent_until  timestamptz,
  send_due    timestamptz, -- when a steady stream of messages to the chat would send its next
  CHECK ((taken_by IS NULL) = (taken_until IS NULL)),
  CHECK ((sent_by IS NULL) = (sent_until IS NULL))
) WITH (fillfactor = 50, autovacuum_vacuum_scale_factor = 0.05);

-- Updates as they came, each until it is dealt with: at most a moment, but for what waits behind a voice note.
CREATE TABLE arrival (
  chat_id     text COLLATE "C" NOT NULL CHECK (chat_id <> '' AND length(chat_id) <= 100),
  update_id   bigint NOT NULL, -- the messenger's number: the order within the chat
  body        text COLLATE "C" NOT NULL CHECK (length(body) <= 2000000), -- JSON
  received_at timestamptz NOT NULL DEFAULT clock_timestamp(),
  -- A voice note: in its place in the chat, then at its head and wanted by any ears, then heard; or refused, as too many wait.
  note        text COLLATE "C" CHECK (note IN ('queued', 'wanted', 'heard', 'refused')),
  duration_s  real CHECK (duration_s >= 0),
  wanted_at   timestamptz,
  told        boolean NOT NULL DEFAULT false, -- its sender knows that it takes long
  heard_by    text COLLATE "C" CHECK (length(heard_by) <= 64),
  heard_until timestamptz,
  tries       integer NOT NULL DEFAULT 0 CHECK (tries >= 0),
  heard       text COLLATE "C", -- JSON: the words, or why there are none
  PRIMARY KEY (chat_id, update_id),
  CHECK (note <> 'wanted' OR wanted_at IS NOT NULL),
  CHECK ((heard IS NULL) = (note IS DISTINCT FROM 'heard'))
) WITH (autovacuum_vacuum_scale_factor = 0, autovacuum_vacuum_threshold = 2000);
CREATE INDEX arrival_note ON arrival (chat_id, update_id) WHERE note IN ('queued', 'wanted');
CREATE INDEX arrival_wanted ON arrival (wanted_at) WHERE note = 'wanted';

-- The messenger's limit in all, kept by all processes together.
CREATE TABLE send_pace (
  one integer PRIMARY KEY DEFAULT 1 CHECK (one = 1),
  due timestamptz NOT NULL
) WITH (fillfactor = 10);
INSERT INTO send_pace (due) VALUES (clock_timestamp());
