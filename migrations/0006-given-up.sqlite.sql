-- Notes that say that an ingot is given up: it came to an end without a blade. Written by the program with the note
-- (src/logbook/given-up.ts says which words); taken back with it.

CREATE TABLE given_up (
  seq      INTEGER PRIMARY KEY REFERENCES note (seq),
  chat_id  TEXT NOT NULL REFERENCES chat (id),
  ingot_id TEXT NOT NULL REFERENCES entry (id)
) STRICT;
CREATE INDEX given_up_ingot ON given_up (ingot_id);
CREATE INDEX given_up_chat ON given_up (chat_id, seq);
CREATE TRIGGER given_up_new BEFORE INSERT ON given_up BEGIN
  SELECT RAISE(ABORT, 'given_up: rows of the log are not replaced')
    WHERE EXISTS (SELECT 1 FROM given_up WHERE seq = NEW.seq);
END;
CREATE TRIGGER given_up_fixed BEFORE UPDATE ON given_up BEGIN
  SELECT RAISE(ABORT, 'given_up: rows of the log are not changed');
END;
CREATE TRIGGER given_up_kept BEFORE DELETE ON given_up BEGIN
  SELECT RAISE(ABORT, 'given_up: rows of the log are not removed');
END;

DROP VIEW named_ingot;
CREATE VIEW named_ingot AS
SELECT o.id AS ingot_id, o.chat_id, o.seq, f.number,
  coalesce((SELECT i.name FROM entry e JOIN ingot i ON i.seq = e.seq
    WHERE e.ingot_id = o.id AND e.kind = 'ingot' AND e.taken_back_by IS NULL AND i.name IS NOT NULL
    ORDER BY e.at DESC, e.place DESC, e.seq DESC LIMIT 1), CAST(f.number AS TEXT)) AS name,
  (SELECT min(e.at) FROM entry e
    WHERE e.ingot_id = o.id AND e.kind = 'ingot' AND e.taken_back_by IS NULL) AS opened_at,
  EXISTS (SELECT 1 FROM entry e
    WHERE e.ingot_id = o.id AND e.kind = 'finish' AND e.taken_back_by IS NULL) AS finished,
  EXISTS (SELECT 1 FROM given_up g JOIN entry e ON e.seq = g.seq
    WHERE g.ingot_id = o.id AND e.taken_back_by IS NULL) AS given_up
FROM entry o JOIN ingot_name f ON f.seq = o.seq
WHERE o.kind = 'ingot' AND o.id = o.ingot_id
  AND EXISTS (SELECT 1 FROM entry e
    WHERE e.ingot_id = o.id AND e.kind = 'ingot' AND e.taken_back_by IS NULL);
