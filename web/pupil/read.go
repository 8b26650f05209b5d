package pupil

import (
	"fmt"
	"math"
	"net/http"
	"regexp"
	"strconv"
	"strings"

	"steelyard/formula"
	"steelyard/script"
	"steelyard/web/page"
)

// mostLines is how many lines of a part's working are shown as they were read.
const mostLines = 60

// A line is one line of working as it was read.
type line struct {
	Said   string   // in words; of what is no formula, the words as they were written
	Maths  []string // MathML, in pieces between which the line may break
	About  string   // the point of "moments about"
	Unread string   // the piece that could not be read
	verdict
}

// A verdict is what is said of a line or an answer in practice; the zero verdict says nothing.
type verdict struct {
	Sign string // "right", "carried", "wrong", "doubt"; also a class of look.css
	Word string // a kind word
	Ask  string // a question to think about
}

// lines reads working.
func lines(working string) []line {
	read := script.Read(working)
	if len(read) > mostLines {
		read = read[:mostLines]
	}
	list := make([]line, len(read))
	for i := range read {
		list[i] = lineOf(&read[i])
	}
	return list
}

func lineOf(l *script.Line) line {
	n, ok := l.Formula()
	switch {
	case l.Kind == script.NotRead:
		return line{Said: l.Text, Unread: l.Unread}
	case !ok:
		return line{Said: l.Text}
	}
	return line{Said: formula.Words(n), Maths: formula.Pieces(n), About: l.About}
}

// Lines are the working of a part as it is read, judged in practice.
func (p *part) Lines() []line {
	list := lines(p.Working)
	if p.judged != nil {
		p.judged.lines(list)
	}
	return list
}

// A reading is how an answer was read.
type reading struct {
	Shown   string // "570 N, up"; "" if nothing was typed
	Unread  bool
	Missing string // a word about the unit
	verdict
}

// Reading is the answer of a part as it is read, judged in practice.
func (p *part) Reading() reading {
	x := p.read()
	if p.judged != nil {
		x.verdict = p.judged.answer(p.Label)
	}
	return x
}

// further is what stands after the first number of an answer that has two: "at 26.4° above the horizontal", "to 3.12 m".
var further = regexp.MustCompile(`(?i)\d[^=×*+/]*?\s((?:at|to|and)\s[^=]*\d[^=]*)$`)

func (p *part) read() reading {
	text := strings.TrimSpace(p.Answer)
	a := script.ReadAnswer(text)
	switch {
	case text == "":
		return reading{}
	case !a.Read:
		return reading{Unread: true}
	case math.IsNaN(a.Value):
		return reading{Shown: text}
	case p.Prose && p.Unit == "" && a.Unit.Symbol == "" && len(a.Words) > 0 && a.Direction == "":
		return reading{Shown: text}
	}
	x := reading{Shown: typeset(a)}
	switch more := further.FindStringSubmatch(text); {
	case more != nil:
		x.Shown += " " + more[1]
	case a.Direction != "":
		x.Shown += ", " + a.Direction
	}
	switch {
	case a.HasUnit || p.Unit == "" && !p.Prose:
	case a.UnitText != "":
		x.Missing = fmt.Sprintf("“%s” is no unit that is known here.", a.UnitText)
	case p.Unit == "°":
		x.Missing = "No unit yet: is it in degrees?"
	case !p.Prose:
		x.Missing = "No unit yet."
	}
	return x
}

// typeset is the value of an answer in the figures that were typed, where they say the value; a sum is worked out.
func typeset(a script.Answer) string {
	number := strconv.FormatFloat(a.Value, 'f', a.Decimals, 64)
	if v, _ := strconv.ParseFloat(number, 64); math.Abs(v-a.Value) > 1e-9*math.Abs(a.Value) || len(number) > 12 {
		number = strconv.FormatFloat(a.Value, 'g', 5, 64)
	}
	return formula.Text(formula.Given(strings.Replace(number, "-", "−", 1), a.Unit.Symbol))
}

// read answers with how the answer and the working of one part are read, for a page that is open. In practice it also
// says how they stand.
func (r room) read(w http.ResponseWriter, req *http.Request, v *page.Viewer) error {
	k, err := r.loadToRead(req, v)
	if err != nil {
		return err
	}
	if err := k.fill(req); err != nil {
		return err
	}
	p := k.named(req.PostFormValue("part"))
	if p == nil || k.Questions[p.Item].Lost {
		return page.NotFound
	}
	if err := r.judge(k, p.Item); err != nil {
		return err
	}
	return page.Part(w, req, http.StatusOK, readings(p))
}
