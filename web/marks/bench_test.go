package marks_test

import (
	"fmt"
	"testing"

	"steelyard/account"
	"steelyard/homework"
	"steelyard/store"
)

// large is a year of 300 pupils with a set of 18 parts, all handed in. Twenty pieces of work are marked, and stand for
// the others too.
func large(b *testing.B) *room {
	b.Helper()
	questions := []string{"lock-footbridge", "lock-footbridge", "mooring-plank", "choir-riser", "board-tips", "mooring-plank"}
	s := open(b, questions...)
	var names []string
	for i := range 300 {
		names = append(names, fmt.Sprintf("Pupil Number%03d", i))
	}
	s.class, s.pupils, _ = s.AddClass(s.Head, "the year", names...)
	s.set = s.give(b, "All of it", questions...)
	var marked [][]homework.Marking
	for i, p := range s.pupils {
		var all []homework.Answer
		for k, q := range questions {
			list := corpus(b, q, k)
			all = append(all, list[i%20%len(list)]...)
		}
		h, err := s.Store.HandIn(b.Context(), store.By{Role: account.PupilOf, Who: p.ID, At: s.Clock.Now()},
			homework.HandIn{Set: s.set.ID, Pupil: p.ID, Key: "k", At: s.Clock.Now(), Answers: all})
		must(b, err)
		if i < 20 {
			parts, err := s.Desk.Marker.Mark(&s.set, nil, h, nil)
			must(b, err)
			list, err := homework.Markings(h, parts)
			must(b, err)
			marked = append(marked, list)
		}
		must(b, s.Store.SaveMarkings(b.Context(), h.ID, marked[i%20]))
	}
	return s
}

// One load of the page of marks, over loopback, packed.
func BenchmarkMarks300(b *testing.B) {
	s := large(b)
	for _, path := range []string{"/marks", "/queue", "/moderate", "/marks/" + s.pupils[0].ID, "/picture"} {
		name := path
		if len(name) > 12 {
			name = "/marks/pupil"
		}
		b.Run(name, func(b *testing.B) {
			s.Teacher.Get(s.path(path)).Want(200) // the marker's memory is warm
			n := 0
			for b.Loop() {
				n = len(s.Teacher.Get(s.path(path)).Body)
			}
			b.ReportMetric(float64(n), "bytes")
		})
	}
}
