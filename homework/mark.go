package homework

import (
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"steelyard/class"
	"steelyard/mark"
	"steelyard/question"
	"steelyard/script"
	"steelyard/slip"
)

// Bounds on what is handed in for one part, so that marking takes milliseconds whatever is typed. What is longer is
// kept, but marked only so far, and the teacher is asked.
const (
	MostLines   = 60
	MostWorking = 8 << 10 // bytes
	MostAnswer  = 300     // bytes
)

// A Part is the marking of one part of one item of a hand-in.
type Part struct {
	Item   int
	HandIn string
	mark.Part
	Earlier *Decision // the teacher's about an earlier hand-in, which waits for a new one; nil if there is none
}

// Waits says whether the part waits for the teacher.
func (p *Part) Waits() bool { return class.Asked(&p.Part) }

// A key is what marking one text by one policy needs.
type key struct {
	*mark.Key
	names []string // of the parts
}

// A marked hand-in is what the marker made of it before any decision; it is shared and never changed. It holds no
// keys, which are large.
type marked struct {
	items    []markedItem
	suspects []mark.Suspect // over all items
}

type markedItem struct {
	parts    []mark.Part
	suspects []mark.Suspect
}

// Key is the key of an item with a pupil's numbers, marked by the set's policy.
func (m *Marker) Key(s *Set, item int, text string) (*mark.Key, error) {
	k, err := m.key(s.Policy, text)
	if err != nil {
		return nil, fmt.Errorf("question %d: %w", item+1, err)
	}
	return k.Key, nil
}

func (m *Marker) key(policy, text string) (*key, error) {
	return once(&m.keys, policy+"\x00"+text, func() (*key, error) {
		p, err := mark.ParsePolicy(policy)
		if err != nil {
			return nil, err
		}
		q, err := question.Parse("", text)
		if err != nil {
			return nil, err
		}
		made, err := mark.NewKey(q, p)
		if err != nil {
			return nil, err
		}
		k := &key{Key: made}
		for i := range q.Parts {
			k.names = append(k.names, q.Parts[i].Name)
		}
		return k, nil
	})
}

// Mark marks what a pupil handed in, item by item, each item's parts in the question's order. The numbers may be of all
// pupils, the decisions of all pupils and parts: those of this pupil count, the last one for each part, and only if it
// was made about this hand-in. A part that was handed in anew since asks the teacher again.
//
// A hand-in without an ID is marked and not kept in mind, as where a pupil tries a line in a practice set.
func (m *Marker) Mark(s *Set, numbers []Numbers, h HandIn, decisions []Decision) ([]Part, error) {
	all, err := m.mark(s, numbers, h)
	if err != nil {
		return nil, err
	}
	var out []Part
	for i := range all.items {
		for _, p := range all.items[i].parts {
			out = append(out, decided(Part{Item: i, HandIn: h.ID, Part: p}, h, decisions))
		}
	}
	return out, nil
}

// mark marks all items, or finds them marked.
func (m *Marker) mark(s *Set, numbers []Numbers, h HandIn) (marked, error) {
	texts := make([]string, len(s.Items))
	for i := range texts {
		texts[i] = s.TextFor(i, h.Pupil, numbers)
	}
	anew := func() (marked, error) {
		var out marked
		var evidence []mark.Evidence
		for i := range texts {
			k, err := m.key(s.Policy, texts[i])
			if err != nil {
				return out, fmt.Errorf("question %d: %w", i+1, err)
			}
			it := k.mark(h, i)
			out.items = append(out.items, it)
			evidence = append(evidence, mark.Evidence{Key: k.Key, Parts: it.parts})
		}
		out.suspects = suspects(evidence)
		return out, nil
	}
	if h.ID == "" {
		return anew()
	}
	sum := sha256.Sum256([]byte(s.Policy + "\x00" + strings.Join(texts, "\x00")))
	return once(&m.marked, h.ID+string(sum[:]), anew)
}

// suspects is what several items suggest together; nil where the marker stumbles.
func suspects(evidence []mark.Evidence) (out []mark.Suspect) {
	defer func() {
		if recover() != nil {
			out = nil
		}
	}()
	if len(evidence) == 0 {
		return nil
	}
	return mark.Posterior(evidence...)
}

// mark marks one item. Whatever was typed, it comes back: what it stumbles over is for the teacher.
func (k *key) mark(h HandIn, item int) (out markedItem) {
	defer func() {
		if fault := recover(); fault != nil {
			out.parts, out.suspects = k.unmarked(h, item), nil
		}
	}()
	hands := make([]mark.Hand, len(k.names)) // what was not handed in is an empty hand
	long := map[string]bool{}
	for i, name := range k.names {
		hands[i] = mark.Hand{Pupil: h.Pupil, Part: name}
		for _, a := range h.Answers {
			if a.Item == item && a.Part == name {
				hands[i], long[name] = handOf(h.Pupil, a)
			}
		}
	}
	out.parts = k.Mark(hands)
	for i := range out.parts {
		p := &out.parts[i]
		p.Pupil = h.Pupil
		if long[p.Part] {
			p.AskTeacher = true
			p.Why = append(p.Why, "it is longer than the marker reads; please look at the rest")
		}
	}
	out.suspects = suspects([]mark.Evidence{{Key: k.Key, Parts: out.parts}})
	return out
}

// handOf is an answer as the marker takes it, and whether it had to be cut.
func handOf(pupil string, a Answer) (hand mark.Hand, cut bool) {
	working, answer := upTo(a.Working, MostWorking), upTo(a.Answer, MostAnswer)
	lines := strings.Split(working, "\n")
	if len(lines) > MostLines {
		working = strings.Join(lines[:MostLines], "\n")
	}
	return mark.Hand{Pupil: pupil, Part: a.Part, Answer: answer, Working: working}, len(working) < len(a.Working) || len(answer) < len(a.Answer)
}

// upTo is the beginning of a text, at most so many bytes of it, without half a letter.
func upTo(text string, most int) string {
	if len(text) <= most {
		return text
	}
	for most > 0 && !utf8.RuneStart(text[most]) {
		most--
	}
	return text[:most]
}

// unmarked are parts that the marker could do nothing with.
func (k *key) unmarked(h HandIn, item int) []mark.Part {
	out := make([]mark.Part, len(k.names))
	for i, name := range k.names {
		out[i] = mark.Part{Pupil: h.Pupil, Part: name, Of: k.Question.Parts[i].Marks, AskTeacher: true,
			Why: []string{"the marker stumbled over this; please mark it by hand"}}
		for _, a := range h.Answers {
			if a.Item != item || a.Part != name {
				continue
			}
			out[i].Answer = mark.JudgedAnswer{Read: script.Answer{Text: a.Answer}, Verdict: mark.AnswerNotRead}
			for l := range strings.Lines(upTo(a.Working, MostWorking)) {
				out[i].Lines = append(out[i].Lines, mark.Judged{Line: script.Line{Text: strings.TrimSpace(l)}})
			}
		}
	}
	return out
}

// decided puts the teacher's last decision to a part.
func decided(p Part, h HandIn, decisions []Decision) Part {
	var last *Decision
	for i := range decisions {
		d := &decisions[i]
		if d.Pupil == h.Pupil && d.Item == p.Item && d.Part == p.Part.Part && (last == nil || !d.At.Before(last.At)) {
			last = d
		}
	}
	switch {
	case last == nil:
	case last.HandIn == h.ID:
		p.Override = &mark.Override{Pupil: h.Pupil, Part: last.Part, Mark: min(max(0, last.Mark), p.Of), Reason: last.Reason}
	default:
		p.Earlier = last
		p.AskTeacher = true
		p.Why = append(slices.Clip(p.Why), fmt.Sprintf("it was handed in again after you gave it %d; please look", last.Mark))
	}
	return p
}

// Markings are the records of what the marker made of a hand-in, without the teacher's decisions.
func Markings(h HandIn, parts []Part) ([]Marking, error) {
	out := make([]Marking, len(parts))
	for i := range parts {
		p := parts[i].Part
		p.Override = nil
		record, err := json.Marshal(p)
		if err != nil {
			return nil, fmt.Errorf("writing the marking of question %d, part %s: %w", parts[i].Item+1, p.Part, err)
		}
		out[i] = Marking{HandIn: h.ID, Set: h.Set, Pupil: h.Pupil, Item: parts[i].Item, Part: p.Part,
			Marks: p.Marks, Of: p.Of, Asks: p.AskTeacher, Record: string(record)}
	}
	return out, nil
}

// Results are what a pupil's work came to, item by item, with what it suggests. The pupil's ID is their code.
func (m *Marker) Results(s *Set, numbers []Numbers, h HandIn, decisions []Decision, p Pupil) ([]class.Result, error) {
	all, err := m.mark(s, numbers, h)
	if err != nil {
		return nil, err
	}
	return all.results(h, decisions, p), nil
}

func (m *marked) results(h HandIn, decisions []Decision, p Pupil) []class.Result {
	out := make([]class.Result, len(m.items))
	for i := range m.items {
		r := class.Result{Code: p.ID, Name: p.Name, Suspects: m.items[i].suspects}
		for _, q := range m.items[i].parts {
			r.Parts = append(r.Parts, decided(Part{Item: i, HandIn: h.ID, Part: q}, h, decisions).Part)
		}
		out[i] = r
	}
	return out
}

// Whole is what a pupil's work for the whole set came to: one result with all parts, which are called "1a", "1b", "2a";
// what it suggests rests on all items together.
func (m *Marker) Whole(s *Set, numbers []Numbers, h HandIn, decisions []Decision, p Pupil) (class.Result, error) {
	all, err := m.mark(s, numbers, h)
	if err != nil {
		return class.Result{}, err
	}
	out := class.Result{Code: p.ID, Name: p.Name, Suspects: all.suspects}
	for i, r := range all.results(h, decisions, p) {
		for _, q := range r.Parts {
			q.Part = fmt.Sprintf("%d%s", i+1, q.Part)
			out.Parts = append(out.Parts, q)
		}
	}
	return out, nil
}

// Plain takes out of a result what would be said about slips, for classes in which that is not wanted: marks, verdicts
// on lines and reasons stay.
func Plain(r class.Result) class.Result {
	r.Suspects = nil
	r.Parts = slices.Clone(r.Parts)
	for i := range r.Parts {
		p := &r.Parts[i]
		p.Slips = nil
		p.Lines = slices.Clone(p.Lines)
		for k := range p.Lines {
			p.Lines[k].Slip, p.Lines[k].Of = "", ""
		}
	}
	return r
}

// Pseudonymous takes a pupil's name out of a result: the pupil's ID stands in its place.
func Pseudonymous(r class.Result) class.Result {
	r.Name = r.Code
	return r
}

// likely is the slip that a part's work suggests, if it is likely enough to be named; "" if none is.
func likely(p *mark.Part) string {
	if len(p.Slips) > 0 && p.Slips[0].Probability >= mark.Enough && slip.Named(p.Slips[0].Name) != nil {
		return p.Slips[0].Name
	}
	return ""
}
