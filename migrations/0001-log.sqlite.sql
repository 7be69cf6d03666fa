-- The log: what came in, what was understood of it, what was answered.
-- Times are ISO 8601 in UTC with milliseconds, so that they sort as text. Units stand in the column names.
-- Rows of the log are never changed or removed; a later row takes them back (entry.taken_back_by).
-- docs/entries.md explains every table and shows queries.

-- Who writes.
CREATE TABLE smith (
  id         TEXT PRIMARY KEY CHECK (id <> '' AND length(id) <= 100),
  name       TEXT CHECK (length(name) <= 200),
  first_seen TEXT NOT NULL CHECK (first_seen LIKE '____-__-__T__:__:__.___Z')
) STRICT, WITHOUT ROWID;

-- Where they write. The two counters are written with the rows they count.
CREATE TABLE chat (
  id             TEXT PRIMARY KEY CHECK (id <> '' AND length(id) <= 100),
  edge           TEXT NOT NULL CHECK (edge IN ('terminal', 'messenger')),
  first_seen     TEXT NOT NULL CHECK (first_seen LIKE '____-__-__T__:__:__.___Z'),
  turns          INTEGER NOT NULL DEFAULT 0 CHECK (turns >= 0),          -- messages answered
  highest_number INTEGER NOT NULL DEFAULT 0 CHECK (highest_number >= 0)  -- highest number of an ingot
) STRICT, WITHOUT ROWID;

-- What came in, word for word. handled_at is set in the transaction that writes its entries.
CREATE TABLE message (
  seq              INTEGER PRIMARY KEY,
  id               TEXT NOT NULL UNIQUE CHECK (id <> '' AND length(id) <= 64),
  source_key       TEXT NOT NULL UNIQUE CHECK (source_key <> '' AND length(source_key) <= 300),
  edge             TEXT NOT NULL CHECK (edge IN ('terminal', 'messenger')),
  chat_id          TEXT NOT NULL REFERENCES chat (id),
  smith_id         TEXT NOT NULL REFERENCES smith (id),
  kind             TEXT NOT NULL CHECK (kind IN ('text', 'button', 'voice', 'edit')),
  text             TEXT NOT NULL CHECK (length(text) <= 20000),
  sent_at          TEXT NOT NULL CHECK (sent_at LIKE '____-__-__T__:__:__.___Z'),
  received_at      TEXT NOT NULL CHECK (received_at LIKE '____-__-__T__:__:__.___Z'),
  edits            TEXT CHECK (length(edits) <= 300), -- source_key of the message that this one rewords
  heard_confidence REAL CHECK (heard_confidence BETWEEN 0 AND 1),
  handled_at       TEXT CHECK (handled_at LIKE '____-__-__T__:__:__.___Z'),
  unread           TEXT CHECK (json_valid(unread)),   -- JSON list: words that were not understood
  first_entry      INTEGER REFERENCES entry (seq),    -- its entries have the seqs from this
  last_entry       INTEGER REFERENCES entry (seq)     -- to this
) STRICT;
CREATE INDEX message_waiting ON message (seq) WHERE handled_at IS NULL;
CREATE INDEX message_edits ON message (edits) WHERE edits IS NOT NULL;

-- Kinds of entry and the table that holds what such an entry says. The last three only take back.
CREATE TABLE kind (
  name  TEXT PRIMARY KEY,
  place TEXT UNIQUE -- its table
) STRICT, WITHOUT ROWID;
INSERT INTO kind (name, place) VALUES
  ('melt', 'melt'), ('ingot', 'ingot'), ('goal', 'goal'), ('route', 'plan'), ('heat', 'heat'), ('size', 'size'),
  ('crack', 'crack'), ('removal', 'removal'), ('finish', 'blade'), ('note', 'note'), ('switch', 'switch'),
  ('setting', 'setting'), ('undo', NULL), ('correct', NULL), ('edit', NULL);

-- One row a thing said or taken back. What it says stands in the table of its kind, under the same seq.
CREATE TABLE entry (
  seq           INTEGER PRIMARY KEY,                 -- order of arrival
  id            TEXT NOT NULL UNIQUE CHECK (id <> '' AND length(id) <= 64),
  chat_id       TEXT NOT NULL REFERENCES chat (id),
  smith_id      TEXT NOT NULL REFERENCES smith (id),
  message_id    TEXT NOT NULL REFERENCES message (id), -- the message that said it
  ingot_id      TEXT REFERENCES entry (id),          -- the row that opened the ingot
  kind          TEXT NOT NULL REFERENCES kind (name),
  at            TEXT NOT NULL CHECK (at LIKE '____-__-__T__:__:__.___Z'),      -- when it happened
  arrived       TEXT NOT NULL CHECK (arrived LIKE '____-__-__T__:__:__.___Z'), -- when the message came in
  place         INTEGER NOT NULL,                    -- order within the same at; a replacement inherits it
  taken_back_by TEXT REFERENCES entry (id),          -- the row that takes this one back
  replaces      TEXT REFERENCES entry (id),          -- the row whose place this one takes
  implied       TEXT NOT NULL DEFAULT '[]' CHECK (json_valid(implied)), -- JSON list: fields not said
  confidence    REAL NOT NULL DEFAULT 1 CHECK (confidence BETWEEN 0 AND 1)
) STRICT;
CREATE INDEX entry_ingot ON entry (ingot_id, at, place) WHERE ingot_id IS NOT NULL;
CREATE INDEX entry_day ON entry (chat_id, at, place, kind);
CREATE INDEX entry_said ON entry (chat_id, smith_id, seq)
  WHERE taken_back_by IS NULL AND kind NOT IN ('undo', 'correct', 'edit');
CREATE INDEX entry_setting ON entry (chat_id, at, place) WHERE taken_back_by IS NULL AND kind = 'setting';
CREATE INDEX entry_opening ON entry (chat_id, seq) WHERE kind = 'ingot' AND id = ingot_id;
CREATE INDEX entry_named ON entry (ingot_id, at, place) WHERE taken_back_by IS NULL AND kind = 'ingot';
CREATE INDEX entry_finish ON entry (ingot_id) WHERE taken_back_by IS NULL AND kind = 'finish';
CREATE INDEX entry_finish_at ON entry (chat_id, at, place) WHERE taken_back_by IS NULL AND kind = 'finish';
CREATE INDEX entry_in_hand ON entry (chat_id, smith_id, place)
  WHERE taken_back_by IS NULL AND kind IN ('ingot', 'switch') AND ingot_id IS NOT NULL;

CREATE TABLE melt (
  seq           INTEGER PRIMARY KEY REFERENCES entry (seq),
  at            TEXT,
  approx        INTEGER CHECK (approx IN (0, 1)),
  number        INTEGER CHECK (number BETWEEN 1 AND 100000),
  mass_g        REAL CHECK (mass_g > 0 AND mass_g <= 100000),
  temperature_c REAL CHECK (temperature_c BETWEEN -50 AND 2000),
  duration_min  REAL CHECK (duration_min > 0 AND duration_min <= 100000),
  cooling       TEXT CHECK (cooling <> '' AND length(cooling) <= 200),
  carbon_pct    REAL CHECK (carbon_pct BETWEEN 0 AND 6.7),
  ingot_g       REAL CHECK (ingot_g > 0 AND ingot_g <= 100000)
) STRICT;

CREATE TABLE melt_charge (
  seq        INTEGER NOT NULL REFERENCES melt (seq),
  place      INTEGER NOT NULL CHECK (place BETWEEN 0 AND 19),
  what       TEXT NOT NULL CHECK (what <> '' AND length(what) <= 60),
  mass_g     REAL CHECK (mass_g > 0 AND mass_g <= 100000),
  carbon_pct REAL CHECK (carbon_pct BETWEEN 0 AND 100),
  PRIMARY KEY (seq, place)
) STRICT, WITHOUT ROWID;

CREATE TABLE ingot (
  seq                INTEGER PRIMARY KEY REFERENCES entry (seq),
  at                 TEXT,
  approx             INTEGER CHECK (approx IN (0, 1)),
  name               TEXT CHECK (name <> '' AND length(name) <= 40),
  shape              TEXT CHECK (shape IN ('bowl', 'puck', 'cone')),
  diameter_mm        REAL CHECK (diameter_mm > 0 AND diameter_mm <= 1000),
  bottom_diameter_mm REAL CHECK (bottom_diameter_mm > 0 AND bottom_diameter_mm <= 1000),
  height_mm          REAL CHECK (height_mm > 0 AND height_mm <= 1000),
  mass_g             REAL CHECK (mass_g > 0 AND mass_g <= 100000),
  carbon_pct         REAL CHECK (carbon_pct BETWEEN 0 AND 6.7),
  pipe_depth_mm      REAL CHECK (pipe_depth_mm > 0 AND pipe_depth_mm <= 1000),
  pipe_diameter_mm   REAL CHECK (pipe_diameter_mm > 0 AND pipe_diameter_mm <= 1000),
  melt               INTEGER CHECK (melt BETWEEN 1 AND 100000)
) STRICT;

-- What an ingot is called in its chat: one row each time it is opened or named. name_key is the name
-- without regard to letter case, written by the program.
CREATE TABLE ingot_name (
  seq      INTEGER PRIMARY KEY REFERENCES ingot (seq),
  chat_id  TEXT NOT NULL REFERENCES chat (id),
  ingot_id TEXT NOT NULL REFERENCES entry (id),
  number   INTEGER NOT NULL CHECK (number > 0),
  name_key TEXT NOT NULL CHECK (name_key <> '')
) STRICT;
CREATE INDEX ingot_name_key ON ingot_name (chat_id, name_key, seq);
CREATE INDEX ingot_name_number ON ingot_name (chat_id, number, seq);

CREATE TABLE goal (
  seq            INTEGER PRIMARY KEY REFERENCES entry (seq),
  at             TEXT,
  approx         INTEGER CHECK (approx IN (0, 1)),
  edge           TEXT CHECK (edge IN ('single', 'double')),
  length_mm      REAL CHECK (length_mm > 0 AND length_mm <= 3000),
  width_mm       REAL CHECK (width_mm > 0 AND width_mm <= 500),
  thickness_mm   REAL CHECK (thickness_mm > 0 AND thickness_mm <= 200),
  tang_length_mm REAL CHECK (tang_length_mm > 0 AND tang_length_mm <= 1000),
  count          INTEGER CHECK (count BETWEEN 1 AND 20)
) STRICT;

-- Kind `route`: which way the ingot is to be forged.
CREATE TABLE plan (
  seq    INTEGER PRIMARY KEY REFERENCES entry (seq),
  at     TEXT,
  approx INTEGER CHECK (approx IN (0, 1)),
  route  TEXT CHECK (route IN ('spine', 'face', 'end', 'ring')),
  split  INTEGER CHECK (split IN (0, 1))
) STRICT;

CREATE TABLE heat (
  seq           INTEGER PRIMARY KEY REFERENCES entry (seq),
  at            TEXT,
  approx        INTEGER CHECK (approx IN (0, 1)),
  number        INTEGER CHECK (number BETWEEN 1 AND 10000),
  temperature_c REAL CHECK (temperature_c BETWEEN -50 AND 2000),
  colour        TEXT CHECK (colour <> '' AND length(colour) <= 60),
  duration_min  REAL CHECK (duration_min > 0 AND duration_min <= 100000),
  operation     TEXT CHECK (operation IN ('flatten', 'square', 'draw', 'edge', 'taper', 'bevel',
                  'straighten', 'punch', 'open', 'normalise'))
) STRICT;

CREATE TABLE size (
  seq          INTEGER PRIMARY KEY REFERENCES entry (seq),
  at           TEXT,
  approx       INTEGER CHECK (approx IN (0, 1)),
  shape        TEXT CHECK (shape IN ('bar', 'disc', 'block', 'ring')),
  thickness_mm REAL CHECK (thickness_mm > 0 AND thickness_mm <= 1000),
  width_mm     REAL CHECK (width_mm > 0 AND width_mm <= 1000),
  length_mm    REAL CHECK (length_mm > 0 AND length_mm <= 10000),
  diameter_mm  REAL CHECK (diameter_mm > 0 AND diameter_mm <= 1000),
  height_mm    REAL CHECK (height_mm > 0 AND height_mm <= 1000),
  mass_g       REAL CHECK (mass_g > 0 AND mass_g <= 100000)
) STRICT;

CREATE TABLE crack (
  seq         INTEGER PRIMARY KEY REFERENCES entry (seq),
  at          TEXT,
  approx      INTEGER CHECK (approx IN (0, 1)),
  place       TEXT CHECK (place IN ('top', 'bottom', 'rim', 'face', 'spine', 'edge', 'end', 'tang', 'tip')),
  depth_mm    REAL CHECK (depth_mm > 0 AND depth_mm <= 500),
  length_mm   REAL CHECK (length_mm > 0 AND length_mm <= 3000),
  position_mm REAL CHECK (position_mm BETWEEN 0 AND 10000),
  severity    TEXT CHECK (severity IN ('hairline', 'small', 'large'))
) STRICT;

CREATE TABLE removal (
  seq         INTEGER PRIMARY KEY REFERENCES entry (seq),
  at          TEXT,
  approx      INTEGER CHECK (approx IN (0, 1)),
  method      TEXT CHECK (method IN ('grind', 'chisel', 'cut', 'punch', 'file')),
  mass_g      REAL CHECK (mass_g > 0 AND mass_g <= 100000),
  length_mm   REAL CHECK (length_mm > 0 AND length_mm <= 3000),
  depth_mm    REAL CHECK (depth_mm > 0 AND depth_mm <= 500),
  diameter_mm REAL CHECK (diameter_mm > 0 AND diameter_mm <= 1000),
  place       TEXT CHECK (place IN ('top', 'bottom', 'rim', 'face', 'spine', 'edge', 'end', 'tang', 'tip'))
) STRICT;

-- Kind `finish`: the blade as it was finished.
CREATE TABLE blade (
  seq            INTEGER PRIMARY KEY REFERENCES entry (seq),
  at             TEXT,
  approx         INTEGER CHECK (approx IN (0, 1)),
  length_mm      REAL CHECK (length_mm > 0 AND length_mm <= 3000),
  width_mm       REAL CHECK (width_mm > 0 AND width_mm <= 500),
  thickness_mm   REAL CHECK (thickness_mm > 0 AND thickness_mm <= 200),
  mass_g         REAL CHECK (mass_g > 0 AND mass_g <= 100000),
  tang_length_mm REAL CHECK (tang_length_mm > 0 AND tang_length_mm <= 1000)
) STRICT;

CREATE TABLE note (
  seq    INTEGER PRIMARY KEY REFERENCES entry (seq),
  at     TEXT,
  approx INTEGER CHECK (approx IN (0, 1)),
  note   TEXT NOT NULL CHECK (note <> '' AND length(note) <= 8000)
) STRICT;

CREATE TABLE switch (
  seq    INTEGER PRIMARY KEY REFERENCES entry (seq),
  at     TEXT,
  approx INTEGER CHECK (approx IN (0, 1)),
  ingot  TEXT NOT NULL CHECK (ingot <> '' AND length(ingot) <= 40)
) STRICT;

CREATE TABLE setting (
  seq               INTEGER PRIMARY KEY REFERENCES entry (seq),
  at                TEXT,
  approx            INTEGER CHECK (approx IN (0, 1)),
  units             TEXT CHECK (units IN ('mm', 'inch')),
  temperature_units TEXT CHECK (temperature_units IN ('c', 'f')),
  press_kn          REAL CHECK (press_kn > 0 AND press_kn <= 100000),
  hammer_kg         REAL CHECK (hammer_kg > 0 AND hammer_kg <= 10000),
  hand_hammer       INTEGER CHECK (hand_hammer IN (0, 1)),
  welder            INTEGER CHECK (welder IN (0, 1)),
  timezone          TEXT CHECK (timezone <> '' AND length(timezone) <= 60),
  spoken_replies    INTEGER CHECK (spoken_replies IN (0, 1))
) STRICT;

-- The outbox: written with the entries it answers, sent afterwards.
CREATE TABLE reply (
  seq        INTEGER PRIMARY KEY,
  id         TEXT NOT NULL UNIQUE CHECK (id <> '' AND length(id) <= 64),
  chat_id    TEXT NOT NULL REFERENCES chat (id),
  message_id TEXT NOT NULL REFERENCES message (id),
  body       TEXT NOT NULL CHECK (json_valid(body)),                -- JSON: lines and buttons
  safety     TEXT NOT NULL DEFAULT '[]' CHECK (json_valid(safety)), -- JSON list: codes of safety lines
  created_at TEXT NOT NULL CHECK (created_at LIKE '____-__-__T__:__:__.___Z'),
  sent_at    TEXT CHECK (sent_at LIKE '____-__-__T__:__:__.___Z'),
  sent_as    TEXT,
  attempts   INTEGER NOT NULL DEFAULT 0 CHECK (attempts >= 0),
  failed_at  TEXT CHECK (failed_at LIKE '____-__-__T__:__:__.___Z'),
  last_error TEXT,
  given_up   INTEGER NOT NULL DEFAULT 0 CHECK (given_up IN (0, 1))
) STRICT;
CREATE INDEX reply_unsent ON reply (chat_id, seq) WHERE sent_at IS NULL AND given_up = 0;
CREATE INDEX reply_safety ON reply (chat_id, created_at) WHERE safety <> '[]';

-- A question of ours that waits for a button or a word.
CREATE TABLE ask (
  seq         INTEGER PRIMARY KEY,
  id          TEXT NOT NULL UNIQUE CHECK (id <> '' AND length(id) <= 64),
  chat_id     TEXT NOT NULL REFERENCES chat (id),
  smith_id    TEXT NOT NULL REFERENCES smith (id),
  message_id  TEXT NOT NULL REFERENCES message (id),
  about       TEXT NOT NULL CHECK (about <> '' AND length(about) <= 60),
  choices     TEXT NOT NULL CHECK (json_valid(choices)), -- JSON: labels and what each would record
  asked_at    TEXT NOT NULL CHECK (asked_at LIKE '____-__-__T__:__:__.___Z'),
  answered_by TEXT REFERENCES message (id)
) STRICT;
CREATE INDEX ask_latest ON ask (chat_id, smith_id, seq);

-- What is in the log stays as it is.
CREATE TRIGGER entry_belongs BEFORE INSERT ON entry BEGIN
  SELECT RAISE(ABORT, 'entry: rows of the log are not replaced')
    WHERE EXISTS (SELECT 1 FROM entry WHERE seq = NEW.seq OR id = NEW.id);
  SELECT RAISE(ABORT, 'entry: the ingot is not one of this chat') WHERE NEW.ingot_id <> NEW.id
    AND NOT EXISTS (SELECT 1 FROM entry WHERE id = NEW.ingot_id AND chat_id = NEW.chat_id AND kind = 'ingot');
  SELECT RAISE(ABORT, 'entry: what it replaces is not of this chat') WHERE NEW.replaces IS NOT NULL
    AND NOT EXISTS (SELECT 1 FROM entry WHERE id = NEW.replaces AND chat_id = NEW.chat_id);
END;
CREATE TRIGGER entry_fixed BEFORE UPDATE ON entry BEGIN
  SELECT RAISE(ABORT, 'entry: rows of the log are not changed')
    WHERE (NEW.seq, NEW.id, NEW.chat_id, NEW.smith_id, NEW.message_id, NEW.ingot_id, NEW.kind, NEW.at,
           NEW.arrived, NEW.place, NEW.replaces, NEW.implied, NEW.confidence)
      IS NOT (OLD.seq, OLD.id, OLD.chat_id, OLD.smith_id, OLD.message_id, OLD.ingot_id, OLD.kind, OLD.at,
           OLD.arrived, OLD.place, OLD.replaces, OLD.implied, OLD.confidence);
  SELECT RAISE(ABORT, 'entry: taken back once already')
    WHERE OLD.taken_back_by IS NOT NULL OR NEW.taken_back_by IS NULL;
  SELECT RAISE(ABORT, 'entry: taken back by a row of another chat')
    WHERE NOT EXISTS (SELECT 1 FROM entry WHERE id = NEW.taken_back_by AND chat_id = OLD.chat_id);
END;
CREATE TRIGGER entry_kept BEFORE DELETE ON entry BEGIN
  SELECT RAISE(ABORT, 'entry: rows of the log are not removed');
END;
CREATE TRIGGER message_new BEFORE INSERT ON message BEGIN
  SELECT RAISE(ABORT, 'message: what came in is not replaced')
    WHERE EXISTS (SELECT 1 FROM message WHERE id = NEW.id OR source_key = NEW.source_key);
END;
CREATE TRIGGER message_fixed BEFORE UPDATE ON message BEGIN
  SELECT RAISE(ABORT, 'message: what came in is not changed')
    WHERE (NEW.seq, NEW.id, NEW.source_key, NEW.edge, NEW.chat_id, NEW.smith_id, NEW.kind, NEW.text,
           NEW.sent_at, NEW.received_at, NEW.edits, NEW.heard_confidence)
      IS NOT (OLD.seq, OLD.id, OLD.source_key, OLD.edge, OLD.chat_id, OLD.smith_id, OLD.kind, OLD.text,
           OLD.sent_at, OLD.received_at, OLD.edits, OLD.heard_confidence);
  SELECT RAISE(ABORT, 'message: handled once already') WHERE OLD.handled_at IS NOT NULL;
END;
CREATE TRIGGER message_kept BEFORE DELETE ON message BEGIN
  SELECT RAISE(ABORT, 'message: what came in is not removed');
END;
CREATE TRIGGER melt_kind BEFORE INSERT ON melt BEGIN
  SELECT RAISE(ABORT, 'melt: rows of the log are not replaced')
    WHERE EXISTS (SELECT 1 FROM melt WHERE seq = NEW.seq);
  SELECT RAISE(ABORT, 'melt: the entry is of another kind')
    WHERE (SELECT kind FROM entry WHERE seq = NEW.seq) IS NOT 'melt';
END;
CREATE TRIGGER ingot_kind BEFORE INSERT ON ingot BEGIN
  SELECT RAISE(ABORT, 'ingot: rows of the log are not replaced')
    WHERE EXISTS (SELECT 1 FROM ingot WHERE seq = NEW.seq);
  SELECT RAISE(ABORT, 'ingot: the entry is of another kind')
    WHERE (SELECT kind FROM entry WHERE seq = NEW.seq) IS NOT 'ingot';
END;
CREATE TRIGGER goal_kind BEFORE INSERT ON goal BEGIN
  SELECT RAISE(ABORT, 'goal: rows of the log are not replaced')
    WHERE EXISTS (SELECT 1 FROM goal WHERE seq = NEW.seq);
  SELECT RAISE(ABORT, 'goal: the entry is of another kind')
    WHERE (SELECT kind FROM entry WHERE seq = NEW.seq) IS NOT 'goal';
END;
CREATE TRIGGER plan_kind BEFORE INSERT ON plan BEGIN
  SELECT RAISE(ABORT, 'plan: rows of the log are not replaced')
    WHERE EXISTS (SELECT 1 FROM plan WHERE seq = NEW.seq);
  SELECT RAISE(ABORT, 'plan: the entry is of another kind')
    WHERE (SELECT kind FROM entry WHERE seq = NEW.seq) IS NOT 'route';
END;
CREATE TRIGGER heat_kind BEFORE INSERT ON heat BEGIN
  SELECT RAISE(ABORT, 'heat: rows of the log are not replaced')
    WHERE EXISTS (SELECT 1 FROM heat WHERE seq = NEW.seq);
  SELECT RAISE(ABORT, 'heat: the entry is of another kind')
    WHERE (SELECT kind FROM entry WHERE seq = NEW.seq) IS NOT 'heat';
END;
CREATE TRIGGER size_kind BEFORE INSERT ON size BEGIN
  SELECT RAISE(ABORT, 'size: rows of the log are not replaced')
    WHERE EXISTS (SELECT 1 FROM size WHERE seq = NEW.seq);
  SELECT RAISE(ABORT, 'size: the entry is of another kind')
    WHERE (SELECT kind FROM entry WHERE seq = NEW.seq) IS NOT 'size';
END;
CREATE TRIGGER crack_kind BEFORE INSERT ON crack BEGIN
  SELECT RAISE(ABORT, 'crack: rows of the log are not replaced')
    WHERE EXISTS (SELECT 1 FROM crack WHERE seq = NEW.seq);
  SELECT RAISE(ABORT, 'crack: the entry is of another kind')
    WHERE (SELECT kind FROM entry WHERE seq = NEW.seq) IS NOT 'crack';
END;
CREATE TRIGGER removal_kind BEFORE INSERT ON removal BEGIN
  SELECT RAISE(ABORT, 'removal: rows of the log are not replaced')
    WHERE EXISTS (SELECT 1 FROM removal WHERE seq = NEW.seq);
  SELECT RAISE(ABORT, 'removal: the entry is of another kind')
    WHERE (SELECT kind FROM entry WHERE seq = NEW.seq) IS NOT 'removal';
END;
CREATE TRIGGER blade_kind BEFORE INSERT ON blade BEGIN
  SELECT RAISE(ABORT, 'blade: rows of the log are not replaced')
    WHERE EXISTS (SELECT 1 FROM blade WHERE seq = NEW.seq);
  SELECT RAISE(ABORT, 'blade: the entry is of another kind')
    WHERE (SELECT kind FROM entry WHERE seq = NEW.seq) IS NOT 'finish';
END;
CREATE TRIGGER note_kind BEFORE INSERT ON note BEGIN
  SELECT RAISE(ABORT, 'note: rows of the log are not replaced')
    WHERE EXISTS (SELECT 1 FROM note WHERE seq = NEW.seq);
  SELECT RAISE(ABORT, 'note: the entry is of another kind')
    WHERE (SELECT kind FROM entry WHERE seq = NEW.seq) IS NOT 'note';
END;
CREATE TRIGGER switch_kind BEFORE INSERT ON switch BEGIN
  SELECT RAISE(ABORT, 'switch: rows of the log are not replaced')
    WHERE EXISTS (SELECT 1 FROM switch WHERE seq = NEW.seq);
  SELECT RAISE(ABORT, 'switch: the entry is of another kind')
    WHERE (SELECT kind FROM entry WHERE seq = NEW.seq) IS NOT 'switch';
END;
CREATE TRIGGER setting_kind BEFORE INSERT ON setting BEGIN
  SELECT RAISE(ABORT, 'setting: rows of the log are not replaced')
    WHERE EXISTS (SELECT 1 FROM setting WHERE seq = NEW.seq);
  SELECT RAISE(ABORT, 'setting: the entry is of another kind')
    WHERE (SELECT kind FROM entry WHERE seq = NEW.seq) IS NOT 'setting';
END;
CREATE TRIGGER melt_fixed BEFORE UPDATE ON melt BEGIN
  SELECT RAISE(ABORT, 'melt: rows of the log are not changed');
END;
CREATE TRIGGER melt_kept BEFORE DELETE ON melt BEGIN
  SELECT RAISE(ABORT, 'melt: rows of the log are not removed');
END;
CREATE TRIGGER ingot_fixed BEFORE UPDATE ON ingot BEGIN
  SELECT RAISE(ABORT, 'ingot: rows of the log are not changed');
END;
CREATE TRIGGER ingot_kept BEFORE DELETE ON ingot BEGIN
  SELECT RAISE(ABORT, 'ingot: rows of the log are not removed');
END;
CREATE TRIGGER goal_fixed BEFORE UPDATE ON goal BEGIN
  SELECT RAISE(ABORT, 'goal: rows of the log are not changed');
END;
CREATE TRIGGER goal_kept BEFORE DELETE ON goal BEGIN
  SELECT RAISE(ABORT, 'goal: rows of the log are not removed');
END;
CREATE TRIGGER plan_fixed BEFORE UPDATE ON plan BEGIN
  SELECT RAISE(ABORT, 'plan: rows of the log are not changed');
END;
CREATE TRIGGER plan_kept BEFORE DELETE ON plan BEGIN
  SELECT RAISE(ABORT, 'plan: rows of the log are not removed');
END;
CREATE TRIGGER heat_fixed BEFORE UPDATE ON heat BEGIN
  SELECT RAISE(ABORT, 'heat: rows of the log are not changed');
END;
CREATE TRIGGER heat_kept BEFORE DELETE ON heat BEGIN
  SELECT RAISE(ABORT, 'heat: rows of the log are not removed');
END;
CREATE TRIGGER size_fixed BEFORE UPDATE ON size BEGIN
  SELECT RAISE(ABORT, 'size: rows of the log are not changed');
END;
CREATE TRIGGER size_kept BEFORE DELETE ON size BEGIN
  SELECT RAISE(ABORT, 'size: rows of the log are not removed');
END;
CREATE TRIGGER crack_fixed BEFORE UPDATE ON crack BEGIN
  SELECT RAISE(ABORT, 'crack: rows of the log are not changed');
END;
CREATE TRIGGER crack_kept BEFORE DELETE ON crack BEGIN
  SELECT RAISE(ABORT, 'crack: rows of the log are not removed');
END;
CREATE TRIGGER removal_fixed BEFORE UPDATE ON removal BEGIN
  SELECT RAISE(ABORT, 'removal: rows of the log are not changed');
END;
CREATE TRIGGER removal_kept BEFORE DELETE ON removal BEGIN
  SELECT RAISE(ABORT, 'removal: rows of the log are not removed');
END;
CREATE TRIGGER blade_fixed BEFORE UPDATE ON blade BEGIN
  SELECT RAISE(ABORT, 'blade: rows of the log are not changed');
END;
CREATE TRIGGER blade_kept BEFORE DELETE ON blade BEGIN
  SELECT RAISE(ABORT, 'blade: rows of the log are not removed');
END;
CREATE TRIGGER note_fixed BEFORE UPDATE ON note BEGIN
  SELECT RAISE(ABORT, 'note: rows of the log are not changed');
END;
CREATE TRIGGER note_kept BEFORE DELETE ON note BEGIN
  SELECT RAISE(ABORT, 'note: rows of the log are not removed');
END;
CREATE TRIGGER switch_fixed BEFORE UPDATE ON switch BEGIN
  SELECT RAISE(ABORT, 'switch: rows of the log are not changed');
END;
CREATE TRIGGER switch_kept BEFORE DELETE ON switch BEGIN
  SELECT RAISE(ABORT, 'switch: rows of the log are not removed');
END;
CREATE TRIGGER setting_fixed BEFORE UPDATE ON setting BEGIN
  SELECT RAISE(ABORT, 'setting: rows of the log are not changed');
END;
CREATE TRIGGER setting_kept BEFORE DELETE ON setting BEGIN
  SELECT RAISE(ABORT, 'setting: rows of the log are not removed');
END;
CREATE TRIGGER melt_charge_new BEFORE INSERT ON melt_charge BEGIN
  SELECT RAISE(ABORT, 'melt_charge: rows of the log are not replaced')
    WHERE EXISTS (SELECT 1 FROM melt_charge WHERE seq = NEW.seq AND place = NEW.place);
END;
CREATE TRIGGER melt_charge_fixed BEFORE UPDATE ON melt_charge BEGIN
  SELECT RAISE(ABORT, 'melt_charge: rows of the log are not changed');
END;
CREATE TRIGGER melt_charge_kept BEFORE DELETE ON melt_charge BEGIN
  SELECT RAISE(ABORT, 'melt_charge: rows of the log are not removed');
END;
CREATE TRIGGER ingot_name_new BEFORE INSERT ON ingot_name BEGIN
  SELECT RAISE(ABORT, 'ingot_name: rows of the log are not replaced')
    WHERE EXISTS (SELECT 1 FROM ingot_name WHERE seq = NEW.seq);
END;
CREATE TRIGGER ingot_name_fixed BEFORE UPDATE ON ingot_name BEGIN
  SELECT RAISE(ABORT, 'ingot_name: rows of the log are not changed');
END;
CREATE TRIGGER ingot_name_kept BEFORE DELETE ON ingot_name BEGIN
  SELECT RAISE(ABORT, 'ingot_name: rows of the log are not removed');
END;

-- Every ingot that stands in the log: its name now, when it was opened, whether a blade came of it.
CREATE VIEW named_ingot AS
SELECT o.id AS ingot_id, o.chat_id, o.seq, f.number,
  coalesce((SELECT i.name FROM entry e JOIN ingot i ON i.seq = e.seq
    WHERE e.ingot_id = o.id AND e.kind = 'ingot' AND e.taken_back_by IS NULL AND i.name IS NOT NULL
    ORDER BY e.at DESC, e.place DESC, e.seq DESC LIMIT 1), CAST(f.number AS TEXT)) AS name,
  (SELECT min(e.at) FROM entry e
    WHERE e.ingot_id = o.id AND e.kind = 'ingot' AND e.taken_back_by IS NULL) AS opened_at,
  EXISTS (SELECT 1 FROM entry e
    WHERE e.ingot_id = o.id AND e.kind = 'finish' AND e.taken_back_by IS NULL) AS finished
FROM entry o JOIN ingot_name f ON f.seq = o.seq
WHERE o.kind = 'ingot' AND o.id = o.ingot_id
  AND EXISTS (SELECT 1 FROM entry e
    WHERE e.ingot_id = o.id AND e.kind = 'ingot' AND e.taken_back_by IS NULL);
