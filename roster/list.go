package roster

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"steelyard/class"
)

// Limits of what is read: bytes of a list, pupils of one class, characters of a name or an identifier.
const (
	LargestList = 2 << 20
	MostPupils  = 500
	longest     = 120
)

// A List is a class as a file has it.
type List struct {
	Title    string   `json:"t,omitempty"` // what the class is called there; may be empty
	Source   string   `json:"s,omitempty"` // its identifier there; may be empty
	Teachers []string `json:"w,omitempty"` // names, to tell classes apart; they are not kept
	Pupils   []Pupil  `json:"p"`
	Whole    bool     `json:"a,omitempty"` // whoever isn't in it has left the class
	Notes    []string `json:"n,omitempty"` // how it was read and what was passed over, in sentences
}

// A Pupil is what is kept of a line of a list.
type Pupil struct {
	Name   string `json:"n,omitempty"` // "" where a list of changes names the pupil by identifier only
	Source string `json:"s,omitempty"` // identifier in the list; may be empty
	Left   bool   `json:"l,omitempty"` // a list of changes takes the pupil out of the class
	Mere   bool   `json:"m,omitempty"` // the name changes, if the pupil is in the class at all
}

// ReadList reads a pasted list or a spreadsheet.
func ReadList(b []byte) (List, error) {
	if len(b) > LargestList {
		return List{}, Faults{{What: "the list is longer than 2 MB", Mend: "is it the right file?"}}
	}
	if bytes.HasPrefix(b, []byte("PK\x03\x04")) {
		return List{}, Faults{{What: "this is a spreadsheet's own file or a zip, not a list", Mend: "save it as CSV, or copy the names and paste them"}}
	}
	roll, err := class.ReadNames(bytes.NewReader(b))
	if err != nil {
		return List{}, faultsOf(err)
	}
	l := List{Notes: roll.How}
	dropped := false
	for _, p := range roll.Pupils {
		code := p.Code
		if strings.Contains(code, "@") { // an address says more than is needed
			code, dropped = "", true
		}
		l.Pupils = append(l.Pupils, Pupil{Name: p.Name, Source: code})
	}
	if dropped {
		l.Notes = append(l.Notes, "Identifiers that are e-mail addresses were not kept.")
	}
	return l, l.Check()
}

// Check says what of a list could not be kept.
func (l *List) Check() error {
	var faults Faults
	if len(l.Pupils) > MostPupils {
		faults = append(faults, Fault{What: fmt.Sprintf("the list has %d pupils, a class at most %d", len(l.Pupils), MostPupils), Mend: "is it the list of one class?"})
	}
	for _, p := range l.Pupils {
		if p.Name == "" && p.Source == "" {
			faults = append(faults, Fault{What: "a pupil has neither a name nor an identifier", Mend: "give a name"})
		}
		for _, s := range []string{p.Name, p.Source} {
			if what := unfit(s); what != "" {
				faults = append(faults, Fault{What: fmt.Sprintf("%q %s", short(s), what), Mend: "change it"})
			}
		}
	}
	if len(faults) > 0 {
		return faults
	}
	return nil
}

// unfit says why a name can't be kept or printed; "" if it can.
func unfit(s string) string {
	switch {
	case !utf8.ValidString(s):
		return "is not text in UTF-8"
	case utf8.RuneCountInString(s) > longest:
		return fmt.Sprintf("has more than %d characters", longest)
	case strings.ContainsFunc(s, func(r rune) bool { return unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r) }):
		return "has a sign in it that can't be printed"
	}
	return ""
}

// short is as much of a text as a message can bear.
func short(s string) string {
	if r := []rune(s); len(r) > 40 {
		return string(r[:39]) + "…"
	}
	return s
}

func faultsOf(err error) error {
	var lines class.Faults
	if !errors.As(err, &lines) {
		return Faults{{What: err.Error()}}
	}
	var faults Faults
	for _, l := range lines {
		what, mend, _ := strings.Cut(l, "; ")
		faults = append(faults, Fault{What: what, Mend: mend})
	}
	return faults
}
