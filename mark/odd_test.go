package mark

import (
	"os"
	"strings"
	"testing"
)

// testdata/odd holds work in the form of the corpus, without marks: right.txt is right physics in unusual forms, and gets
// full marks without asking; wrong.txt looks right and isn't, and never does.
func TestOddWorking(t *testing.T) {
	for file, right := range map[string]bool{"right.txt": true, "wrong.txt": false} {
		text, err := os.ReadFile("testdata/odd/" + file)
		if err != nil {
			t.Fatal(err)
		}
		var k *Key
		var hands []Hand
		n := 0
		flush := func() {
			for _, h := range hands {
				n++
				p := k.Mark([]Hand{h})[0]
				if full := p.Marks == p.Of && !p.AskTeacher; full != right {
					t.Errorf("%s: %s (%s) %q: %d of %d, asks %v\n%s\t%s\n\t%s", file, k.Question.Title, h.Part, h.Answer, p.Marks, p.Of, p.AskTeacher, h.Working, strings.Join(p.Why, "\n\t"), lines(p.Lines))
				}
			}
			hands = nil
		}
		for line := range strings.Lines(string(text)) {
			line = strings.TrimRight(line, "\n")
			switch {
			case strings.TrimSpace(line) == "" || strings.HasPrefix(line, "#"), strings.HasPrefix(line, "pupil "):
			case strings.HasPrefix(line, "question "):
				flush()
				k = keyOf(t, strings.TrimPrefix(line, "question "), Policy{})
			case strings.HasPrefix(line, "    "):
				hands[len(hands)-1].Working += line[4:] + "\n"
			default:
				part, answer, _ := strings.Cut(line, "|")
				hands = append(hands, Hand{Pupil: "p", Part: strings.TrimSpace(part), Answer: strings.TrimSpace(answer)})
			}
		}
		flush()
		if n < 40 {
			t.Errorf("%s has only %d pieces of work", file, n)
		}
	}
}
