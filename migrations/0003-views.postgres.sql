-- Answers to plain questions. Views only read; each can be opened in any PostgreSQL client.

-- Everything that stands (said and not taken back), with the names a person knows and the words it came from.
CREATE VIEW standing AS
SELECT e.seq, e.id, e.kind, e.at, s.name AS smith, n.name AS ingot, e.ingot_id, e.chat_id, m.text AS words
FROM entry e
  JOIN message m ON m.chat_id = e.chat_id AND m.id = e.message_id
  JOIN smith s ON s.chat_id = e.chat_id AND s.id = e.smith_id
  LEFT JOIN named_ingot n ON n.chat_id = e.chat_id AND n.ingot_id = e.ingot_id
WHERE e.taken_back_by IS NULL AND e.kind NOT IN ('undo', 'correct', 'edit');

-- What was taken back, by which words, and what it had said.
CREATE VIEW taken_back AS
SELECT e.seq, e.id, e.kind, e.at, m.text AS words, b.kind AS taken_back_as, b.arrived AS taken_back_at,
  w.text AS taken_back_with
FROM entry e
  JOIN message m ON m.chat_id = e.chat_id AND m.id = e.message_id
  JOIN entry b ON b.chat_id = e.chat_id AND b.id = e.taken_back_by
  JOIN message w ON w.chat_id = b.chat_id AND w.id = b.message_id;

-- Every weighing of an ingot: as cast, then each size with a mass; how many heats it had had by then.
CREATE VIEW weighing AS
SELECT e.ingot_id, e.chat_id, e.at, e.place, e.seq, coalesce(i.mass_g, z.mass_g, b.mass_g) AS mass_g,
  (SELECT count(*) FROM entry h WHERE h.chat_id = e.chat_id AND h.ingot_id = e.ingot_id AND h.kind = 'heat' AND h.taken_back_by IS NULL
     AND (h.at, h.place, h.seq) < (e.at, e.place, e.seq)) AS heats_before,
  (SELECT coalesce(sum(r.mass_g), 0) FROM entry x JOIN removal r ON r.chat_id = x.chat_id AND r.seq = x.seq
     WHERE x.chat_id = e.chat_id AND x.ingot_id = e.ingot_id AND x.taken_back_by IS NULL
     AND (x.at, x.place, x.seq) < (e.at, e.place, e.seq)) AS removed_before_g
FROM entry e
  LEFT JOIN ingot i ON i.chat_id = e.chat_id AND i.seq = e.seq
  LEFT JOIN size z ON z.chat_id = e.chat_id AND z.seq = e.seq
  LEFT JOIN blade b ON b.chat_id = e.chat_id AND b.seq = e.seq
WHERE e.taken_back_by IS NULL AND e.ingot_id IS NOT NULL
  AND coalesce(i.mass_g, z.mass_g, b.mass_g) IS NOT NULL;

-- How much an ingot lost to scale between two weighings, in all and a heat. What was cut, ground or chiselled
-- off in between and weighed is taken out of the loss; what was not weighed is still in it.
CREATE VIEW loss_per_heat AS
SELECT n.name AS ingot, w.ingot_id, w.chat_id, w.from_at, w.to_at, w.from_g, w.to_g, w.removed_g,
  w.from_g - w.to_g - w.removed_g AS lost_g, w.heats,
  (w.from_g - w.to_g - w.removed_g) / w.heats AS lost_per_heat_g,
  100 * (w.from_g - w.to_g - w.removed_g) / w.from_g / w.heats AS lost_per_heat_pct
FROM (
  SELECT ingot_id, chat_id, mass_g AS to_g, at AS to_at,
    lag(mass_g) OVER ingots AS from_g, lag(at) OVER ingots AS from_at,
    heats_before - lag(heats_before) OVER ingots AS heats,
    removed_before_g - lag(removed_before_g) OVER ingots AS removed_g
  FROM weighing
  WINDOW ingots AS (PARTITION BY chat_id, ingot_id ORDER BY at, place, seq)
) w JOIN named_ingot n ON n.chat_id = w.chat_id AND n.ingot_id = w.ingot_id
WHERE w.heats > 0;

-- The route that stands for an ingot: the last one said.
CREATE VIEW standing_route AS
SELECT ingot_id, chat_id, route, split FROM (
  SELECT e.ingot_id, e.chat_id, p.route, p.split,
    row_number() OVER (PARTITION BY e.chat_id, e.ingot_id ORDER BY e.at DESC, e.place DESC, e.seq DESC) AS newest
  FROM entry e JOIN plan p ON p.chat_id = e.chat_id AND p.seq = e.seq
  WHERE e.taken_back_by IS NULL AND e.ingot_id IS NOT NULL AND p.route IS NOT NULL
) r WHERE newest = 1;

-- One line an ingot: what it is, where it stands, what happened to it.
CREATE VIEW ingot_overview AS
SELECT n.ingot_id, n.chat_id, n.number, n.name, n.opened_at, n.finished, r.route,
  (SELECT mass_g FROM weighing w WHERE w.chat_id = n.chat_id AND w.ingot_id = n.ingot_id ORDER BY at, place, seq LIMIT 1) AS first_mass_g,
  (SELECT mass_g FROM weighing w WHERE w.chat_id = n.chat_id AND w.ingot_id = n.ingot_id
     ORDER BY at DESC, place DESC, seq DESC LIMIT 1) AS last_mass_g,
  (SELECT count(*) FROM entry e WHERE e.chat_id = n.chat_id AND e.ingot_id = n.ingot_id AND e.kind = 'heat'
     AND e.taken_back_by IS NULL) AS heats,
  (SELECT count(*) FROM entry e WHERE e.chat_id = n.chat_id AND e.ingot_id = n.ingot_id AND e.kind = 'crack'
     AND e.taken_back_by IS NULL) AS cracks,
  (SELECT max(c.depth_mm) FROM entry e JOIN crack c ON c.chat_id = e.chat_id AND c.seq = e.seq
     WHERE e.chat_id = n.chat_id AND e.ingot_id = n.ingot_id
     AND e.taken_back_by IS NULL) AS deepest_crack_mm,
  (SELECT sum(x.mass_g) FROM entry e JOIN removal x ON x.chat_id = e.chat_id AND x.seq = e.seq
     WHERE e.chat_id = n.chat_id AND e.ingot_id = n.ingot_id
     AND e.taken_back_by IS NULL) AS removed_g
FROM named_ingot n LEFT JOIN standing_route r ON r.chat_id = n.chat_id AND r.ingot_id = n.ingot_id;

-- Which route cracks how often: ingots, cracks, cracks an ingot, the deepest, and how many came to a blade.
CREATE VIEW cracks_per_route AS
SELECT chat_id, coalesce(route, 'not said') AS route, count(*) AS ingots, sum(cracks) AS cracks,
  sum(cracks) * 1.0 / count(*) AS cracks_per_ingot, max(deepest_crack_mm) AS deepest_mm,
  sum(finished) AS finished
FROM ingot_overview GROUP BY chat_id, coalesce(route, 'not said');

-- What each working does: heats, the temperatures they were said at, cracks found before the next heat.
CREATE VIEW heats_by_operation AS
SELECT chat_id, coalesce(operation, 'not said') AS operation, count(*) AS heats,
  min(temperature_c) AS coldest_c, avg(temperature_c) AS mean_c, max(temperature_c) AS hottest_c,
  sum(cracks) AS cracks
FROM (
  SELECT e.chat_id, h.operation, h.temperature_c,
    (SELECT count(*) FROM entry c WHERE c.chat_id = e.chat_id AND c.ingot_id = e.ingot_id AND c.kind = 'crack' AND c.taken_back_by IS NULL
       AND (c.at, c.place, c.seq) > (e.at, e.place, e.seq)
       AND NOT EXISTS (SELECT 1 FROM entry b WHERE b.chat_id = e.chat_id AND b.ingot_id = e.ingot_id AND b.kind = 'heat'
         AND b.taken_back_by IS NULL AND (b.at, b.place, b.seq) > (e.at, e.place, e.seq)
         AND (b.at, b.place, b.seq) < (c.at, c.place, c.seq))) AS cracks
  FROM entry e JOIN heat h ON h.chat_id = e.chat_id AND h.seq = e.seq
  WHERE e.taken_back_by IS NULL
) h GROUP BY chat_id, coalesce(operation, 'not said');

-- What each melt was made of and what came of it.
CREATE VIEW melt_overview AS
SELECT e.chat_id, e.at, s.name AS smith, m.number, m.mass_g, m.temperature_c, m.duration_min, m.carbon_pct,
  m.ingot_g, m.cooling,
  (SELECT string_agg(c.what || coalesce(' ' || c.mass_g || CASE WHEN c.mass_g = trunc(c.mass_g) THEN '.0' ELSE '' END
       || ' g', ''), ', ' ORDER BY c.place)
     FROM melt_charge c WHERE c.chat_id = m.chat_id AND c.seq = m.seq) AS charge
FROM melt m JOIN entry e ON e.chat_id = m.chat_id AND e.seq = m.seq JOIN smith s ON s.chat_id = e.chat_id AND s.id = e.smith_id
WHERE e.taken_back_by IS NULL;
