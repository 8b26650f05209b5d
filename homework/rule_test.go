package homework

import (
	"slices"
	"strings"
	"testing"
	"time"
)

func TestWhomASetIsFor(t *testing.T) {
	s := spring()
	some := spring()
	some.For = []string{"p002"}
	for _, c := range []struct {
		name string
		set  *Set
		p    Pupil
		want bool
	}{
		{"a set is for its whole class if nobody is named", s, Pupil{ID: "p001", Class: "c1"}, true},
		{"a set is never for a pupil of another class", s, Pupil{ID: "p001", Class: "c2"}, false},
		{"a set for some is for those", some, Pupil{ID: "p002", Class: "c1"}, true},
		{"a set for some is not for the others", some, Pupil{ID: "p001", Class: "c1"}, false},
		{"naming a pupil of another class does not let them in", some, Pupil{ID: "p002", Class: "c2"}, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := c.set.IsFor(c.p); got != c.want {
				t.Errorf("got %v", got)
			}
		})
	}
	left := pupils(3)
	left[1].Left = at(4, 8)
	if got := s.Pupils(left); len(got) != 2 {
		t.Errorf("who has left is still counted: %v", got)
	}
}

func TestWhenASetOpensAndCloses(t *testing.T) {
	usual := Pupil{ID: "p001", Class: "c1"}
	slow := Pupil{ID: "p002", Class: "c1", Access: Access{ExtraTime: 25}}
	draft, early, always := spring(), spring(), spring()
	draft.Given = time.Time{}
	early.Given = at(5, 8)
	always.Opens, always.Closes = time.Time{}, time.Time{}
	for _, c := range []struct {
		name string
		set  *Set
		p    Pupil
		now  time.Time
		want bool
	}{
		{"it is closed before its opening time", spring(), usual, at(3, 7), false},
		{"it is open from its opening time on", spring(), usual, at(3, 8), true},
		{"it is open until just before its closing time", spring(), usual, at(17, 8).Add(-time.Second), true},
		{"it is closed at its closing time", spring(), usual, at(17, 8), false},
		{"a quarter more of fourteen days is three and a half", spring(), slow, at(20, 19), true},
		{"extra time ends too", spring(), slow, at(20, 20), false},
		{"a draft is never open", draft, usual, at(5, 8), false},
		// Opens on the 3rd, given out on the 5th only: until then it is a draft (above), after it there is no moment
		// before the 5th but on a clock that was put back, and then pupils may be at work on it.
		{"a set given out late is open from then on", early, usual, at(5, 8), true},
		{"a clock that is put back to before it was given out does not close it", early, usual, at(4, 8), true},
		{"extra time is not less where a set was given out late", early, slow, at(20, 19), true},
		{"and ends too", early, slow, at(20, 20), false},
		{"a set without times is open once it is given out", always, usual, at(2, 8), true},
		{"a set without a closing time stays open", always, usual, at(31, 8).AddDate(9, 0, 0), true},
		{"it is not open to those whom it isn't for", spring(), Pupil{ID: "p009", Class: "c9"}, at(5, 8), false},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := c.set.Open(c.p, c.now); got != c.want {
				t.Errorf("got %v; it closes for them at %v", got, c.set.ClosesFor(c.p))
			}
		})
	}
	if got := spring().ClosesFor(slow); got != at(20, 20) {
		t.Errorf("with a quarter more it closes at %v", got)
	}
	if got := always.ClosesFor(slow); !got.IsZero() {
		t.Errorf("a set that never closes closes at %v", got)
	}
	if spring().Closed([]Pupil{usual, slow}, at(18, 8)) || !spring().Closed([]Pupil{usual, slow}, at(21, 8)) {
		t.Error("a set has closed once it has for the last pupil")
	}
}

func TestWhatIsShownWhen(t *testing.T) {
	released := spring()
	released.Released = at(19, 8)
	p := Pupil{ID: "p001", Class: "c1"}
	slow := Pupil{ID: "p002", Class: "c1", Access: Access{ExtraTime: 25}}
	for _, c := range []struct {
		name     string
		when     When
		p        Pupil
		now      time.Time
		handedIn bool
		want     bool
	}{
		{"never is never", Never, p, at(25, 8), true, false},
		{"always begins with the opening", Always, p, at(3, 7), false, false},
		{"always needs no hand-in", Always, p, at(3, 8), false, true},
		{"always stays after the closing", Always, p, at(25, 8), false, true},
		{"handed in means this pupil", HandedIn, p, at(5, 8), false, false},
		{"handed in shows at once", HandedIn, p, at(5, 8), true, true},
		{"closed waits for the closing time", Closed, p, at(16, 8), true, false},
		{"closed needs no hand-in", Closed, p, at(17, 8), false, true},
		{"closed waits for a pupil's own closing time", Closed, slow, at(18, 8), true, false},
		{"released waits for the teacher", Released, p, at(18, 8), true, false},
		{"released shows once the teacher says so", Released, p, at(19, 8), false, true},
		{"nothing is shown to those whom the set isn't for", Always, Pupil{ID: "p001", Class: "c9"}, at(20, 8), true, false},
		{"a moment that doesn't exist shows nothing", When(77), p, at(20, 8), true, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := released.Shows(c.when, c.p, c.now, c.handedIn); got != c.want {
				t.Errorf("got %v", got)
			}
		})
	}
	if s := spring(); s.Shows(Released, p, at(30, 8), true) {
		t.Error("what waits for the release was shown without one")
	}
}

func TestWhatKeepsASetFromBeingGivenOut(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*Set)
		want   string // "" : nothing
	}{
		{"a whole set has no faults", func(*Set) {}, ""},
		{"it needs a title", func(s *Set) { s.Title = " " }, "no title"},
		{"it needs a class", func(s *Set) { s.Class = "" }, "for no class"},
		{"it needs a question", func(s *Set) { s.Items = nil }, "no question"},
		{"it has room for so many questions", func(s *Set) { s.Items = slices.Repeat(s.Items, 41) }, "room for 40"},
		{"its questions have to be readable", func(s *Set) { s.Items[0].Text = "question \"x\"\nbody" }, "question 1: line 2"},
		{"its questions have to ask something", func(s *Set) { s.Items[0].Text = strings.Split(footbridge, "part a")[0] }, "asks nothing"},
		{"its questions have to be in equilibrium", func(s *Set) {
			s.Items[0].Text = strings.Replace(footbridge, "support Q: rest, on plank at 3.50 m, \"right sill\"\n", "", 1)
		}, "question 1: "},
		{"its questions have to be of a bearable length", func(s *Set) { s.Items[0].Text = strings.Repeat("#\n", 40000) }, "longer than"},
		{"own numbers need ranges", func(s *Set) { s.Items[0].Own = true }, "nothing in it may vary"},
		{"own numbers need a seed", func(s *Set) { s.Items[0].Own, s.Seed = true, "" }, "a seed"},
		{"its policy has to be readable", func(s *Set) { s.Policy = "sideways: yes" }, "how it is marked"},
		{"it can't close before it opens", func(s *Set) { s.Closes = s.Opens }, "closes before it opens"},
		{"what waits for a closing needs one", func(s *Set) { s.Closes, s.Show.Solution = time.Time{}, Closed }, "never closes"},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := spring()
			c.change(s)
			got := strings.Join(s.Faults(), "\n")
			if c.want == "" && got != "" || !strings.Contains(got, c.want) {
				t.Errorf("got %q", got)
			}
		})
	}
}
