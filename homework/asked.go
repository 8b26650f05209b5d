package homework

import (
	"fmt"
	"strings"
	"sync"

	"steelyard/answer"
	"steelyard/draw"
	"steelyard/figure"
	"steelyard/question"
	"steelyard/sheet"
	"steelyard/solution"
)

// An Asked is a question ready to be shown, on a page or on paper. It is not changed by use, and may be used by
// several goroutines at once.
type Asked struct {
	Question *question.Question
	Answers  *answer.Answers
	Title    string
	Wording  []string // paragraphs
	Parts    []Box    // what is asked, without the answers

	// Of its picture, for those who don't see it: a title, a text from which the question can be worked, and a table of
	// what is given.
	PictureTitle, PictureText string
	Given                     []figure.Row

	solve    func() (*solution.Solution, error)
	lock     sync.Mutex
	pictures map[look][]byte
}

// A Box is a part as a pupil is asked it, with what stands around the answer's line.
type Box struct {
	Name  string // "a"
	Text  string
	Marks int
	Label string // what stands before the answer: "force"; may be empty
	Unit  string // what stands after it: "N"; may be empty
	Prose bool   // answered in words
}

// Ask makes a question ready to be shown. The error says what is wrong with its text.
func Ask(text string) (a *Asked, err error) {
	defer func() {
		if fault := recover(); fault != nil {
			a, err = nil, fmt.Errorf("showing a question: the program has a fault (%v); please report this question", fault)
		}
	}()
	if len(text) > MostText {
		return nil, fmt.Errorf("a question has room for %d kB", MostText>>10)
	}
	q, err := question.Parse("", text)
	if err != nil {
		return nil, err
	}
	return AskOf(q)
}

// AskOf is Ask for a question that has been read.
func AskOf(q *question.Question) (*Asked, error) {
	answers, err := answer.Solve(q)
	if err != nil {
		return nil, err
	}
	a := &Asked{Question: q, Answers: answers, Title: q.Title, Wording: question.Wording(q), Given: figure.Rows(answers.Layout)}
	a.PictureTitle, a.PictureText = figure.Describe(answers.Layout, figure.Options{})
	for i := range answers.Results {
		a.Parts = append(a.Parts, boxOf(q, &answers.Results[i]))
	}
	a.solve = sync.OnceValues(func() (*solution.Solution, error) { return solution.Solve(answers) })
	return a, nil
}

func boxOf(q *question.Question, r *answer.Result) Box {
	p := r.Part
	b := Box{Name: p.Name, Text: question.PartWording(q, *p), Marks: p.Marks}
	switch p.Ask {
	case question.AskWhether, question.AskForceOn, question.AskDirection:
		b.Prose = true
	default:
		b.Label = strings.TrimSpace(label(p))
		b.Unit = answer.UnitFor(q, answer.Dimension(r.Unit)).Symbol
	}
	return b
}

// label is what stands before an answer's line.
func label(p *question.Part) string {
	switch p.Ask {
	case question.AskFurthest, question.AskPosition:
		return "distance"
	case question.AskRange:
		return "from … to"
	case question.AskAngle:
		return "angle"
	case question.AskCoefficient, question.AskLeastCoefficient:
		return "coefficient of friction"
	case question.AskCentre:
		return "centre of mass at"
	case question.AskMoment, question.AskTotalMoment, question.AskCouple:
		return "moment"
	case question.AskMass:
		return "mass"
	case question.AskWeight:
		return "weight"
	case question.AskGreatest, question.AskLeast:
		if p.OfAngle {
			return "angle"
		}
		return "greatest or least"
	}
	return "force"
}

// Marks is what all parts are worth.
func (a *Asked) Marks() int {
	n := 0
	for i := range a.Parts {
		n += a.Parts[i].Marks
	}
	return n
}

// Solution works the question out; it is done once, when it is first wanted.
func (a *Asked) Solution() (*solution.Solution, error) { return a.solve() }

// Safety is the caution that belongs to the scene; "" where none does or it can't be worked out.
func (a *Asked) Safety() string {
	s, err := a.solve()
	if err != nil {
		return ""
	}
	return s.Safety
}

// Hints is the ladder for a part.
func (a *Asked) Hints(part string) ([]solution.Hint, error) {
	s, err := a.solve()
	if err != nil {
		return nil, err
	}
	return solution.Hints(a.Answers, s, part)
}

// Cards are the ladders of all parts, for printing.
func (a *Asked) Cards() (sheet.Pack, error) {
	p := sheet.Pack{Title: a.Title}
	for i := range a.Parts {
		hints, err := a.Hints(a.Parts[i].Name)
		if err != nil {
			return p, err
		}
		p.Ladders = append(p.Ladders, sheet.Ladder{Part: a.Parts[i].Name, Asked: a.Parts[i].Text, Hints: hints})
	}
	return p, nil
}

// Picture draws what the pupil is given. Lengths are in points; upright symbols go with large print.
func (a *Asked) Picture(width, textSize float64, upright bool) *draw.Picture {
	return figure.Draw(a.Answers.Layout, figure.Options{Width: width, TextSize: textSize, Upright: upright})
}

// View draws what belongs to a step of the solution.
func (a *Asked) View(v solution.View, d sheet.Drawing) *draw.Picture {
	o := figure.Options{View: figure.Forces, Body: v.Body, Width: d.Width, TextSize: d.TextSize, Upright: d.Upright, HideValues: true}
	if v.PivotName != "" {
		o.View, o.Pivot, o.PivotName = figure.Moment, v.Pivot, v.PivotName
	}
	return figure.Draw(v.Layout, o)
}

// A look is how a picture is wanted.
type look struct {
	width, textSize float64
	upright         bool
	id              string
}

// mostLooks is how many pictures of one question are kept, so that odd sizes can't fill the memory.
const mostLooks = 6

// SVG is the picture as an element for a page. The ID tells it from other pictures on the page.
func (a *Asked) SVG(width, textSize float64, upright bool, id string) string {
	l := look{width, textSize, upright, id}
	a.lock.Lock()
	defer a.lock.Unlock()
	svg, ok := a.pictures[l]
	if !ok {
		svg = draw.SVG(figure.Draw(a.Answers.Layout, figure.Options{Width: width, TextSize: textSize, Upright: upright, ID: id}))
		if a.pictures == nil || len(a.pictures) >= mostLooks {
			a.pictures = map[look][]byte{}
		}
		a.pictures[l] = svg
	}
	return string(svg)
}

// Item is the question as it is printed.
func (a *Asked) Item() (sheet.Item, error) {
	s, err := a.solve()
	if err != nil {
		return sheet.Item{}, err
	}
	it := sheet.Item{
		Title:    a.Title,
		Wording:  a.Wording,
		Solution: s,
		Picture:  func(d sheet.Drawing) *draw.Picture { return a.Picture(d.Width, d.TextSize, d.Upright) },
		View:     a.View,
	}
	for i := range a.Parts {
		b := &a.Parts[i]
		it.Parts = append(it.Parts, sheet.Part{Name: b.Name, Text: b.Text, Marks: b.Marks, Label: b.Label, Unit: b.Unit, Prose: b.Prose,
			Answer: a.Answers.Results[i].Shown})
	}
	return it, nil
}
