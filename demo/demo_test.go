package demo

import (
	"encoding/json"
	"errors"
	"testing"
	"time"

	"steelyard/account"
	"steelyard/homework"
	"steelyard/question"
	"steelyard/store"
)

var now = time.Date(2031, 3, 12, 17, 30, 0, 0, time.UTC)

func fill(t testing.TB, now time.Time, seed uint64) (*store.Store, Welcome) {
	t.Helper()
	s, err := store.Open(t.Context(), t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	w, err := Fill(t.Context(), s, account.NewCodes(make([]byte, 32)), now, seed)
	if err != nil {
		t.Fatal(err)
	}
	return s, w
}

func TestOwnQuestionsAreQuestions(t *testing.T) {
	for _, text := range []string{trestle, shell} {
		if _, err := homework.Ask(text); err != nil {
			t.Error(err)
		}
	}
	if _, err := question.Parse("", unfinished); err == nil {
		t.Error("the unfinished question is finished")
	}
}

// dump is all that pupils see and have done, as text.
func dump(t *testing.T, s *store.Store, w Welcome) string {
	t.Helper()
	out := w
	for i := range out.Teachers {
		out.Teachers[i].Password = ""
	}
	all := []any{out}
	for _, c := range w.Classes {
		class, err := s.ClassByCode(t.Context(), c.Code)
		if err != nil {
			t.Fatal(err)
		}
		sets, err := s.SetsOf(t.Context(), class.ID)
		if err != nil {
			t.Fatal(err)
		}
		for _, set := range sets {
			numbers, err := s.NumbersOf(t.Context(), set.ID)
			if err != nil {
				t.Fatal(err)
			}
			all = append(all, set, numbers)
			for h, err := range s.HandInsOf(t.Context(), set.ID) {
				if err != nil {
					t.Fatal(err)
				}
				all = append(all, h)
			}
		}
	}
	b, err := json.Marshal(all)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// The invented school is whole: the database verifies, teachers and pupils can sign in, and every page has something to
// show, at whatever time of the day it is made. The same seed and time make the same one again.
func TestTheInventedSchool(t *testing.T) {
	s, w := fill(t, now, 1)
	whole(t, s, w, now)
	if _, err := Fill(t.Context(), s, account.NewCodes(make([]byte, 32)), now, 8); !errors.Is(err, ErrFilled) {
		t.Errorf("a store that people use is filled: %v", err)
	}
	first := dump(t, s, w)
	if again, w := fill(t, now, 1); dump(t, again, w) != first {
		t.Error("the same seed and time make another school")
	}
	midnight := now.Truncate(day).Add(5 * time.Minute)
	s, w = fill(t, midnight, 2)
	whole(t, s, w, midnight)
}

func whole(t *testing.T, s *store.Store, w Welcome, at time.Time) {
	t.Helper()
	ctx := t.Context()
	if faults, err := s.Verify(ctx); err != nil || len(faults) > 0 {
		t.Errorf("the database has faults: %v, %v", faults, err)
	}
	for _, x := range w.Teachers {
		p, err := s.PersonByLogin(ctx, x.Login)
		if err != nil {
			t.Fatal(err)
		}
		if words := account.CheckPassword(x.Password, x.Login, x.Name); words != "" {
			t.Errorf("%s has a password that nobody may choose: %s", x.Name, words)
		}
		if ok, _, err := account.MatchPassword(ctx, p.Hash, x.Password); err != nil || !ok {
			t.Errorf("%s can't sign in (%v)", x.Name, err)
		}
	}
	codes := account.NewCodes(make([]byte, 32))
	marker := homework.NewMarker()
	sets := map[string]homework.Set{}
	waiting := map[string][]homework.Part{}
	drafts, handedIn := map[string]int{}, map[string]int{}
	for _, c := range w.Classes {
		class, err := s.ClassByCode(ctx, c.Code)
		if err != nil {
			t.Fatal(err)
		}
		pupils, err := s.Pupils(ctx, class.ID)
		if err != nil || len(pupils) != len(c.Pupils) {
			t.Fatal(len(pupils), err)
		}
		if pupils[0].Code != codes.Hash(class.ID, c.Pupils[0].Code) {
			t.Errorf("%s can't sign in", pupils[0].Name)
		}
		list, err := s.SetsOf(ctx, class.ID)
		if err != nil {
			t.Fatal(err)
		}
		for _, h := range list {
			sets[h.Title] = h
			for _, p := range pupils {
				d, err := s.Drafts(ctx, h.ID, p.ID)
				if err != nil {
					t.Fatal(err)
				}
				drafts[h.Title] += len(d)
			}
			numbers, err := s.NumbersOf(ctx, h.ID)
			if err != nil {
				t.Fatal(err)
			}
			decisions, err := s.DecisionsOf(ctx, h.ID)
			if err != nil {
				t.Fatal(err)
			}
			for in, err := range s.HandInsOf(ctx, h.ID) {
				if err != nil {
					t.Fatal(err)
				}
				handedIn[h.Title]++
				if in.At.After(at) || in.At.Before(h.Opens) {
					t.Errorf("%s was handed in at %v", h.Title, in.At)
				}
				parts, err := marker.Mark(&h, numbers, in, decisions)
				if err != nil {
					t.Fatal(err)
				}
				for _, p := range parts {
					if p.Waits() {
						waiting[h.Title] = append(waiting[h.Title], p)
					}
				}
			}
		}
	}
	if n := len(waiting["A beam on two supports"]); n < 12 {
		t.Errorf("only %d parts wait for the teacher", n)
	}
	if b := homework.Similar(waiting["A beam on two supports"]); len(b) == len(waiting["A beam on two supports"]) {
		t.Error("nothing that waits can be decided together")
	}
	if h := sets["Turning and balancing"]; h.Released.IsZero() || len(waiting[h.Title]) != 0 || handedIn[h.Title] < 15 {
		t.Errorf("the first set is not done with: released %v, %d wait, %d handed in", h.Released, len(waiting[h.Title]), handedIn[h.Title])
	}
	if h := sets["Where does it tip?"]; handedIn[h.Title] == 0 || drafts[h.Title] == 0 || h.Closes.Before(at) {
		t.Errorf("the open set has %d hand-ins and %d drafts", handedIn[h.Title], drafts[h.Title])
	}
	if h := sets["Balances and unknown weights"]; h.Given.IsZero() || h.Opened(at) {
		t.Error("no set is to come")
	}
	if !sets["Before the test"].Given.IsZero() || !sets["Practice: moments about any point"].Practice {
		t.Error("no set is a draft, or none is for practice")
	}
	if list, err := s.Unmarked(ctx, 10); err != nil || len(list) == 0 || len(list) > 5 {
		t.Errorf("%d hand-ins are left for the marker (%v)", len(list), err)
	}
}
