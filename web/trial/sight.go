package trial

import (
	"encoding/json"
	"fmt"
	"html"
	"math"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"steelyard/answer"
	"steelyard/chart"
	"steelyard/draw"
	"steelyard/figure"
	"steelyard/formula"
	"steelyard/quantity"
	"steelyard/question"
	"steelyard/solution"
	"steelyard/statics"
	"steelyard/trial"
	"steelyard/web/page"
)

// The three ways of trying a question out.
const (
	anyPoint = "point"
	takeAway = "away"
	whatIf   = "vary"
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

// An aspect is what moments about one point say.
type aspect struct {
	trial.About
	SVG     string
	Scale   float64
	Origin  draw.Point
	Step    float64 // metres
	Buttons []step
}

// A step moves the point a little.
type step struct{ ID, Words, Key string }

// A poll is what might happen, and how many of the class say so.
type poll struct {
	Key, Words, Count string
	Verdict           string // "yes", or nothing
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

// solve reads a question and answers it without its parts, some of which take long.
func solve(src page.Question) (*answer.Answers, error) {
	q, err := question.Parse("", src.Text)
	if err == nil {
		for i := range q.Parts { // an angle that is asked for has to be found all the same
			if q.Parts[i].Ask == question.AskAngle {
				var a *answer.Answers
				if a, err = answer.Solve(q); err == nil {
					return a, nil
				}
			}
		}
		c := q.Clone()
		c.Parts = nil
		var a *answer.Answers
		a, err = answer.Solve(c)
		if err == nil && trial.Open(a) == 0 {
			return a, nil
		}
		if b, again := answer.Solve(q); again == nil && (err != nil || trial.Open(b) < trial.Open(a)) {
			return b, nil
		}
		if err == nil {
			return a, nil
		}
	}
	return nil, &page.Refusal{Status: http.StatusUnprocessableEntity, What: "this question can't be tried out yet: " + err.Error(), Mend: "mend it on the workbench first"}
}

func (t *desk) look(src page.Question, q url.Values) (*sight, error) {
	k, err := t.solved.find(src)
	if err != nil {
		return nil, err
	}
	return sightOf(src, k, q), nil
}

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

func (s *sight) points(q url.Values) {
	s.Points = trial.Places(s.Answers)
	first := q.Get("point")
	if first == "" && len(s.Points) > 0 {
		first = s.Points[0].Key
	}
	s.First = s.about(first, q.Get("second") == "")
	if words := q.Get("second"); words != "" && s.First != nil {
		if s.Second = s.about(words, false); s.Second != nil {
			if pair, err := trial.Two(s.Answers, s.First.Place, s.Second.Place); err == nil && s.Answers.State != statics.NoEquilibrium {
				s.Pair = &pair
			}
		}
	}
}

func (s *sight) about(words string, alone bool) *aspect {
	p, err := trial.Find(s.Answers, words)
	if err != nil {
		s.Fault = capital(err.Error()) + "."
		return nil
	}
	about, err := trial.Pivot(s.Answers, p)
	if err != nil {
		s.Fault = capital(err.Error()) + "."
		return nil
	}
	x := &aspect{About: about}
	id := "first"
	if !alone && s.First != nil {
		id = "second"
	}
	placed := p.Placed(s.Answers, figure.Options{Width: 360, TextSize: 13, ID: id})
	x.SVG, x.Scale = string(draw.SVG(placed.Picture)), placed.Scale
	i := slices.IndexFunc(s.Answers.Layout.Bodies, func(b answer.Body) bool { return b.Name == p.Body })
	x.Origin = placed.At(i, statics.Vec{})
	x.steps()
	return x
}

// steps are buttons for a little to the left, right, up and down.
func (x *aspect) steps() {
	x.Step = 0.05
	for x.Step*x.Scale < 2 { // points
		x.Step *= 2
	}
	for _, d := range []struct {
		id, words string
		x, y      float64
	}{{"go-left", "left", -1, 0}, {"go-right", "right", 1, 0}, {"go-up", "up", 0, 1}, {"go-down", "down", 0, -1}} {
		at := x.Place.At
		key := fmt.Sprintf("%.3f, %.3f on %s", at.X+d.x*x.Step, at.Y+d.y*x.Step, x.Place.Body)
		x.Buttons = append(x.Buttons, step{d.id, d.words, key})
	}
}

// working is the equation and what follows from it. Its lines break, so that none has to be moved sideways on a phone.
func (x *aspect) working() string {
	var b strings.Builder
	for i := range x.Route.Steps {
		if say := x.Route.Steps[i].Say; len(say) > 0 {
			b.WriteString("<p>" + solution.SayHTML(say) + "</p>\n")
		}
		for _, l := range x.Route.Steps[i].Lines {
			b.WriteString(maths(l.Formula))
		}
	}
	return b.String()
}

func (s *sight) away(q url.Values) {
	s.Changes, s.Already = trial.Changes(s.Answers), trial.Already(s.Answers)
	do := q.Get("do")
	if do == "" {
		return
	}
	deed, thing, _ := strings.Cut(do, "|")
	for i := range s.Changes {
		if c := &s.Changes[i]; string(c.Deed) == deed && c.Thing == thing {
			s.Chosen = c
		}
	}
	if s.Chosen == nil {
		s.Fault = "There is nothing here that can be taken away so. Choose one of the buttons."
		return
	}
	o, err := trial.Without(s.Answers, *s.Chosen)
	if err != nil {
		s.Fault, s.Chosen = capital(err.Error())+".", nil
		return
	}
	s.Outcome = o
	s.Polls = polls(q, o)
	if s.Shown {
		s.scene(360)
	}
}

func (s *sight) scene(width float64) {
	scene, err := s.Outcome.Scene(figure.Options{Width: width, TextSize: 13, ID: "scene"})
	if err != nil {
		s.Fault = capital(err.Error()) + "."
		return
	}
	s.Scene = &scene
}

// polls are the ways in which it may go on, with what the class said.
func polls(q url.Values, o *trial.Outcome) []poll {
	list := []poll{{Key: "cw", Words: "It turns clockwise"}, {Key: "acw", Words: "It turns anticlockwise"},
		{Key: "slides", Words: "It slides, falls or rises without turning"}, {Key: "rests", Words: "It stays at rest"}}
	for i := range list {
		p := &list[i]
		if n, err := strconv.Atoi(q.Get(p.Key)); err == nil && n >= 0 && n <= 999 {
			p.Count = strconv.Itoa(n)
		}
		does := o.Rests && p.Key == "rests"
		if !o.Rests {
			for _, m := range answer.Moves(o.After.Layout, o.Motion) {
				does = does || m.Turns && (p.Key == "cw" && m.Sense == "clockwise" || p.Key == "acw" && m.Sense == "anticlockwise") || !m.Turns && p.Key == "slides"
			}
		}
		if does {
			p.Verdict = "yes"
		}
	}
	return list
}

// guessed says whether anybody has said anything.
func guessed(list []poll) bool {
	return slices.ContainsFunc(list, func(p poll) bool { return p.Count != "" })
}

func (s *sight) vary(q url.Values, k *tried) {
	s.Numbers = trial.Numbers(s.Answers)
	if len(s.Numbers) == 0 {
		s.Fault = "This question has no number that could be changed little by little."
		return
	}
	s.Number = s.Numbers[0]
	if name := q.Get("number"); name != "" {
		thing, attribute, _ := strings.Cut(name, ".")
		i := slices.IndexFunc(s.Numbers, func(n trial.Number) bool { return n.Thing == thing && n.Attribute == attribute })
		if i < 0 {
			s.Fault = "There is no such number here. Choose one from the list."
			return
		}
		s.Number = s.Numbers[i]
	}
	s.Value = s.Number.Now
	if v, ok := s.read(q.Get("value")); ok && q.Get("was") == s.name() {
		s.Value = min(max(v, s.Number.Low), s.Number.High)
	}
	if v, ok := s.read(q.Get("guess")); ok && q.Get("was") == s.name() {
		s.Guess = trial.Written(v, s.Number.Unit)
	}
	o, err := trial.Without(s.Answers, trial.Change{Deed: trial.Moved, Thing: s.Number.Thing, Attribute: s.Number.Attribute, To: s.Value})
	if err != nil {
		s.Fault = capital(err.Error()) + "."
		return
	}
	s.Outcome = o
	if !s.Shown { // how it moves is not given away
		o = &trial.Outcome{Change: o.Change, Before: o.Before, After: o.After, Rests: true}
	}
	kept := s.Outcome
	s.Outcome = o
	s.scene(360)
	s.Outcome = kept
	if s.Shown {
		if s.Curve, err = k.curve(s.Number); err != nil {
			s.Fault = capital(err.Error()) + "."
		}
	}
}

func (s *sight) name() string { return s.Number.Thing + "." + s.Number.Attribute }

// read is a value as it is typed or as a slider sends it.
func (s *sight) read(text string) (float64, bool) {
	if strings.TrimSpace(text) == "" {
		return 0, false
	}
	v, err := quantity.Parse(text, s.Number.Unit.Dimension, s.Number.Unit)
	if err != nil {
		return 0, false
	}
	return v.SI(), !math.IsInf(v.SI(), 0) && !math.IsNaN(v.SI())
}

// inUnit is a value in the unit of the number, as a slider takes it.
func (s *sight) inUnit(si float64) string {
	return strconv.FormatFloat(quantity.Snap(quantity.Of(si, s.Number.Unit).Value), 'f', -1, 64)
}

// stepOf is a step of the slider: about a hundredth of its way, and round.
func (s *sight) stepOf() string {
	way := quantity.Of(s.Number.High-s.Number.Low, s.Number.Unit).Value / 100
	p := math.Pow(10, math.Floor(math.Log10(way)))
	for _, k := range []float64{5, 2, 1} {
		if k*p <= way*(1+1e-9) {
			return strconv.FormatFloat(quantity.Snap(k*p), 'f', -1, 64)
		}
	}
	return "any"
}

// rail is the line that a place is dragged along on the picture, for the script: where the scale's nought is, and how
// many points a unit of it is long.
func (s *sight) rail() string {
	if s.Scene == nil || s.Number.Attribute != "at" {
		return ""
	}
	l := s.Outcome.After.Layout
	on := -1
	if d := l.LoadNamed(s.Number.Thing); d != nil {
		on = d.On
	} else if p := l.SupportNamed(s.Number.Thing); p != nil {
		on = p.On
	}
	if on < 0 {
		return ""
	}
	b := &l.Bodies[on]
	nought, one := s.Scene.At(on, b.At(b.FromZero(0))), s.Scene.At(on, b.At(b.FromZero(1)))
	unit := quantity.Of(1, s.Number.Unit).Value // of the unit in a metre
	return encode(map[string]float64{"x": nought.X, "y": nought.Y, "u": (one.X - nought.X) / unit, "v": (one.Y - nought.Y) / unit})
}

func (s *sight) ghosts() string {
	if s.Scene == nil || len(s.Scene.Ghosts) == 0 {
		return ""
	}
	return encode(s.Scene.Ghosts)
}

func encode(v any) string {
	b, err := json.Marshal(v)
	if err != nil {
		return ""
	}
	return string(b)
}

func (s *sight) graph() string {
	return string(draw.SVG(s.Curve.Picture(s.Value, chart.Options{ID: "graph", Width: 400, TextSize: 13})))
}

func (s *sight) bars() string {
	return string(draw.SVG(chart.Sizes(s.Curve.Forces(s.Value), s.Curve.Greatest(), "N", chart.Options{ID: "bars", Width: 340, TextSize: 13})))
}

// to is the address of a file of the graph.
func (s *sight) to(file string) string {
	q := url.Values{"see": {whatIf}, "number": {s.name()}, "was": {s.name()}, "value": {s.inUnit(s.Value)}, "shown": {"yes"}}
	return s.here() + "/" + file + "?" + q.Encode()
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

// sketch is the arrangement as it is.
func (s *sight) sketch() string {
	l := s.Answers.Layout
	if settled, err := answer.Lay(trial.Settled(s.Answers)); err == nil {
		l = settled
	}
	return string(draw.SVG(figure.Draw(l, figure.Options{Width: 360, TextSize: 13, ID: "scene", HideDistances: true})))
}
