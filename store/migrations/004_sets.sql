-- shown, items and pupils (those that it is for; empty: the whole class) are JSON: they are only read whole.
CREATE TABLE sets (
	id TEXT PRIMARY KEY CHECK (id <> ''),
	class TEXT NOT NULL REFERENCES classes (id),
	title TEXT NOT NULL,
	seed TEXT NOT NULL,
	practice {{int}} NOT NULL,
	policy TEXT NOT NULL,
	opens {{int}} NOT NULL,
	closes {{int}} NOT NULL,
	shown TEXT NOT NULL,
	items TEXT NOT NULL,
	pupils TEXT NOT NULL,
	follows TEXT NOT NULL,
	given {{int}} NOT NULL,
	released {{int}} NOT NULL,
	version {{int}} NOT NULL
) {{strict}};
CREATE INDEX sets_class ON sets (class);

CREATE TABLE numbers (
	set_id TEXT NOT NULL REFERENCES sets (id),
	pupil TEXT NOT NULL REFERENCES pupils (id),
	item {{int}} NOT NULL,
	text TEXT NOT NULL,
	PRIMARY KEY (set_id, pupil, item)
) {{strict}};
CREATE INDEX numbers_pupil ON numbers (pupil);

-- The changes of a set are counted in several shards, so that many who hand in at once don't queue for one row.
CREATE TABLE changes (
	set_id TEXT NOT NULL REFERENCES sets (id),
	shard {{int}} NOT NULL,
	n {{int}} NOT NULL,
	PRIMARY KEY (set_id, shard)
) {{strict}};
