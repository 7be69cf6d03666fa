-- Notes that say that an ingot is given up: it came to an end without a blade. Written by the program with the note
-- (src/logbook/given-up.ts says which words); taken back with it.

CREATE TABLE given_up (
  chat_id  text COLLATE "C" NOT NULL REFERENCES chat (id) DEFERRABLE,
  seq      bigint NOT NULL,
  ingot_id text COLLATE "C" NOT NULL,
  PRIMARY KEY (chat_id, seq),
  FOREIGN KEY (chat_id, seq) REFERENCES note (chat_id, seq) DEFERRABLE,
  FOREIGN KEY (chat_id, ingot_id) REFERENCES entry (chat_id, id) DEFERRABLE
);
CREATE INDEX given_up_ingot ON given_up (chat_id, ingot_id);
CREATE TRIGGER given_up_fixed BEFORE UPDATE ON given_up FOR EACH ROW EXECUTE FUNCTION row_changed();
CREATE TRIGGER given_up_kept BEFORE DELETE ON given_up FOR EACH ROW EXECUTE FUNCTION row_removed();
CREATE TRIGGER given_up_whole BEFORE TRUNCATE ON given_up EXECUTE FUNCTION row_removed();

CREATE OR REPLACE VIEW named_ingot AS
SELECT f.ingot_id, f.chat_id, f.seq, f.number,
  coalesce((SELECT i.name FROM entry e JOIN ingot i ON i.chat_id = e.chat_id AND i.seq = e.seq
    WHERE e.chat_id = f.chat_id AND e.ingot_id = f.ingot_id AND e.kind = 'ingot' AND e.taken_back_by IS NULL
      AND i.name IS NOT NULL
    ORDER BY e.at DESC, e.place DESC, e.seq DESC LIMIT 1), CAST(f.number AS text) COLLATE "C") AS name,
  (SELECT min(e.at) FROM entry e WHERE e.chat_id = f.chat_id AND e.ingot_id = f.ingot_id AND e.kind = 'ingot'
    AND e.taken_back_by IS NULL) AS opened_at,
  CAST(EXISTS (SELECT 1 FROM entry e WHERE e.chat_id = f.chat_id AND e.ingot_id = f.ingot_id AND e.kind = 'finish'
    AND e.taken_back_by IS NULL) AS integer) AS finished,
  CAST(EXISTS (SELECT 1 FROM given_up g JOIN entry e ON e.chat_id = g.chat_id AND e.seq = g.seq
    WHERE g.chat_id = f.chat_id AND g.ingot_id = f.ingot_id AND e.taken_back_by IS NULL) AS integer) AS given_up
FROM ingot_name f
WHERE f.ingot_id = (SELECT o.id FROM entry o WHERE o.chat_id = f.chat_id AND o.seq = f.seq)
  AND (SELECT min(e.at) FROM entry e WHERE e.chat_id = f.chat_id AND e.ingot_id = f.ingot_id AND e.kind = 'ingot'
    AND e.taken_back_by IS NULL) IS NOT NULL;
