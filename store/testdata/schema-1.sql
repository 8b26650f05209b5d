-- What a database of schema 1 may hold. Added when schema 1 was made, and never changed since.
INSERT INTO settings (name, value) VALUES ('pepper', 'from schema 1');
INSERT INTO people (id, name, login, hash, role, made, ended) VALUES ('m1', 'Mx Ferrow', 'ferrow', '$argon2id$1', 'head', 1772616600123, 0);
INSERT INTO people (id, name, login, hash, role, made, ended) VALUES ('m2', 'Ms Ashgrove', 'ashgrove', '$argon2id$2', 'teacher', 1772616600124, 1772616700000);
INSERT INTO passkeys (id, person, record, label, made) VALUES ('k1', 'm1', '{"n":1}', 'blue laptop', 1772616600125);
INSERT INTO invitations (hash, role, ends, by_who) VALUES ('i1', 'teacher', 1772616900000, 'm1');
INSERT INTO sessions (hash, role, who, label, made, seen, ends) VALUES ('s1', 'head', 'm1', 'a browser', 1772616600126, 1772616600127, 1872616600126);
INSERT INTO history (at, role, who, what, about, pupil, was, now) VALUES (1772616600128, '', '', 'account made', 'm1', '', '', '{"role":"head"}');
