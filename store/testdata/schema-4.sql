-- What a database of schema 4 may hold beside that of schemas 1 to 3.
INSERT INTO sets (id, class, title, seed, practice, policy, opens, closes, shown, items, pupils, follows, given, released, version)
	VALUES ('h1', 'c1', 'Two trestles', 'a1', 0, 'plain', 1772616600133, 1772716600133, '{"Hints":0,"Marks":4,"Feedback":4,"Solution":3}',
	'[{"Question":"bank:trestle","Text":"question \"Trestle\"","Own":true}]', '["p1","p2"]', '', 1772616600134, 0, 2);
INSERT INTO numbers (set_id, pupil, item, text) VALUES ('h1', 'p1', 0, 'question "Trestle", numbers of p1');
INSERT INTO numbers (set_id, pupil, item, text) VALUES ('h1', 'p2', 0, 'question "Trestle", numbers of p2');
INSERT INTO changes (set_id, shard, n) VALUES ('h1', 0, 7);
