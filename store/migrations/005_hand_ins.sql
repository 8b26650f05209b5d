CREATE TABLE drafts (
	set_id TEXT NOT NULL REFERENCES sets (id),
	pupil TEXT NOT NULL REFERENCES pupils (id),
	item {{int}} NOT NULL,
	part TEXT NOT NULL,
	answer TEXT NOT NULL,
	working TEXT NOT NULL,
	rev {{int}} NOT NULL,
	at {{int}} NOT NULL,
	PRIMARY KEY (set_id, pupil, item, part)
) {{strict}};
CREATE INDEX drafts_pupil ON drafts (pupil);

-- answers is JSON: a hand-in is one row, so it can't be half there. sum is SHA-256 of what was handed in. n says
-- which is the last, whatever the clock said.
CREATE TABLE hand_ins (
	n {{serial}},
	id TEXT NOT NULL UNIQUE CHECK (id <> ''),
	set_id TEXT NOT NULL REFERENCES sets (id),
	pupil TEXT NOT NULL REFERENCES pupils (id),
	key TEXT NOT NULL CHECK (key <> ''),
	receipt TEXT NOT NULL,
	at {{int}} NOT NULL,
	parts {{int}} NOT NULL,
	answers TEXT NOT NULL,
	sum TEXT NOT NULL,
	marked {{int}} NOT NULL,
	UNIQUE (set_id, pupil, key)
) {{strict}};
CREATE INDEX hand_ins_pupil ON hand_ins (pupil);
CREATE INDEX hand_ins_unmarked ON hand_ins (n) WHERE marked = 0;

CREATE TABLE markings (
	hand_in TEXT NOT NULL REFERENCES hand_ins (id),
	item {{int}} NOT NULL,
	part TEXT NOT NULL,
	marks {{int}} NOT NULL CHECK (marks >= 0 AND marks <= out_of),
	out_of {{int}} NOT NULL,
	asks {{int}} NOT NULL,
	record TEXT NOT NULL,
	PRIMARY KEY (hand_in, item, part)
) {{strict}};

CREATE TABLE decisions (
	n {{serial}},
	id TEXT NOT NULL UNIQUE CHECK (id <> ''),
	set_id TEXT NOT NULL REFERENCES sets (id),
	pupil TEXT NOT NULL REFERENCES pupils (id),
	hand_in TEXT REFERENCES hand_ins (id),
	item {{int}} NOT NULL,
	part TEXT NOT NULL,
	mark {{int}} NOT NULL CHECK (mark >= 0),
	reason TEXT NOT NULL,
	by_who TEXT NOT NULL,
	at {{int}} NOT NULL
) {{strict}};
CREATE INDEX decisions_set ON decisions (set_id);
CREATE INDEX decisions_pupil ON decisions (pupil);
CREATE INDEX decisions_hand_in ON decisions (hand_in);
