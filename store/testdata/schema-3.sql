-- What a database of schema 3 may hold beside that of schemas 1 and 2.
INSERT INTO questions (id, owner, title, text, shared, changed, gone, version) VALUES ('q1', 'm1', 'Jetty', 'question "Jetty", again', 1, 1772616600131, 0, 3);
INSERT INTO versions (question, n, text, by_who, at, name) VALUES ('q1', 1, 'question "Jetty"', 'm1', 1772616600131, 'first');
INSERT INTO versions (question, n, text, by_who, at, name) VALUES ('q1', 3, 'question "Jetty", again', 'm1', 1772616600132, '');
