package workbench

import (
	"errors"

	"steelyard/question"
)

// A Refusal says why an edit is not made, and what would be possible.
type Refusal struct{ What, Mend string }

func (r *Refusal) Error() string {
	if r.Mend == "" {
		return r.What
	}
	return r.What + "; " + r.Mend
}

func refuse(what, mend string) error { return &Refusal{what, mend} }

// unread is the refusal where a text can't be read; otherwise is the mend where its faults have none.
func unread(err error, otherwise string) error {
	if f, ok := errors.AsType[question.Faults](err); ok && len(f) > 0 {
		mend := f[0].Mend
		if mend == "" {
			mend = otherwise
		}
		return refuse(f[0].What, mend)
	}
	return refuse(err.Error(), otherwise)
}

// A Change is a text after an edit.
type Change struct {
	Text string
	Said string   // what was done, in a few words: "support P is at 0.65 m"
	Also []string // what else had to change with it
}

// done checks that what an edit leaves can be read.
func (d *draft) done(said string, also ...string) (Change, error) {
	text := d.String()
	if _, err := question.Parse("", text); err != nil {
		return Change{}, unread(err, "choose another value")
	}
	return Change{Text: text, Said: said, Also: also}, nil
}
