package trial

import (
	"html"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"steelyard/answer"
	"steelyard/draw"
	"steelyard/figure"
	"steelyard/formula"
	"steelyard/question"
	"steelyard/trial"
	"steelyard/web/page"
)

// The three ways of trying a question out.
const (
	anyPoint = "point"
	takeAway = "away"
	whatIf   = "vary"
)

// Pictures are this wide, and their words this large, in points.
const (
	pictureWidth = 360
	textSize     = 13
)

// A sight is what the page shows.
type sight struct {
	page.Question
	Way     string
	Answers *answer.Answers
	Fault   string // what of the request can't be done, and what to do

	Points []trial.Place
	First  *aspect
	Second *aspect
	Pair   *trial.Pair

	Already string // how it moves as it is; "" where it rests
	Changes []trial.Change
	Chosen  *trial.Change
	Polls   []poll
	Shown   bool
	Outcome *trial.Outcome
	Scene   *trial.Scene

	Numbers []trial.Number
	Number  trial.Number
	Value   float64 // SI
	Guess   string
	Curve   *trial.Curve
}

// here is the address of this page.
func (s *sight) here() string { return "/try/" + s.From }

// try shows the page, or, to its script, only what changes.
func (t *desk) try(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	src, err := t.Question(r)
	if err != nil {
		return err
	}
	s, err := t.look(src, r.URL.Query())
	if err != nil {
		return err
	}
	if r.URL.Query().Get("part") == "yes" {
		return page.Part(w, r, http.StatusOK, body(s))
	}
	return page.Write(w, r, v, http.StatusOK, page.Page{Title: "Try it: " + s.Title, Here: "questions", Wide: true,
		Styles: []string{"workbench.css", "trial.css"}, Scripts: []string{"trial.js"},
		Crumbs: s.Crumbs(), Body: whole(s)})
}

// solve reads a question and answers it, without its parts where they are not needed: some of them take long.
func solve(src page.Question) (*answer.Answers, error) {
	q, err := question.Parse("", src.Text)
	if err != nil {
		return nil, untried(err)
	}
	if slices.ContainsFunc(q.Parts, func(p question.Part) bool { return p.Ask == question.AskAngle }) { // it has to be found all the same
		if a, err := answer.Solve(q); err == nil {
			return a, nil
		}
	}
	bare := q.Clone()
	bare.Parts = nil
	a, err := answer.Solve(bare)
	if err == nil && trial.Open(a) == 0 {
		return a, nil
	}
	if whole, failed := answer.Solve(q); failed == nil && (err != nil || trial.Open(whole) < trial.Open(a)) {
		return whole, nil
	}
	if err != nil {
		return nil, untried(err)
	}
	return a, nil
}

func untried(err error) error {
	return &page.Refusal{Status: http.StatusUnprocessableEntity, What: "this question can't be tried out yet: " + err.Error(), Mend: "mend it on the workbench first"}
}

// fail tells the reader what can't be done.
func (s *sight) fail(err error) { s.Fault = capital(err.Error()) + "." }

// look is what the page shows of a question for the fields of its form.
func (t *desk) look(src page.Question, q url.Values) (*sight, error) {
	k, err := t.solved.find(src)
	if err != nil {
		return nil, err
	}
	return sightOf(src, k, q), nil
}

// sightOf is the same of what has been worked out.
func sightOf(src page.Question, k *tried, q url.Values) *sight {
	s := &sight{Question: src, Answers: k.answers, Way: q.Get("see"), Shown: q.Get("shown") == "yes"}
	switch s.Way {
	case takeAway:
		s.away(q)
	case whatIf:
		s.vary(q, k)
	default:
		s.Way = anyPoint
		s.points(q)
	}
	return s
}

// scene draws an outcome.
func (s *sight) scene(o *trial.Outcome) {
	scene, err := o.Scene(figure.Options{Width: pictureWidth, TextSize: textSize, ID: "scene"})
	if err != nil {
		s.fail(err)
		return
	}
	s.Scene = &scene
}

// sketch is the arrangement as it is.
func (s *sight) sketch() string {
	l := s.Answers.Layout
	if settled, err := answer.Lay(trial.Settled(s.Answers)); err == nil {
		l = settled
	}
	return string(draw.SVG(figure.Draw(l, figure.Options{Width: pictureWidth, TextSize: textSize, ID: "scene", HideDistances: true})))
}

// maths is a line of working: for the eye in pieces, for a screen reader whole.
func maths(n formula.Node) string {
	return `<div class="trial-line"><span class="hidden">` + html.EscapeString(formula.Words(n)) + `</span><span aria-hidden="true">` +
		strings.Join(formula.Pieces(n), " ") + "</span></div>\n"
}

func capital(t string) string {
	if t == "" {
		return t
	}
	r := []rune(t)
	return strings.ToUpper(string(r[0])) + string(r[1:])
}
