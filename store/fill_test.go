package store_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"steelyard/account"
	"steelyard/homework"
	"steelyard/store"
)

var now = time.Date(2027, 3, 4, 9, 30, 0, 0, time.UTC)

// The IDs of a filled store.
const (
	teacherID = "teacher-1"
	classID   = "class-1"
	setID     = "set-1"
)

func pupilID(i int) string { return fmt.Sprintf("pupil-%03d", i) }

func opened(t testing.TB, where string) *store.Store {
	t.Helper()
	s, err := store.Open(t.Context(), where)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return s
}

// filled opens a new store with a class of so many pupils, and a set of six parts that has been given out.
func filled(t testing.TB, where string, pupils int) *store.Store {
	t.Helper()
	s, ctx := opened(t, where), t.Context()
	by := store.By{Role: account.Teacher, Who: teacherID, At: now}
	list := make([]homework.Pupil, pupils)
	numbers := make([]homework.Numbers, pupils)
	for i := range list {
		numbers[i] = homework.Numbers{Pupil: pupilID(i), Text: fmt.Sprintf("Trace%03d-numbers", i)}
		list[i] = homework.Pupil{ID: pupilID(i), Name: fmt.Sprint("Pupil ", i), Code: "hash"}
	}
	for _, err := range []error{
		s.AddPerson(ctx, by, account.Person{ID: teacherID, Login: "ferrow", Role: account.Teacher, Made: now}),
		s.AddClass(ctx, by, homework.Class{ID: classID, Name: "11B", Code: "plover"}),
		s.AddPupils(ctx, by, classID, list),
		s.AddSet(ctx, by, homework.Set{ID: setID, Class: classID, Title: "Two trestles", Opens: now,
			Items: []homework.Item{{Question: "bank:trestle", Text: "question", Own: true}, {Question: "bank:plank", Text: "question"}}}),
		s.Give(ctx, by, setID, numbers),
	} {
		if err != nil {
			t.Fatal(err)
		}
	}
	return s
}

// sixParts is a hand-in of six parts with working, of which every part says its key.
func sixParts(pupil int, key string) homework.HandIn {
	h := homework.HandIn{Set: setID, Pupil: pupilID(pupil), Key: key, Receipt: "R" + key, At: now}
	for i := range 6 {
		h.Answers = append(h.Answers, homework.Answer{Item: i / 3, Part: string(rune('a' + i%3)), Answer: "412 N " + key,
			Working: strings.Repeat("taking moments about Q: 4.20 P = 3.10 × 558 + 1.20 × 620\n", 4)})
	}
	return h
}

func pupilBy(i int) store.By { return store.By{Role: account.PupilOf, Who: pupilID(i), At: now} }

func noFaults(t testing.TB, s *store.Store) {
	t.Helper()
	faults, err := s.Verify(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range faults {
		t.Error(f)
	}
}
