package storetest

import (
	"context"
	"strings"
	"testing"

	"steelyard/store"
)

func contextWithCancel(t *testing.T) (context.Context, context.CancelFunc) {
	return context.WithCancel(t.Context())
}

// nowhere checks that words are in no line of history.
func nowhere(t *testing.T, s *school, words ...string) {
	t.Helper()
	for _, e := range got[[]store.Event](t)(s.History(t.Context(), "", 10000)) {
		for _, w := range words {
			if strings.Contains(e.Was+e.Now+e.About+e.Who+e.Pupil, w) {
				t.Errorf("%q is in the history: %+v", w, e)
			}
		}
	}
}

var keeping = []promise{
	{"each change leaves a line of history: who, when, what, what it was and is", func(t *testing.T, s *school) {
		ctx, c := t.Context(), s.class
		c.Name = "11C"
		must(t, s.SaveClass(ctx, s.by, c))
		e := got[[]store.Event](t)(s.History(ctx, c.ID, 1))[0]
		e.N = 0
		is(t, e, store.Event{At: now, Role: "teacher", Who: s.teacher.ID, What: "class changed", About: c.ID, Was: `{"Name":"11B"}`, Now: `{"Name":"11C"}`})
		must(t, s.Note(ctx, s.by, "looked at the work", s.pupils[0].ID))
		list := got[[]store.Event](t)(s.History(ctx, s.pupils[0].ID, 10))
		is(t, list[0].What, "looked at the work")
		is(t, list[1].What, "pupil added")
		is(t, got[[]store.Event](t)(s.History(ctx, s.teacher.ID, 1))[0].What, "looked at the work")
	}},
	{"a change that fails leaves no line", func(t *testing.T, s *school) {
		before := len(got[[]store.Event](t)(s.History(t.Context(), "", 1000)))
		c := s.class
		c.Version = 9
		fails(t, s.SaveClass(t.Context(), s.by, c), store.ErrChanged)
		is(t, len(got[[]store.Event](t)(s.History(t.Context(), "", 1000))), before)
	}},
	{"settings are kept, and the first of several is the one", func(t *testing.T, s *school) {
		ctx := t.Context()
		_, err := s.Setting(ctx, "pepper")
		fails(t, err, store.ErrNotFound)
		seen := make([]string, 6)
		counts := atOnce(len(seen), func(i int) (err error) {
			seen[i], err = s.FirstSetting(ctx, "pepper", string(rune('a'+i)))
			return err
		})
		is(t, counts, map[error]int{nil: 6})
		for _, v := range seen {
			is(t, v, seen[0])
		}
		must(t, s.SetSetting(ctx, "pepper", "other"))
		is(t, got[string](t)(s.Setting(ctx, "pepper")), "other")
	}},
	{"a store that answers is ready", func(t *testing.T, s *school) { must(t, s.Ready(t.Context())) }},
	{"a store that is closed says so", func(t *testing.T, s *school) {
		must(t, s.Close())
		fails(t, s.Ready(background()), store.ErrBusy)
		_, err := s.Class(background(), s.class.ID)
		if err == nil {
			t.Error("a closed store answered")
		}
	}},
}
