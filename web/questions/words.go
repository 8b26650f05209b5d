package questions

import (
	"strings"

	"steelyard/question"
)

// sentence begins with a capital and ends with a full stop.
func sentence(s string) string {
	if s == "" {
		return s
	}
	s = strings.ToUpper(s[:1]) + s[1:]
	if !strings.HasSuffix(s, ".") {
		s += "."
	}
	return s
}

// together joins what belongs together.
func together(list []string) string { return strings.Join(list, "; ") }

// said is a fault with its mend.
func said(f question.Fault) string {
	if f.Mend == "" {
		return f.What
	}
	return f.What + "; " + f.Mend
}
