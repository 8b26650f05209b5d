package class

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"steelyard/mark"
	"steelyard/slip"
)

// A Note is what a pupil is told about their work: in plain and kind words, with a question in place of the solution.
type Note struct {
	Name      string
	Marks, Of int
	Parts     []NotePart
	Good      []string // what was right; never empty
	Off       *Off     // the first place where it went off; nil if there is none
	Think     string   // a question to think about; "" if there is none
	Next      string   // the next thing to try
	Decided   []string // what the teacher has decided, with reasons
	Waiting   []string // what the teacher will still look at
}

// A NotePart is the mark of a part.
type NotePart struct {
	Name      string
	Marks, Of int
}

// Off is the first place where the work went off.
type Off struct {
	Part   string
	Quoted string // the pupil's own line or answer
	Words  string // what to look at
}

// mostGood is how many things that were right are told, so that a note stays on its page.
const mostGood = 4

// NoteOf writes the note for one pupil.
func NoteOf(r *Result) Note {
	n := Note{Name: r.Name}
	n.Marks, n.Of = r.Marks()
	for i := range r.Parts {
		p := &r.Parts[i]
		n.Parts = append(n.Parts, NotePart{p.Part, p.Score(), p.Of})
		if o := p.Override; o != nil {
			n.Decided = append(n.Decided, fmt.Sprintf("Part %s: %s. %s", p.Part, plural(o.Mark, "mark", "marks"), sentence(clip(o.Reason, 160))))
		}
		if Asked(p) {
			n.Waiting = append(n.Waiting, p.Part)
		}
	}
	n.Good = good(r.Parts)
	n.Off = off(r.Parts)
	n.Think, n.Next = n.onwards(r)
	return n
}

// good lists what was right: whole parts first, then lines.
func good(parts []mark.Part) []string {
	var full []string
	var lines []string
	said := map[string]bool{}
	wrote, carried := "", 0
	for i := range parts {
		p := &parts[i]
		if wrote == "" && !blank(p) {
			wrote = p.Part
		}
		if p.Score() == p.Of && p.Of > 0 {
			if p.Answer.Verdict == mark.AnswerCarried {
				lines = append(lines, fmt.Sprintf("In part %s you went on rightly with your own value from before.", p.Part))
				carried++
				continue
			}
			full = append(full, p.Part)
			continue
		}
		for k := range p.Lines {
			words := ""
			switch l := &p.Lines[k]; {
			case l.Verdict == mark.Right && strings.HasPrefix(l.Means, "moments"):
				words = fmt.Sprintf("In part %s your line of %s is right.", p.Part, l.Means)
			case l.Verdict == mark.Right && (strings.Contains(l.Means, "balance") || strings.Contains(l.Means, "resultant")):
				words = fmt.Sprintf("In part %s your line for the %s is right.", p.Part, strings.TrimPrefix(l.Means, "the "))
			case l.Verdict == mark.Carried:
				words = fmt.Sprintf("In part %s you went on rightly with your own value from before.", p.Part)
			}
			if words != "" && !said[words] {
				said[words] = true
				lines = append(lines, words)
			}
		}
		if p.Answer.Verdict == mark.AnswerCarried && !Asked(p) && !said[p.Part] {
			said[p.Part] = true
			lines = append(lines, fmt.Sprintf("Your answer to part %s follows from your own earlier value.", p.Part))
		}
	}
	var out []string
	switch {
	case len(parts) > 1 && len(full)+carried == len(parts):
		return []string{"All of it is right. Well done."}
	case len(full) == 1:
		out = []string{fmt.Sprintf("Part %s is right.", full[0])}
	case len(full) > 1:
		out = []string{fmt.Sprintf("Parts %s are right.", and(full))}
	}
	if out = append(out, lines...); len(out) > mostGood {
		out = out[:mostGood]
	}
	switch {
	case len(out) > 0:
		return out
	case wrote != "":
		return []string{fmt.Sprintf("You have made a start on part %s, so there is something to go on from.", wrote)}
	}
	return []string{"Nothing has been handed in yet; there is still time to make a start."}
}

// What is said of an answer that is right but for the way it is written.
const (
	unitOff    = "The number is right. What is missing is the right unit."
	figuresOff = "The answer is right, but it has too few figures."
)

// off finds the first place where the work went off: a wrong line, else an answer.
func off(parts []mark.Part) *Off {
	for i := range parts {
		p := &parts[i]
		if p.Score() == p.Of {
			continue
		}
		for k := range p.Lines {
			l := &p.Lines[k]
			if l.Verdict != mark.Wrong {
				continue
			}
			words := "Have another look at this line: something in it doesn't fit the others."
			if r, _ := utf8.DecodeRuneInString(l.Off); unicode.IsLetter(r) {
				words = "It looks as if " + strings.TrimSuffix(lowerFirst(l.Off), ".") + "."
			} else if l.Off != "" { // arithmetic: "308 + 1232 is 1540, not 1526"
				words = sentence(l.Off)
			}
			return &Off{p.Part, clip(l.Line.Text, 160), words}
		}
		if Asked(p) { // the teacher may see it otherwise
			continue
		}
		words := ""
		switch p.Answer.Verdict {
		case mark.AnswerWrong:
			words = "This answer doesn't fit the forces yet."
		case mark.AnswerUnit:
			words = unitOff
		case mark.AnswerFigures:
			words = figuresOff
		}
		if words != "" {
			return &Off{p.Part, clip(p.Answer.Read.Text, 160), words}
		}
	}
	return nil
}

// onwards chooses the question to think about and the next thing to try.
func (n *Note) onwards(r *Result) (think, next string) {
	if n.Marks == n.Of {
		return "", "Take moments about a point that you haven't used, and see that the same forces balance there too."
	}
	if named := r.named(); len(named) > 0 {
		s := slip.Named(named[0].Name)
		think = s.Ask
		if k := causeOf(s.Name); k >= 0 {
			next = causes[k].Try
		}
	}
	if think == "" && n.Off != nil { // the forces need no second look
		switch n.Off.Words {
		case unitOff:
			return "What kind of quantity is asked for, and in what unit is it measured?", "Write that answer once more, with its number and its unit."
		case figuresOff:
			return "How many figures do the numbers in the question have?", "Work it out once more without rounding on the way, and give as many figures as the question does."
		}
	}
	lines := false
	for i := range r.Parts {
		lines = lines || len(r.Parts[i].Lines) > 0
	}
	if think == "" && n.Off != nil {
		think = "Which forces act on the body, and how far is each of them from the point that you turn about?"
	}
	switch {
	case next != "":
	case n.Off != nil && !lines:
		next = "Do that part once more and write each line down, so that we can see together where it goes."
	case n.Off != nil:
		next = "Draw the body with all its forces, choose a pivot, and write the line of moments again from the beginning."
	case len(n.Waiting) > 0:
		next = "Wait for your teacher's word on what is still open."
	default:
		next = "Choose a point to take moments about and write down the first line; a first line is worth something."
	}
	return think, next
}

// and joins names: "a", "a and b", "a, b and c".
func and(names []string) string {
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	return strings.Join(names[:len(names)-1], ", ") + " and " + names[len(names)-1]
}

func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// lowerFirst makes the first letter small, but for names such as "R" and "Q".
func lowerFirst(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if next, _ := utf8.DecodeRuneInString(s[n:]); n == 0 || !unicode.IsLower(next) {
		return s
	}
	return string(unicode.ToLower(r)) + s[n:]
}

// sentence gives words a capital and a full stop.
func sentence(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return s
	}
	s = string(unicode.ToUpper(r)) + s[n:]
	if strings.HasSuffix(s, ".") || strings.HasSuffix(s, "?") || strings.HasSuffix(s, "!") {
		return s
	}
	return s + "."
}
