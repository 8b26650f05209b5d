-- What a database of schema 5 may hold beside that of schemas 1 to 4.
INSERT INTO drafts (set_id, pupil, item, part, answer, working, rev, at) VALUES ('h1', 'p2', 0, 'a', '412', 'moments about Q', 9, 1772616600135);
INSERT INTO hand_ins (id, set_id, pupil, key, receipt, at, parts, answers, sum, marked)
	VALUES ('a1', 'h1', 'p1', 'key-1', 'R1', 1772616600136, 1, '[{"Item":0,"Part":"a","Answer":"412 N","Working":"4.2 P = 3.1 × 558"}]', 'c58ec387a9a44bd36489f4228580fc8c87f6a52d53ecc23f6ca0d3494d3d1b4f', 1);
INSERT INTO markings (hand_in, item, part, marks, out_of, asks, record) VALUES ('a1', 0, 'a', 2, 3, 1, '{"said":"x"}');
INSERT INTO decisions (id, set_id, pupil, hand_in, item, part, mark, reason, by_who, at) VALUES ('d1', 'h1', 'p1', 'a1', 0, 'a', 3, 'method seen', 'm1', 1772616600137);
INSERT INTO decisions (id, set_id, pupil, hand_in, item, part, mark, reason, by_who, at) VALUES ('d2', 'h1', 'p2', NULL, 0, 'a', 0, 'on paper', 'm2', 1772616600138);
