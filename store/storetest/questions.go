package storetest

import (
	"testing"
	"time"

	"steelyard/account"
	"steelyard/store"
)

func (f *school) question(t *testing.T) store.Question {
	q := store.Question{ID: store.NewID(), Owner: f.teacher.ID, Title: "Jetty", Text: "question \"Jetty\"\n", Changed: now, Version: 1}
	must(t, f.AddQuestion(t.Context(), f.by, q))
	return q
}

func later(by store.By, d time.Duration) store.By { by.At = by.At.Add(d); return by }

var questions = []promise{
	{"a question comes back as it was kept, with its first version", func(t *testing.T, s *school) {
		q := s.question(t)
		is(t, got[store.Question](t)(s.Question(t.Context(), q.ID)), q)
		is(t, got[[]store.Version](t)(s.Versions(t.Context(), q.ID)), []store.Version{{N: 1, Text: q.Text, By: s.teacher.ID, At: now}})
		_, err := s.Question(t.Context(), "none")
		fails(t, err, store.ErrNotFound)
	}},
	{"autosave writes over its own version for five minutes, and then begins one", func(t *testing.T, s *school) {
		ctx, q := t.Context(), s.question(t)
		for i, after := range []time.Duration{time.Second, 4 * time.Minute, 5 * time.Minute, 6 * time.Minute} {
			q.Text += "x"
			v := got[int](t)(s.SaveQuestion(ctx, later(s.by, after), q))
			is(t, v, i+2)
			q.Version = v
		}
		versions := got[[]store.Version](t)(s.Versions(ctx, q.ID))
		is(t, len(versions), 2)
		is(t, versions[0], store.Version{N: 5, Text: q.Text, By: s.teacher.ID, At: now.Add(5 * time.Minute)})
		is(t, versions[1].Text, q.Text[:len(q.Text)-2])
	}},
	{"a version that was named stays as it is", func(t *testing.T, s *school) {
		ctx, q := t.Context(), s.question(t)
		must(t, s.NameVersion(ctx, s.by, q.ID, "before half term"))
		q.Text = "other"
		q.Version = got[int](t)(s.SaveQuestion(ctx, later(s.by, time.Second), q))
		versions := got[[]store.Version](t)(s.Versions(ctx, q.ID))
		is(t, len(versions), 2)
		is(t, versions[1].Name, "before half term")
		is(t, versions[1].Text, "question \"Jetty\"\n")
		fails(t, s.NameVersion(ctx, s.by, "none", "x"), store.ErrNotFound)
	}},
	{"a clock that was put back writes over no version", func(t *testing.T, s *school) {
		ctx, q := t.Context(), s.question(t)
		q.Text = "other"
		got[int](t)(s.SaveQuestion(ctx, later(s.by, -time.Hour), q))
		is(t, len(got[[]store.Version](t)(s.Versions(ctx, q.ID))), 2)
	}},
	{"what another teacher writes begins a version", func(t *testing.T, s *school) {
		ctx, q := t.Context(), s.question(t)
		q.Text = "other"
		other := s.by
		other.Who = "someone"
		got[int](t)(s.SaveQuestion(ctx, later(other, time.Second), q))
		is(t, len(got[[]store.Version](t)(s.Versions(ctx, q.ID))), 2)
	}},
	{"two windows cannot overwrite each other's text", func(t *testing.T, s *school) {
		ctx, q := t.Context(), s.question(t)
		counts := atOnce(6, func(i int) error {
			_, err := s.SaveQuestion(ctx, s.by, q)
			return err
		})
		is(t, counts, map[error]int{nil: 1, store.ErrChanged: 5})
	}},
	{"others see a question only while it is shared and in use", func(t *testing.T, s *school) {
		ctx, q := t.Context(), s.question(t)
		other := account.Person{ID: store.NewID(), Login: "ashgrove", Role: account.Teacher, Made: now}
		must(t, s.AddPerson(ctx, s.by, other))
		seen := func() int { return len(got[[]store.Question](t)(s.SharedQuestions(ctx, other.ID))) }
		is(t, seen(), 0)
		q.Shared = true
		q.Version = got[int](t)(s.SaveQuestion(ctx, s.by, q))
		is(t, seen(), 1)
		is(t, len(got[[]store.Question](t)(s.SharedQuestions(ctx, s.teacher.ID))), 0)
		q.Gone = now
		q.Version = got[int](t)(s.SaveQuestion(ctx, s.by, q))
		is(t, seen(), 0)
		is(t, len(got[[]store.Question](t)(s.QuestionsOf(ctx, s.teacher.ID))), 1)
	}},
	{"one's questions are listed with the last changed first", func(t *testing.T, s *school) {
		ctx := t.Context()
		a := s.question(t)
		b := store.Question{ID: store.NewID(), Owner: s.teacher.ID, Title: "Ladder"}
		must(t, s.AddQuestion(ctx, later(s.by, time.Minute), b))
		list := got[[]store.Question](t)(s.QuestionsOf(ctx, s.teacher.ID))
		is(t, []string{list[0].ID, list[1].ID}, []string{b.ID, a.ID})
	}},
}
