package homework

import (
	"fmt"
	"strings"
	"sync"
	"testing"

	"steelyard/bank/banktest"
	"steelyard/class"
	"steelyard/mark"
	"steelyard/question"
)

// A hand-in for the footbridge: right, but that part b has another value.
func handIn(id, pupil string, answers ...Answer) HandIn {
	return HandIn{ID: id, Set: "s1", Pupil: pupil, At: at(5, 9), Answers: answers}
}

const rightWorking = "moments about Q:\nP x 2.8 = 280 x 1.1 + 560 x 2.2\nP = 1540/2.8 = 550 N"

func TestAHandInIsMarkedItemByItem(t *testing.T) {
	s := spring(Item{Text: footbridge}, Item{Text: banktest.Text(t, "mooring-plank")})
	m := NewMarker()
	h := handIn("h1", "p001", Answer{Item: 0, Part: "b", Answer: "290 N"}, Answer{Item: 0, Part: "a", Answer: "550 N", Working: rightWorking},
		Answer{Item: 1, Part: "z", Answer: "7"}, Answer{Item: 9, Part: "a", Answer: "7"})
	parts, err := m.Mark(s, nil, h, nil)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, p := range parts {
		got = append(got, fmt.Sprintf("%d%s %d/%d", p.Item, p.Part.Part, p.Marks, p.Of))
		if p.Pupil != "p001" || p.HandIn != "h1" {
			t.Errorf("whose part is it? %q, %q", p.Pupil, p.HandIn)
		}
	}
	if !strings.HasPrefix(strings.Join(got, ", "), "0a 3/3, 0b 1/1, 1a 0/") {
		t.Error(got)
	}
	records, err := Markings(h, parts)
	if err != nil || len(records) != len(parts) {
		t.Fatal(len(records), err)
	}
	if r := records[0]; r.HandIn != "h1" || r.Set != "s1" || r.Pupil != "p001" || r.Marks != 3 || r.Asks || !strings.Contains(r.Record, `"verdict":"right"`) {
		t.Errorf("%+v", r)
	}
}

// What the web says of a hand-in is what the command line says of it: both hold it against the same key, whatever the
// set's policy, and own numbers are marked with that pupil's.
func TestMarkingIsThatOfTheCommandLine(t *testing.T) {
	s := spring(Item{Text: banktest.Text(t, "lock-footbridge"), Own: true})
	s.Policy = "unit needed: no"
	list := pupils(3)
	numbers, _, err := Choose(s, list, nil)
	if err != nil {
		t.Fatal(err)
	}
	m := NewMarker()
	policy, err := mark.ParsePolicy(s.Policy)
	if err != nil {
		t.Fatal(err)
	}
	for i, p := range list {
		q, err := question.Parse("", s.TextFor(0, p.ID, numbers))
		if err != nil {
			t.Fatal(err)
		}
		k, err := mark.NewKey(q, policy)
		if err != nil {
			t.Fatal(err)
		}
		h := handIn(fmt.Sprint("h", i), p.ID)
		var hands []mark.Hand
		for n := range k.Answers.Results {
			a := Answer{Part: q.Parts[n].Name, Answer: k.Answers.Results[n].Shown}
			if n == i {
				a.Answer, a.Working = "12", "P = 24/2\n??"
			}
			h.Answers = append(h.Answers, a)
			hands = append(hands, mark.Hand{Pupil: p.ID, Part: a.Part, Answer: a.Answer, Working: a.Working})
		}
		want := k.Mark(hands)
		got, err := m.Results(s, numbers, h, nil, p)
		if err != nil {
			t.Fatal(err)
		}
		wantCSV, _ := class.MarksCSV([]class.Result{{Code: p.ID, Name: p.Name, Parts: want, Suspects: mark.Posterior(mark.Evidence{Key: k, Parts: want})}})
		gotCSV, _ := class.MarksCSV(got)
		if string(gotCSV) != string(wantCSV) {
			t.Errorf("%s: got\n%s\nwant\n%s", p.Name, gotCSV, wantCSV)
		}
	}
}

func TestATeachersDecision(t *testing.T) {
	s := spring()
	m := NewMarker()
	h := handIn("h2", "p001", Answer{Part: "a", Answer: "12 N"})
	decision := func(handIn, part string, mark, hour int) Decision {
		return Decision{Set: "s1", Pupil: "p001", HandIn: handIn, Part: part, Mark: mark, Reason: "seen on paper", At: at(6, hour)}
	}
	for _, c := range []struct {
		name      string
		decisions []Decision
		score     int
		waits     bool
	}{
		{"without one the marker's mark counts", nil, 0, false},
		{"it counts in place of the marker's", []Decision{decision("h2", "a", 2, 9)}, 2, false},
		{"the last one counts", []Decision{decision("h2", "a", 2, 9), decision("h2", "a", 1, 10)}, 1, false},
		{"the last one counts in whatever order they come", []Decision{decision("h2", "a", 1, 10), decision("h2", "a", 2, 9)}, 1, false},
		{"about another part it changes nothing", []Decision{decision("h2", "b", 1, 9)}, 0, false},
		{"about an earlier hand-in it asks the teacher again", []Decision{decision("h1", "a", 2, 9)}, 0, true},
		{"made again about the new hand-in it counts", []Decision{decision("h1", "a", 2, 9), decision("h2", "a", 3, 10)}, 3, false},
		{"it never gives more than the part is worth", []Decision{decision("h2", "a", 9, 9)}, 3, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			parts, err := m.Mark(s, nil, h, c.decisions)
			if err != nil {
				t.Fatal(err)
			}
			if got := parts[0].Score(); got != c.score || parts[0].Waits() != c.waits {
				t.Errorf("it scores %d and waits: %v; %v", got, parts[0].Waits(), parts[0].Why)
			}
			records, err := Markings(h, parts)
			if err != nil || records[0].Marks != 0 || strings.Contains(records[0].Record, "paper") {
				t.Errorf("the record of the marker holds the teacher's decision: %+v, %v", records[0], err)
			}
		})
	}
	parts, err := m.Mark(s, nil, HandIn{Set: "s1", Pupil: "p001"}, []Decision{{Set: "s1", Pupil: "p001", Part: "a", Mark: 3, Reason: "on paper"}})
	if err != nil || parts[0].Score() != 3 {
		t.Errorf("work on paper, without a hand-in, can be given marks: %v, %v", parts, err)
	}
}

func TestTheWholeSet(t *testing.T) {
	s := spring(Item{Text: footbridge}, Item{Text: footbridge})
	m := NewMarker()
	h := handIn("h1", "p001", Answer{Item: 1, Part: "a", Answer: "420 N"}, Answer{Item: 1, Part: "b", Answer: "420 N"},
		Answer{Item: 0, Part: "a", Answer: "420 N", Working: "840/2 = 420"}, Answer{Item: 0, Part: "b", Answer: "420 N"})
	whole, err := m.Whole(s, nil, h, nil, pupils(1)[0])
	if err != nil {
		t.Fatal(err)
	}
	if len(whole.Parts) != 4 || whole.Parts[0].Part != "1a" || whole.Parts[3].Part != "2b" {
		t.Errorf("parts are %v", whole.Parts)
	}
	if len(whole.Suspects) == 0 || whole.Suspects[0].Name != "equal-shares" {
		t.Errorf("it suggests %v", whole.Suspects[:1])
	}
	one, err := m.Results(s, nil, h, nil, pupils(1)[0])
	if err != nil || one[0].Suspects[0].Probability > whole.Suspects[0].Probability {
		t.Errorf("twice the same slip is no surer than once (%v)", err)
	}
	plain := Plain(whole)
	if len(plain.Suspects) != 0 || len(plain.Parts[0].Slips) != 0 || len(whole.Parts[0].Slips) == 0 {
		t.Error("a class without diagnosis has one, or taking it out changed the marking itself")
	}
	for _, p := range class.PictureOf([]class.Result{plain}, nil).Slips {
		t.Errorf("a class without diagnosis has %s", p.Name)
	}
	if Pseudonymous(whole).Name != "p001" {
		t.Error("a pseudonym is no name")
	}
}

// Hostile text comes back marked, whatever it is; bounds on its length bound the time.
func TestHostileTextIsMarked(t *testing.T) {
	s := spring(Item{Text: banktest.Text(t, "lock-footbridge")}, Item{Text: banktest.Text(t, "orchard-ladder")})
	m := NewMarker()
	for name, text := range map[string]string{
		"parentheses": strings.Repeat("(", 90000), "a sum": strings.Repeat("1+", 40000), "chains": strings.Repeat("P=", 40000), "noughts": strings.Repeat("\x00\xff", 4000),
		"nested": strings.Repeat("-(", 2000) + "1" + strings.Repeat(")", 2000), "long names": strings.Repeat("PQRSTUV", 9000), "lines": strings.Repeat("P x 2.8 = Q x 1\n", 9000),
		"wide letters": strings.Repeat("μ", 9000), "one wide letter over the end": strings.Repeat("a", MostWorking-1) + "μ",
	} {
		h := handIn("", "p001")
		for item := range s.Items {
			for _, part := range []string{"a", "b", "c", "d", "e"} {
				h.Answers = append(h.Answers, Answer{Item: item, Part: part, Answer: text, Working: text})
			}
		}
		parts, err := m.Mark(s, nil, h, nil)
		if err != nil {
			t.Fatal(name, err)
		}
		if p := &parts[0]; !p.Waits() || !strings.Contains(strings.Join(p.Why, "; "), "longer than the marker reads") {
			t.Errorf("%s: it is not said that it was cut: %v", name, p.Why)
		}
		if _, err := Markings(h, parts); err != nil {
			t.Error(name, err)
		}
	}
}

func TestAMarkerKeepsABoundedNumber(t *testing.T) {
	r := newRecent[*kept[int]](3)
	for i := range 10 {
		if v, _ := once(&r, fmt.Sprint(i), func() (int, error) { return i, nil }); v != i {
			t.Errorf("%d is %d", i, v)
		}
		if _, err := once(&r, "0", func() (int, error) { return 0, nil }); err != nil {
			t.Error(err)
		}
	}
	for range 2 {
		if _, err := once(&r, "stumbles", func() (int, error) { panic("oh") }); err == nil {
			t.Error("what stumbled while it was made is found as if it were whole")
		}
	}
	if r.order.Len() != 3 || len(r.at) != 3 || r.at["0"] == nil || r.at["1"] != nil {
		t.Errorf("%d are kept, and what was asked for lately is there: %v", r.order.Len(), r.at["0"] != nil)
	}
}

// What an erased pupil wrote does not stay in memory.
func TestAMarkerForgetsHandIns(t *testing.T) {
	s := spring(Item{Text: banktest.Text(t, "lock-footbridge")})
	m := NewMarker()
	for range 2 {
		if _, err := m.Mark(s, nil, handIn("h1", "p1"), nil); err != nil {
			t.Fatal(err)
		}
		if n := len(m.marked.at); n != 1 {
			t.Fatalf("%d hand-ins are kept, want 1", n)
		}
		m.Forget()
		if n := len(m.marked.at) + m.marked.order.Len(); n != 0 {
			t.Errorf("%d hand-ins are still kept", n)
		}
	}
}

func TestAMarkerServesManyAtOnce(t *testing.T) {
	s := spring(Item{Text: banktest.Text(t, "lock-footbridge"), Own: true})
	list := pupils(6)
	numbers, _, err := Choose(s, list, nil)
	if err != nil {
		t.Fatal(err)
	}
	m := NewMarker()
	var wait sync.WaitGroup
	for i := range 24 {
		wait.Go(func() {
			p := list[i%len(list)]
			text := s.TextFor(0, p.ID, numbers)
			a, err := m.Ask(text)
			if err != nil {
				t.Error(err)
				return
			}
			if a.SVG(300, 11, false, "x") == "" || a.Safety() == "" && a.Title == "" {
				t.Error("nothing is shown")
			}
			h := handIn(fmt.Sprint("h", i%len(list)), p.ID, Answer{Part: "a", Answer: "700 N", Working: rightWorking})
			if _, err := m.Whole(s, numbers, h, []Decision{{HandIn: h.ID, Pupil: p.ID, Part: "a", Mark: 1}}, p); err != nil {
				t.Error(err)
			}
		})
	}
	wait.Wait()
}

// 300 pupils with numbers of their own hand in two questions with working.
func BenchmarkClassOf300(b *testing.B) {
	s := spring(Item{Text: banktest.Text(b, "lock-footbridge"), Own: true}, Item{Text: banktest.Text(b, "mooring-plank"), Own: true})
	list := pupils(300)
	numbers, _, err := Choose(s, list, nil)
	if err != nil {
		b.Fatal(err)
	}
	hands := make([]HandIn, len(list))
	for i := range list {
		hands[i] = handIn("", list[i].ID)
		for item, parts := range []string{"abcde", "ab"} {
			for _, part := range parts {
				hands[i].Answers = append(hands[i].Answers, Answer{Item: item, Part: string(part), Answer: "700 N", Working: rightWorking})
			}
		}
	}
	of := map[string][]Numbers{}
	for _, n := range numbers {
		of[n.Pupil] = append(of[n.Pupil], n)
	}
	b.Run("for the first time", func(b *testing.B) {
		for b.Loop() {
			m := NewMarker()
			for i := range hands {
				if _, err := m.Whole(s, of[list[i].ID], hands[i], nil, list[i]); err != nil {
					b.Fatal(err)
				}
			}
		}
	})
	b.Run("again", func(b *testing.B) {
		m := NewMarker()
		for i := range hands {
			hands[i].ID = fmt.Sprint("h", i)
			if _, err := m.Whole(s, of[list[i].ID], hands[i], nil, list[i]); err != nil {
				b.Fatal(err)
			}
		}
		for b.Loop() {
			for i := range hands {
				if _, err := m.Whole(s, of[list[i].ID], hands[i], nil, list[i]); err != nil {
					b.Fatal(err)
				}
			}
		}
	})
}

// What is typed is read and marked without a stumble.
func FuzzMark(f *testing.F) {
	s := spring(Item{Text: footbridge})
	m := NewMarker()
	f.Add("550 N", rightWorking)
	f.Add("????", "((((\n= = =\n\x00")
	f.Fuzz(func(t *testing.T, answer, working string) {
		h := handIn("", "p001", Answer{Part: "a", Answer: answer, Working: working}, Answer{Part: "b", Answer: working, Working: answer})
		parts, err := m.Mark(s, nil, h, nil)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range parts {
			if strings.Contains(strings.Join(p.Why, " "), "stumbled") {
				t.Errorf("the marker stumbled over %q, %q", answer, working)
			}
			if p.Marks < 0 || p.Marks > p.Of {
				t.Errorf("%d of %d marks", p.Marks, p.Of)
			}
		}
	})
}
