CREATE TABLE classes (
	id TEXT PRIMARY KEY CHECK (id <> ''),
	name TEXT NOT NULL,
	code TEXT NOT NULL UNIQUE CHECK (code <> ''),
	source TEXT NOT NULL,
	plain {{int}} NOT NULL,
	keep_till {{int}} NOT NULL,
	locked {{int}} NOT NULL,
	version {{int}} NOT NULL
) {{strict}};

CREATE TABLE teachers (
	class TEXT NOT NULL REFERENCES classes (id),
	person TEXT NOT NULL REFERENCES people (id),
	PRIMARY KEY (class, person)
) {{strict}};
CREATE INDEX teachers_person ON teachers (person);

-- The one table with pupils' names. access is JSON of the settings.
CREATE TABLE pupils (
	n {{serial}},
	id TEXT NOT NULL UNIQUE CHECK (id <> ''),
	class TEXT NOT NULL REFERENCES classes (id),
	name TEXT NOT NULL,
	source TEXT NOT NULL,
	code TEXT NOT NULL,
	access TEXT NOT NULL,
	left_at {{int}} NOT NULL
) {{strict}};
CREATE INDEX pupils_class ON pupils (class);

-- Pseudonyms only: a restore of an older backup erases these pupils again.
CREATE TABLE erased (
	pupil TEXT PRIMARY KEY,
	at {{int}} NOT NULL
) {{strict}};
