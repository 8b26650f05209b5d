package show

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"

	"steelyard/answer"
	"steelyard/figure"
	"steelyard/formula"
	"steelyard/question"
	"steelyard/solution"
)

// A maker writes a talk.
type maker struct {
	t     *Talk
	a     *answer.Answers
	w     *solution.Working // the arrangement as it is given
	part  string
	n     int    // steps of this part so far
	lines []Line // of this part, so far
	found map[*answer.Layout][]figure.Arrow
	grown bool // one equation has been built term by term in numbers: the later ones come whole
}

// Make explains a question that has been answered and worked out. The error says that there are no answers.
func Make(a *answer.Answers, s *solution.Solution) (*Talk, error) {
	w, err := solution.Arrangement(a)
	if err != nil {
		return nil, fmt.Errorf("explaining step by step: %w", err)
	}
	m := &maker{t: &Talk{Title: s.Question, Safety: s.Safety, plans: new(sync.Map)}, a: a, w: w, found: map[*answer.Layout][]figure.Arrow{}}
	m.start()
	for i := range s.Parts {
		if p := &s.Parts[i]; len(p.Routes) > 0 {
			m.begin(p.Name)
			m.route(p, &p.Routes[0], resultOf(a, p.Name))
		}
	}
	m.begin("")
	m.check(s.Check)
	return m.t, nil
}

func resultOf(a *answer.Answers, part string) *answer.Result {
	for i := range a.Results {
		if a.Results[i].Part.Name == part {
			return &a.Results[i]
		}
	}
	return nil
}

// begin clears the board for a part.
func (m *maker) begin(part string) {
	m.part, m.n, m.lines = part, 0, nil
}

// add adds a step; its new lines are put below those that stand already.
func (m *maker) add(s Step, lines ...Line) *Step {
	m.n++
	s.Part = m.part
	switch {
	case m.part != "":
		s.ID = m.part + "-" + strconv.Itoa(m.n)
	case s.Kind == Arrangement:
		s.ID = "start"
	case s.Kind == Points:
		s.ID = "points"
	default:
		s.ID = "check-" + strconv.Itoa(m.n)
	}
	if n := len(m.lines); n > 0 && m.lines[n-1].Grows && len(lines) > 0 {
		m.lines = m.lines[:n-1]
	}
	m.lines = append(slices.Clip(m.lines), lines...)
	s.Lines, s.New = slices.Clone(m.lines), len(lines)
	s.Say = tidy(s.Say)
	m.t.Steps = append(m.t.Steps, s)
	return &m.t.Steps[len(m.t.Steps)-1]
}

// start shows what there is, and names its points.
func (m *maker) start() {
	q := m.a.Layout.Question
	at := m.sketch(m.a.Layout)
	var say []string
	for _, p := range question.Wording(q) {
		say = append(say, formula.Spoken(p))
	}
	m.add(Step{Kind: Arrangement, Title: "The arrangement", Say: strings.Join(say, " "), Ask: "Which things touch it, and which of them could push or pull?", scene: at, stage: plain})
	if names := m.points(); names != "" {
		m.add(Step{Kind: Points, Title: "Where everything is", Say: names, Ask: "Which of these forces do we know already?", scene: at})
	}
}

// points says where everything is that exerts a force.
func (m *maker) points() string {
	var list []string
	told := map[string]bool{}
	q := m.a.Layout.Question
	for _, f := range m.w.Forces() {
		if told[f.Name] || f.Kind == solution.Weight && f.Place >= 0 {
			continue
		}
		label, here := "", ""
		if s := q.Support(f.Name); s != nil {
			label = m.w.Called(s.Label, s.Name)
		} else if d := q.Load(f.Name); d != nil {
			label = m.w.Called(d.Label, d.Name)
		} else if f.Kind == solution.Weight {
			label = f.Words
		}
		told[f.Name] = true
		if f.Place < 0 && f.Mark.OnAxis && f.Kind != solution.Turn && f.On >= 0 && m.a.Layout.Bodies[f.On].Length > 0 { // a frame has no ends
			here = formula.Words(f.Mark.Scale) + m.w.From(f.On)
			if f.Mark.Zero || f.Mark.Scale.Text == "" {
				here = strings.TrimPrefix(strings.Replace(m.w.From(f.On), " from ", " at ", 1), " at ")
			}
		}
		switch {
		case label == "" || here == "" && (label == f.Name || f.Kind == solution.Weight):
		case label == f.Name && q.Support(f.Name) != nil:
			list = append(list, f.Name+" is at "+here+".")
		case here == "":
			list = append(list, f.Name+" is "+label+".")
		case label == f.Name || f.Kind == solution.Weight:
			list = append(list, capital(label)+" acts at "+here+".")
		default:
			list = append(list, f.Name+" is "+label+", at "+here+".")
		}
	}
	return strings.Join(list, " ")
}

// capital begins a sentence.
func capital(s string) string {
	if s == "" {
		return s
	}
	r := []rune(s)
	return strings.ToUpper(string(r[:1])) + string(r[1:])
}
