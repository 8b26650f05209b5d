package homework

import (
	"strings"
	"testing"
)

func TestFileTitle(t *testing.T) {
	for title, want := range map[string]string{
		"Painter's cradle": "painter-s-cradle", "Where does it tip?": "where-does-it-tip", "  ": "question", "\"; x=\r\n../é": "x", "Μοχλός": "question",
		strings.Repeat("a", 39) + " b": strings.Repeat("a", 39),
	} {
		if got := FileTitle(title, "question"); got != want {
			t.Errorf("%q is %q, not %q", title, got, want)
		}
	}
}
