-- Times are milliseconds since 1970 UTC, 0 where there is none. {{int}}, {{serial}} and {{strict}} are how each
-- database writes a whole number of 64 bits, a key that counts up, and a table that keeps to its types.

CREATE TABLE settings (
	name TEXT PRIMARY KEY,
	value TEXT NOT NULL
) {{strict}};

CREATE TABLE history (
	n {{serial}},
	at {{int}} NOT NULL,
	role TEXT NOT NULL,
	who TEXT NOT NULL,
	what TEXT NOT NULL,
	about TEXT NOT NULL,
	pupil TEXT NOT NULL,
	was TEXT NOT NULL,
	now TEXT NOT NULL
) {{strict}};
CREATE INDEX history_about ON history (about);
CREATE INDEX history_who ON history (who);
CREATE INDEX history_pupil ON history (pupil) WHERE pupil <> '';

CREATE TABLE people (
	id TEXT PRIMARY KEY CHECK (id <> ''),
	name TEXT NOT NULL,
	login TEXT NOT NULL UNIQUE CHECK (login <> ''),
	hash TEXT NOT NULL,
	role TEXT NOT NULL CHECK (role IN ('teacher', 'head')),
	made {{int}} NOT NULL,
	ended {{int}} NOT NULL
) {{strict}};

CREATE TABLE passkeys (
	id TEXT PRIMARY KEY CHECK (id <> ''),
	person TEXT NOT NULL REFERENCES people (id),
	record TEXT NOT NULL,
	label TEXT NOT NULL,
	made {{int}} NOT NULL
) {{strict}};
CREATE INDEX passkeys_person ON passkeys (person);

CREATE TABLE invitations (
	hash TEXT PRIMARY KEY CHECK (hash <> ''),
	role TEXT NOT NULL,
	ends {{int}} NOT NULL,
	by_who TEXT NOT NULL
) {{strict}};

-- who is a teacher or a pupil, so it can't refer to one table.
CREATE TABLE sessions (
	hash TEXT PRIMARY KEY CHECK (hash <> ''),
	role TEXT NOT NULL,
	who TEXT NOT NULL,
	label TEXT NOT NULL,
	made {{int}} NOT NULL,
	seen {{int}} NOT NULL,
	ends {{int}} NOT NULL
) {{strict}};
CREATE INDEX sessions_who ON sessions (who);
CREATE INDEX sessions_ends ON sessions (ends);
