package demo

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"steelyard/account"
	"steelyard/homework"
	"steelyard/mark"
	"steelyard/store"
)

// ErrFilled says that there are people in the store already.
var ErrFilled = errors.New("somebody has an account here already; the invented school needs a folder of its own")

// A Welcome is what somebody needs to look round the invented school. It is not kept anywhere: print it.
type Welcome struct {
	School   string
	Teachers []Teacher // the first one teaches both classes, and is a head of department
	Classes  []Class
}

// A Teacher is an account that can be signed in to.
type Teacher struct{ Name, Login, Password string }

// A Class is a class with the codes that its pupils sign in with.
type Class struct {
	Name, Code string
	Pupils     []Code
}

// A Code is a pupil's personal code.
type Code struct{ Name, Code string }

// filler fills a store.
type filler struct {
	chance
	store  *store.Store
	codes  *account.Codes
	marker *homework.Marker
	now    time.Time
	today  time.Time // its beginning
	people []account.Person
}

// Fill fills an empty store with the invented school, as of now. The codes are those of the installation.
func Fill(ctx context.Context, s *store.Store, codes *account.Codes, now time.Time, seed uint64) (Welcome, error) {
	there, err := s.People(ctx)
	if err != nil {
		return Welcome{}, err
	}
	if len(there) > 0 {
		return Welcome{}, ErrFilled
	}
	now = now.UTC()
	f := &filler{chance: newChance(seed), store: s, codes: codes, marker: homework.NewMarker(), now: now, today: now.Truncate(day)}
	w := Welcome{School: School}
	if w.Teachers, err = f.teachers(ctx); err != nil {
		return w, fmt.Errorf("adding teachers: %w", err)
	}
	items, err := f.questions(ctx)
	if err != nil {
		return w, fmt.Errorf("adding questions: %w", err)
	}
	from := 0
	for i, c := range []struct {
		name  string
		size  int
		plans []plan
	}{{"10 Heron", 24, younger(items[0])}, {"12 Physics", 12, older(items[1])}} {
		class, pupils, err := f.class(ctx, c.name, from, c.size)
		if err != nil {
			return w, fmt.Errorf("adding the class %s: %w", c.name, err)
		}
		from += c.size
		w.Classes = append(w.Classes, class.Class)
		if i == 0 {
			if err := f.store.Share(ctx, f.by(0, -20*day), class.id, f.people[1].ID); err != nil {
				return w, err
			}
		}
		for _, p := range c.plans {
			if err := f.set(ctx, class.id, p, pupils); err != nil {
				return w, fmt.Errorf("the set “%s”: %w", p.title, err)
			}
		}
		if err := f.leaves(ctx, pupils[len(pupils)-1].ID); err != nil {
			return w, err
		}
	}
	return w, nil
}

// by is a teacher who does something at a time counted from the beginning of today.
func (f *filler) by(teacher int, at time.Duration) store.By {
	return store.By{Role: f.people[teacher].Role, Who: f.people[teacher].ID, At: f.today.Add(at)}
}

func (f *filler) teachers(ctx context.Context) ([]Teacher, error) {
	var out []Teacher
	for _, t := range []struct {
		name, login string
		role        account.Role
	}{{"Ms Fenwright-Moss", "fenwright", account.Head}, {"Mr Tollandry", "tollandry", account.Teacher}} {
		password := strings.ToLower(f.code(20))
		hash, err := account.HashPassword(ctx, password)
		if err != nil {
			return nil, err
		}
		p := account.Person{ID: f.id(), Name: t.name, Login: t.login, Hash: hash, Role: t.role, Made: f.today.Add(-21 * day)}
		if err := f.store.AddPerson(ctx, store.By{At: p.Made}, p); err != nil {
			return nil, err
		}
		f.people = append(f.people, p)
		out = append(out, Teacher{t.name, t.login, password})
	}
	return out, nil
}

// questions adds the teacher's own, and returns those that go into sets.
func (f *filler) questions(ctx context.Context) ([]homework.Item, error) {
	var out []homework.Item
	for i, q := range []struct {
		title, text string
		owner       int
		shared      bool
	}{{"Paint pots on a trestle plank", trestle, 0, true}, {"Racing shell in two slings", shell, 0, false}, {"Bracket for the hall clock", unfinished, 0, false},
		{"Racing shell in two slings", shell, 1, true}} {
		by := f.by(q.owner, -time.Duration(18-i)*day+19*hour)
		own := store.Question{ID: f.id(), Owner: f.people[q.owner].ID, Title: q.title, Text: q.text, Shared: q.shared, Changed: by.At}
		if err := f.store.AddQuestion(ctx, by, own); err != nil {
			return nil, err
		}
		out = append(out, homework.Item{Question: own.ID, Text: q.text, Own: true})
	}
	return out[:2], nil
}

type filled struct {
	Class
	id string
}

// class adds a class with its pupils.
func (f *filler) class(ctx context.Context, name string, from, size int) (filled, []pupil, error) {
	by := f.by(0, -20*day+16*hour)
	c := homework.Class{ID: f.id(), Name: name, Code: f.text(letters, 6), KeepTill: f.today.AddDate(1, 0, 0)}
	if err := f.store.AddClass(ctx, by, c); err != nil {
		return filled{}, nil, err
	}
	out := filled{Class{Name: name, Code: c.Code}, c.ID}
	var list []homework.Pupil
	var pupils []pupil
	for i := range size {
		code := f.code(8)
		p := homework.Pupil{ID: f.id(), Class: c.ID, Name: given[from+i] + " " + family[from+i], Code: f.codes.Hash(c.ID, code)}
		switch i {
		case 3:
			p.Access = homework.Access{TextSize: 18}
		case 7:
			p.Access = homework.Access{ExtraTime: 25, Tint: "cream"}
		case 10:
			p.Access = homework.Access{Description: true}
		}
		list = append(list, p)
		pupils = append(pupils, newPupil(f.chance, p))
		out.Pupils = append(out.Pupils, Code{p.Name, code})
	}
	return out, pupils, f.store.AddPupils(ctx, by, c.ID, list)
}

// leaves has a pupil leave the class yesterday.
func (f *filler) leaves(ctx context.Context, id string) error {
	p, err := f.store.Pupil(ctx, id)
	if err != nil {
		return err
	}
	p.Left = f.today.Add(-9 * hour)
	return f.store.SavePupil(ctx, f.by(0, -9*hour), p)
}

// set makes a set, gives it out, and has it handed in, marked, decided and released as planned.
func (f *filler) set(ctx context.Context, class string, p plan, pupils []pupil) error {
	s := homework.Set{ID: f.id(), Class: class, Title: p.title, Seed: strings.ToLower(f.text(letters, 8)), Practice: p.practice, Policy: p.policy, Items: p.items,
		Opens: f.today.Add(p.opens), Show: p.show}
	if !p.never {
		s.Closes = f.today.Add(p.closes)
	}
	made := min(p.opens, 0) - day + 9*hour
	if faults := s.Faults(); len(faults) > 0 {
		return errors.New(strings.Join(faults, "; "))
	}
	if err := f.store.AddSet(ctx, f.by(0, made), s); err != nil || p.draft {
		return err
	}
	list := make([]homework.Pupil, len(pupils))
	for i := range pupils {
		list[i] = pupils[i].Pupil
	}
	numbers, _, err := homework.Choose(&s, list, nil)
	if err != nil {
		return err
	}
	if err := f.store.Give(ctx, f.by(0, made+hour), s.ID, numbers); err != nil {
		return err
	}
	if s, err = f.store.Set(ctx, s.ID); err != nil {
		return err
	}
	hands, err := f.handIns(ctx, &s, p, pupils, numbers)
	if err != nil {
		return err
	}
	return f.marks(ctx, &s, p, hands, numbers)
}

// handIns has pupils hand in, in the order of time, and keeps drafts of some of the others.
func (f *filler) handIns(ctx context.Context, s *homework.Set, p plan, pupils []pupil, numbers []homework.Numbers) ([]homework.HandIn, error) {
	var all []homework.HandIn
	for i := range pupils {
		who := &pupils[i]
		end := s.ClosesFor(who.Pupil)
		if end.IsZero() || end.After(f.now) {
			end = f.now
		}
		if !s.Opened(f.now) || !f.in(p.handIn) || f.in(who.late) {
			if p.drafts > 0 && f.in(p.drafts) {
				if err := f.draft(ctx, s, who, numbers, end); err != nil {
					return nil, err
				}
			}
			continue
		}
		times := 1
		if p.again && f.in(12) {
			times = 2
		}
		at := s.Opens
		for range times {
			if at = f.evening(at, end); !at.Before(end) {
				break
			}
			answers, err := f.answers(s, p, i, who, numbers)
			if err != nil {
				return nil, err
			}
			all = append(all, homework.HandIn{ID: f.id(), Set: s.ID, Pupil: who.ID, Key: f.id(), Receipt: f.code(8), At: at, Answers: answers})
		}
	}
	slices.SortStableFunc(all, func(a, b homework.HandIn) int { return a.At.Compare(b.At) })
	for _, h := range all {
		if _, err := f.store.HandIn(ctx, store.By{Role: account.PupilOf, Who: h.Pupil, At: h.At}, h); err != nil {
			return nil, err
		}
	}
	return all, nil
}

// evening is a time between two, in the afternoon or evening if there is one.
func (f *filler) evening(from, to time.Time) time.Time {
	span := to.Sub(from)
	if span <= time.Minute {
		return to
	}
	at := from.Add(time.Duration(f.Int64N(int64(span)))).Truncate(time.Second)
	later := at.Truncate(day).Add(15*hour + time.Duration(f.IntN(int(6*hour/time.Second)))*time.Second)
	if later.After(from) && later.Before(to) {
		return later
	}
	return at
}

// answers is what the pupil at a place of the class writes for all items, or for most of them.
func (f *filler) answers(s *homework.Set, p plan, place int, who *pupil, numbers []homework.Numbers) ([]homework.Answer, error) {
	var out []homework.Answer
	for i := range s.Items {
		k, err := f.key(s, i, who, numbers)
		if err != nil {
			return nil, err
		}
		if len(out) > 0 && f.in(6) { // left out
			continue
		}
		out = append(out, who.work(f.chance, k, i)...)
	}
	for n, r := range p.rumours {
		if (place+n)%r.every != 0 {
			continue
		}
		for i := range out {
			if a := &out[i]; a.Item == r.item && a.Part == r.part {
				a.Answer, a.Working = cmp.Or(r.answer, a.Answer), r.working
			}
		}
	}
	return out, nil
}

func (f *filler) key(s *homework.Set, item int, who *pupil, numbers []homework.Numbers) (*mark.Key, error) {
	return f.marker.Key(s, item, s.TextFor(item, who.ID, numbers))
}

// draft keeps what a pupil has begun: some of the first item.
func (f *filler) draft(ctx context.Context, s *homework.Set, who *pupil, numbers []homework.Numbers, end time.Time) error {
	k, err := f.key(s, 0, who, numbers)
	if err != nil {
		return err
	}
	list := who.work(f.chance, k, 0)
	if len(list) == 0 {
		return nil
	}
	at := f.evening(s.Opens, end)
	first := list[0]
	first.Answer = ""
	return f.store.SaveDrafts(ctx, []homework.Draft{{Set: s.ID, Pupil: who.ID, Answer: first, Rev: int64(3 + f.IntN(40)), At: at}})
}

// marks keeps what the marker makes of hand-ins; if the plan says so, the teacher decides what is asked and releases.
func (f *filler) marks(ctx context.Context, s *homework.Set, p plan, hands []homework.HandIn, numbers []homework.Numbers) error {
	var decisions []homework.Decision
	var seconds []store.SecondMark
	decide := f.by(0, p.closes+14*hour)
	last := map[string]string{} // of each pupil: the hand-in that counts
	for _, h := range hands {
		last[h.Pupil] = h.ID
	}
	for i, h := range hands {
		if i >= len(hands)-p.leave {
			break
		}
		parts, err := f.marker.Mark(s, numbers, h, nil)
		if err != nil {
			return err
		}
		records, err := homework.Markings(h, parts)
		if err != nil {
			return err
		}
		if err := f.store.SaveMarkings(ctx, h.ID, records); err != nil {
			return err
		}
		if last[h.Pupil] != h.ID {
			continue
		}
		for k := range parts {
			x := &parts[k]
			if p.decided && x.Waits() {
				decisions = append(decisions, f.decision(x, h, decide))
			}
			if p.second && i%5 == 2 {
				m := x.Marks
				if f.in(12) {
					m = max(0, min(x.Of, m+pick(f.chance, -1, 1)))
				}
				seconds = append(seconds, store.SecondMark{Set: s.ID, Pupil: h.Pupil, HandIn: h.ID, Item: x.Item, Part: x.Part.Part, Mark: m, By: f.people[1].ID, At: decide.At})
			}
		}
	}
	if len(seconds) > 0 {
		if err := f.store.SaveSecondMarks(ctx, f.by(1, p.closes+14*hour), s.ID, seconds); err != nil {
			return err
		}
	}
	if !p.decided {
		return nil
	}
	if err := f.store.Decide(ctx, decide, decisions); err != nil {
		return err
	}
	release := f.by(0, p.closes+15*hour)
	again, err := f.store.Set(ctx, s.ID)
	if err != nil {
		return err
	}
	again.Released = release.At
	return f.store.SaveSet(ctx, release, again)
}

// decision is what the teacher makes of a part that waits.
func (f *filler) decision(x *homework.Part, h homework.HandIn, by store.By) homework.Decision {
	d := homework.Decision{ID: f.id(), Set: h.Set, Pupil: h.Pupil, HandIn: h.ID, Item: x.Item, Part: x.Part.Part, By: by.Who, At: by.At}
	switch d.Mark = x.Marks; {
	case x.Marks < x.Of && f.in(50):
		d.Mark++
		d.Reason = pick(f.chance, "the method can be seen in your lines", "your line has the right distances", "one wrong number, the method is right")
	case x.Marks == x.Of:
		d.Reason = pick(f.chance, "checked: it is right", "right; next time, write down the line before it too")
	default:
		d.Reason = pick(f.chance, "I can't see how you came to this; show me", "the line doesn't say about which point the moments are", "not enough here to give more")
	}
	return d
}

// Lines is what is printed for whoever starts the program: who can sign in, and how.
func (w Welcome) Lines() []string {
	out := []string{w.School + " (invented). Teachers sign in with a name and a password:"}
	for _, t := range w.Teachers {
		out = append(out, fmt.Sprintf("  %-12s %s   %s", t.Login, t.Password, t.Name))
	}
	out = append(out, "Pupils sign in with the code of the class and their own:")
	for _, c := range w.Classes {
		list := slices.Clone(c.Pupils)
		slices.SortStableFunc(list, func(a, b Code) int { return cmp.Compare(a.Name, b.Name) })
		for _, p := range list[:min(3, len(list))] {
			out = append(out, fmt.Sprintf("  %s  %s   %s, %s", c.Code, p.Code, p.Name, c.Name))
		}
	}
	return out
}
