package store_test

import (
	"strings"
	"testing"

	"steelyard/store"
)

// Each row does something to a database that its own checks let pass, or that happened behind its back, and says what Verify finds.
var damages = []struct{ do, fault string }{
	{"UPDATE hand_ins SET answers = REPLACE(answers, '412', '413') WHERE id = 'a1'", "hand-in a1 is not as it was handed in"},
	{"UPDATE hand_ins SET pupil = 'p2' WHERE id = 'a1'", "hand-in a1 is not as it was handed in"},
	{"UPDATE hand_ins SET parts = 2 WHERE id = 'a1'", "hand-in a1 does not have its 2 parts"},
	{"UPDATE hand_ins SET answers = 'x' WHERE id = 'a1'", "hand-in a1 does not have its 1 parts"},
	{"UPDATE hand_ins SET marked = 0 WHERE id = 'a1'", "hand-in a1 has markings, but counts as not marked"},
	{"UPDATE sets SET given = 0", "hand-in a1 is for a set that was not given out"},
	{"DELETE FROM numbers WHERE pupil = 'p1'", "pupil p1 handed in for set h1 without numbers for item 0"},
	{"UPDATE numbers SET item = 4 WHERE pupil = 'p2'", "set h1 has numbers of pupil p2 for item 4, which takes none"},
	{"UPDATE decisions SET pupil = 'p2' WHERE id = 'd1'", "decision d1 is about a hand-in of another pupil or set"},
	{"UPDATE second_marks SET pupil = 'p2'", "a second mark by m2 is about a hand-in of another pupil or set"},
	{"DELETE FROM teachers", "class c1 has no teacher"},
	{"UPDATE questions SET text = 'other'", "question q1 is not as its last version says"},
	{"INSERT INTO erased (pupil, at) VALUES ('p1', 1)", "pupil p1 was erased and is there"},
	{"DELETE FROM changes", "set h1 counts no changes"},
}

// The questions to the database are the same on both, so one will do.
func TestVerifyFindsWhatIsWrong(t *testing.T) {
	for _, d := range damages {
		s := filledAt(t, t.TempDir(), store.Latest())
		if err := s.Exec(t.Context(), d.do); err != nil {
			t.Fatal(err)
		}
		faults, err := s.Verify(t.Context())
		if err != nil || !strings.Contains(strings.Join(faults, "\n"), d.fault) {
			t.Errorf("after %s\ngot  %q, %v\nwant %s", d.do, faults, err, d.fault)
		}
		s.Close()
	}
}

func TestVerifyFindsReferencesToNothing(t *testing.T) {
	dir := t.TempDir()
	filledAt(t, dir, store.Latest()).Close()
	change(t, dir, "PRAGMA foreign_keys = 0; UPDATE pupils SET class = 'none' WHERE id = 'p2'")
	faults, err := opened(t, dir).Verify(t.Context())
	if err != nil || len(faults) == 0 || !strings.Contains(faults[0], "refers to nothing in classes") {
		t.Errorf("got %q, %v", faults, err)
	}
}
