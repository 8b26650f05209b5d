package questions

import (
	"cmp"
	"io/fs"
	"regexp"
	"slices"
	"strings"
	"sync"
	"unicode"

	"steelyard/bank"
	"steelyard/figure"
	"steelyard/question"
	"steelyard/slip"
	"steelyard/store"
	"steelyard/workbench"
)

// An entry is a question in a list.
type entry struct {
	Key      string // ID of a teacher's question; "bank:NAME" for one of the bank
	Href     string
	Picture  string // address of its drawing; "" if it can't be drawn yet
	Alt      string
	Title    string
	Level    string
	Idea     string
	Traps    []string
	Kinds    []string
	Marks    int
	From     string // "bank", "own", "shared", "away"
	Faulty   bool   // it can't be worked out yet
	Open     bool   // a colleague's or one's own that colleagues see
	lookedIn string // what a search goes through, in lower case
}

// lookAt looks at a question; a fault of the engine is told as one, so that the text can still be reached.
func lookAt(text string, o workbench.Options) (v *workbench.View) {
	defer func() {
		if fault := recover(); fault != nil {
			v = &workbench.View{Faults: question.Faults{{What: "the program has a fault with this question", Mend: "take the last change back, and please report it"}}}
		}
	}()
	return workbench.Look(text, o)
}

// studyOf is the slower part of a look.
func studyOf(v *workbench.View) (s *workbench.Study) {
	defer func() {
		if fault := recover(); fault != nil {
			s = &workbench.Study{Faults: question.Faults{{What: "the program has a fault with this question", Mend: "please report it"}}}
		}
	}()
	return v.Study(3)
}

// entryOf is a question as a list shows it.
func entryOf(text string) entry {
	e := entry{Title: titleOf(text)}
	v := lookAt(text, workbench.Options{Width: 300, TextSize: 11})
	e.Faulty = len(v.Faults) > 0
	words := []string{e.Title, text}
	if q := v.Question; q != nil {
		e.Title, e.Level, e.Idea, e.Traps = q.Title, q.Level, q.Idea, q.Traps
		for i := range q.Parts {
			e.Marks += q.Parts[i].Marks
		}
		words = append(words, question.Wording(q)...)
		for _, t := range q.Traps {
			if s := slip.Named(t); s != nil {
				words = append(words, s.Title)
			}
		}
	}
	if v.Answers != nil {
		e.Kinds = workbench.KindsOf(v.Answers)
		e.Alt, _ = figure.Describe(v.Answers.Layout, figure.Options{})
		words = append(words, plainKinds(e.Kinds))
	}
	e.lookedIn = strings.ToLower(strings.Join(words, " "))
	return e
}

func plainKinds(kinds []string) string {
	return strings.ReplaceAll(strings.Join(kinds, ", "), "-", " ")
}

var titleLine = regexp.MustCompile(`(?m)^\s*question\s+["“]([^"”\n]*)["”]`)

// titleOf finds the title of a text even where the rest can't be read.
func titleOf(text string) string {
	if m := titleLine.FindStringSubmatch(text); m != nil {
		if t := []rune(strings.Join(strings.Fields(strings.Map(seeable, m[1])), " ")); len(t) > 0 {
			return string(t[:min(len(t), 200)])
		}
	}
	return "Question without a title"
}

// seeable takes out commands and what turns a line round, of a text that may have faults.
func seeable(r rune) rune {
	if unicode.IsControl(r) || r >= '\u202a' && r <= '\u202e' || r >= '\u2066' && r <= '\u2069' {
		return ' '
	}
	return r
}

// familyText is the text of a question of the bank; "" if there is none of that name.
func familyText(name string) string {
	if name == "" || strings.ContainsAny(name, "/\\.") {
		return ""
	}
	b, err := fs.ReadFile(bank.Files, name+".moments")
	if err != nil {
		return ""
	}
	return string(b)
}

// families are the questions of the bank, worked out once.
var families = sync.OnceValue(func() []entry {
	var list []entry
	for _, file := range bank.Names() {
		name := strings.TrimSuffix(file, ".moments")
		e := entryOf(familyText(name))
		e.Key, e.From, e.Href = "bank:"+name, "bank", "/questions/bank/"+name
		e.Picture = e.Href + "/paper/small.svg"
		list = append(list, e)
	}
	return list
})

// A shelf remembers what teachers' questions look like in a list, by version.
type shelf struct {
	lock sync.Mutex
	kept map[string]kept
}

type kept struct {
	version int
	text    string
	entry   entry
}

func newShelf() *shelf { return &shelf{kept: map[string]kept{}} }

// room is how many questions a shelf remembers.
const room = 2000

func (s *shelf) entry(q store.Question, from string) entry {
	s.lock.Lock()
	k, ok := s.kept[q.ID]
	s.lock.Unlock()
	if !ok || k.version != q.Version || k.text != q.Text {
		k = kept{version: q.Version, text: q.Text, entry: entryOf(q.Text)}
		s.lock.Lock()
		if len(s.kept) >= room {
			clear(s.kept)
		}
		s.kept[q.ID] = k
		s.lock.Unlock()
	}
	e := k.entry
	e.Key, e.Href, e.From, e.Open = q.ID, "/questions/"+q.ID, from, q.Shared
	if e.Alt != "" {
		e.Picture = e.Href + "/paper/small.svg"
	}
	return e
}

// A search is what a list is asked for.
type search struct {
	Words, Whose, Level, Kind, Trap, Marks string
}

// fits reports whether a question is one of those that are looked for.
func (s search) fits(e *entry) bool {
	for _, w := range strings.Fields(strings.ToLower(s.Words)) {
		if !strings.Contains(e.lookedIn, w) {
			return false
		}
	}
	return (s.Whose == "" || s.Whose == e.From) && (s.Level == "" || s.Level == e.Level) &&
		(s.Kind == "" || slices.Contains(e.Kinds, s.Kind)) && (s.Trap == "" || slices.Contains(e.Traps, s.Trap)) && fitsMarks(s.Marks, e.Marks)
}

func fitsMarks(want string, marks int) bool {
	switch want {
	case "3":
		return marks <= 3
	case "6":
		return marks >= 4 && marks <= 6
	case "9":
		return marks >= 7 && marks <= 9
	case "10":
		return marks >= 10
	}
	return true
}

// any reports whether something is looked for at all.
func (s search) any() bool { return s != search{} }

// traps are the slips that questions of the bank are meant to bring out, by title.
var traps = sync.OnceValue(func() []option {
	seen := map[string]bool{}
	var list []option
	for _, e := range families() {
		for _, t := range e.Traps {
			if s := slip.Named(t); s != nil && !seen[t] {
				seen[t] = true
				list = append(list, option{t, s.Title})
			}
		}
	}
	slices.SortFunc(list, func(a, b option) int { return cmp.Compare(a.Label, b.Label) })
	return list
})

// An option of a list to choose from.
type option struct{ Value, Label string }

func kindOptions() []option {
	var list []option
	for _, k := range workbench.Kinds {
		list = append(list, option{k, strings.ReplaceAll(k, "-", " ")})
	}
	return list
}

var (
	whoseOptions = []option{{"own", "my own"}, {"bank", "the bank"}, {"shared", "colleagues'"}, {"away", "put away"}}
	levelOptions = []option{{"14-16", "14 to 16"}, {"16-18", "16 to 18"}, {"first year", "first year"}}
	marksOptions = []option{{"3", "up to 3"}, {"6", "4 to 6"}, {"9", "7 to 9"}, {"10", "10 or more"}}
)
