-- What a database of schema 6 may hold beside that of schemas 1 to 5.
UPDATE decisions SET taken = 1772616600139 WHERE id = 'd2';
INSERT INTO second_marks (set_id, pupil, hand_in, item, part, mark, by_who, at) VALUES ('h1', 'p1', 'a1', 0, 'a', 2, 'm2', 1772616600140);
