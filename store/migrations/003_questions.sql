CREATE TABLE questions (
	id TEXT PRIMARY KEY CHECK (id <> ''),
	owner TEXT NOT NULL REFERENCES people (id),
	title TEXT NOT NULL,
	text TEXT NOT NULL,
	shared {{int}} NOT NULL,
	changed {{int}} NOT NULL,
	gone {{int}} NOT NULL,
	version {{int}} NOT NULL
) {{strict}};
CREATE INDEX questions_owner ON questions (owner);

CREATE TABLE versions (
	question TEXT NOT NULL REFERENCES questions (id),
	n {{int}} NOT NULL,
	text TEXT NOT NULL,
	by_who TEXT NOT NULL,
	at {{int}} NOT NULL,
	name TEXT NOT NULL,
	PRIMARY KEY (question, n)
) {{strict}};
