-- taken is when a decision was taken back; 0: it stands.
ALTER TABLE decisions ADD COLUMN taken {{int}} NOT NULL DEFAULT 0;

-- What a second marker gave, without having seen the first marks. The last for each part and person counts; all are kept.
CREATE TABLE second_marks (
	n {{serial}},
	set_id TEXT NOT NULL REFERENCES sets (id),
	pupil TEXT NOT NULL REFERENCES pupils (id),
	hand_in TEXT NOT NULL REFERENCES hand_ins (id),
	item {{int}} NOT NULL,
	part TEXT NOT NULL,
	mark {{int}} NOT NULL CHECK (mark >= 0),
	by_who TEXT NOT NULL,
	at {{int}} NOT NULL
) {{strict}};
CREATE INDEX second_marks_set ON second_marks (set_id);
CREATE INDEX second_marks_pupil ON second_marks (pupil);
CREATE INDEX second_marks_hand_in ON second_marks (hand_in);
