// Package storetest is the list of what a store promises, run on each database.
package storetest

import (
	"context"
	"errors"
	"fmt"
	"reflect"
	"sync"
	"testing"
	"time"

	"steelyard/account"
	"steelyard/homework"
	"steelyard/store"
)

// now is when the tests happen, to the millisecond, as the store keeps times.
var now = time.Date(2027, 3, 4, 9, 30, 0, 123e6, time.UTC)

// A school is a store with a teacher, a class of three pupils and a set that has been given out.
type school struct {
	*store.Store
	teacher account.Person
	by      store.By
	class   homework.Class
	pupils  []homework.Pupil
	set     homework.Set
	where   string
	fresh   func(t *testing.T) string // one more place for a store
}

// A promise is a sentence, with a test of it.
type promise struct {
	sentence string
	keep     func(t *testing.T, s *school)
}

// Run runs all promises, each on a store of its own, at a place that fresh makes.
func Run(t *testing.T, fresh func(t *testing.T) (where string)) {
	for _, list := range [][]promise{accounts, classes, questions, sets, handIns, moderation, keeping, erasings, backups} {
		for _, p := range list {
			t.Run(p.sentence, func(t *testing.T) {
				t.Parallel()
				p.keep(t, open(t, fresh))
			})
		}
	}
}

func open(t *testing.T, fresh func(t *testing.T) string) *school {
	t.Helper()
	where := fresh(t)
	s, err := store.Open(t.Context(), where)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	f := fill(t, s)
	f.where, f.fresh = where, fresh
	return f
}

// fill makes the teacher, the class, its pupils and a set.
func fill(t *testing.T, s *store.Store) *school {
	t.Helper()
	ctx := t.Context()
	f := &school{Store: s}
	f.teacher = account.Person{ID: store.NewID(), Name: "Mx Ferrow", Login: "ferrow", Hash: "$argon2id$v=19$…", Role: account.Teacher, Made: now}
	must(t, s.AddPerson(ctx, store.By{At: now}, f.teacher))
	f.by = store.By{Role: account.Teacher, Who: f.teacher.ID, At: now}
	f.class = homework.Class{ID: store.NewID(), Name: "11B", Code: "plover", Source: "cls-11b", KeepTill: now.AddDate(1, 0, 0)}
	must(t, s.AddClass(ctx, f.by, f.class))
	f.class.Version = 1
	for i, name := range []string{"Tamsel Overby", "Ilka Wendover", "Oduro Lint"} {
		f.pupils = append(f.pupils, homework.Pupil{ID: store.NewID(), Class: f.class.ID, Name: name, Source: fmt.Sprint("p-", i), Code: "$argon2id$" + name})
	}
	f.pupils[1].Access = homework.Access{TextSize: 18, Tint: "cream", ExtraTime: 25, Description: true}
	must(t, s.AddPupils(ctx, f.by, f.class.ID, f.pupils))
	f.set = homework.Set{ID: store.NewID(), Class: f.class.ID, Title: "Two trestles", Seed: "a1", Policy: "plain", Opens: now, Closes: now.Add(48 * time.Hour),
		Show:  homework.Show{Hints: homework.Never, Marks: homework.Released, Feedback: homework.Released, Solution: homework.Closed},
		Items: []homework.Item{{Question: "bank:trestle", Text: "question \"Trestle\"\n", Own: true}, {Question: "bank:plank", Text: "question \"Plank\"\n"}}}
	must(t, s.AddSet(ctx, f.by, f.set))
	must(t, s.Give(ctx, f.by, f.set.ID, f.numbers()))
	f.set.Given, f.set.Version = now, 2
	return f
}

func (f *school) numbers() (list []homework.Numbers) {
	for _, p := range f.pupils {
		list = append(list, homework.Numbers{Set: f.set.ID, Item: 0, Pupil: p.ID, Text: "question for " + p.ID})
	}
	return list
}

// handIn is a pupil's, of one part of each item.
func (f *school) handIn(pupil int, key string) homework.HandIn {
	return homework.HandIn{ID: store.NewID(), Set: f.set.ID, Pupil: f.pupils[pupil].ID, Key: key, Receipt: "R" + key, At: now,
		Answers: []homework.Answer{
			{Item: 0, Part: "a", Answer: "412 N", Working: "moments about Q:\n4.2 P = 3.1 × 558"},
			{Item: 1, Part: "a", Answer: "12,5 Nm", Working: ""},
		}}
}

func (f *school) pupilBy(i int) store.By {
	return store.By{Role: account.PupilOf, Who: f.pupils[i].ID, At: now}
}

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// got is a value that had to come without an error.
func got[T any](t *testing.T) func(v T, err error) T {
	return func(v T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

func is(t *testing.T, got, want any) {
	t.Helper()
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got  %+v\nwant %+v", got, want)
	}
}

func fails(t *testing.T, err, want error) {
	t.Helper()
	if !errors.Is(err, want) {
		t.Errorf("got error %v, want %v", err, want)
	}
}

// atOnce calls do n times at once and counts how often each of its errors came.
func atOnce(n int, do func(i int) error) map[error]int {
	var mu sync.Mutex
	var wg sync.WaitGroup
	counts := map[error]int{}
	for i := range n {
		wg.Go(func() {
			err := do(i)
			for _, known := range []error{store.ErrNotFound, store.ErrChanged, store.ErrExists, store.ErrLast, store.ErrClosed} {
				if errors.Is(err, known) {
					err = known
				}
			}
			mu.Lock()
			counts[err]++
			mu.Unlock()
		})
	}
	wg.Wait()
	return counts
}

func background() context.Context { return context.Background() }
