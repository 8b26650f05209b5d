-- What a database of schema 2 may hold beside that of schema 1.
INSERT INTO classes (id, name, code, source, plain, keep_till, locked, version) VALUES ('c1', '11B', 'plover', 'cls-11b', 1, 1872616600000, 1772616600000, 4);
INSERT INTO teachers (class, person) VALUES ('c1', 'm1');
INSERT INTO teachers (class, person) VALUES ('c1', 'm2');
INSERT INTO pupils (id, class, name, source, code, access, left_at) VALUES ('p1', 'c1', 'Tamsel Overby', 'p-1', '$argon2id$3', '{"TextSize":18,"Tint":"cream","ExtraTime":25,"Description":true}', 0);
INSERT INTO pupils (id, class, name, source, code, access, left_at) VALUES ('p2', 'c1', 'Ilka Wendover', '', '$argon2id$4', '{}', 1772616600129);
INSERT INTO erased (pupil, at) VALUES ('p0', 1772616600130);
