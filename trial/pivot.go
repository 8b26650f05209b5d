package trial

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"steelyard/answer"
	"steelyard/draw"
	"steelyard/figure"
	"steelyard/solution"
	"steelyard/statics"
)

// A Place is a point that moments are taken about.
type Place struct {
	Body string // that moments are taken for
	At   statics.Vec
	Name string // what the text calls it: "Q", "the point at 2.00 m"
	Key  string // what Find makes the same place of
}

// Find finds a point: what solution.Point takes ("Q", "middle", "2.00 m on plank"), or two coordinates in metres in
// the plane, "1.20, 0.40" or "1.20, 0.40 on plank", which may be off the body; "~1.20, 0.40" is a point that was pointed
// at, and gives way to what has a name close by. The error says what was expected.
func Find(a *answer.Answers, words string) (Place, error) {
	exact, pointed := strings.CutPrefix(strings.TrimSpace(words), "~")
	if x, y, body, ok := coordinates(exact); ok {
		reach := 1e-3
		if pointed {
			reach = 0.015
		}
		return near(a, statics.Vec{X: x, Y: y}, body, reach*span(a.Layout))
	}
	body, at, name, err := solution.Point(a, words)
	if err != nil {
		return Place{}, err
	}
	if math.IsNaN(at.X) || math.IsNaN(at.Y) {
		return Place{}, fmt.Errorf("where %s is, is not known", name)
	}
	key := strings.TrimSpace(words)
	if i := a.Layout.BodyIndex(key); i >= 0 {
		name = "the centre of mass"
		if len(a.Layout.Bodies) > 1 {
			name += " of " + called(a.Layout, i)
		}
	}
	return Place{Body: body, At: at, Name: name, Key: key}, nil
}

func coordinates(words string) (x, y float64, body string, ok bool) {
	words, body, _ = strings.Cut(words, " on ")
	words = strings.Trim(strings.TrimSpace(words), "()")
	left, right, two := strings.Cut(words, ",")
	if !two {
		return 0, 0, "", false
	}
	read := func(s string) float64 {
		v, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(s), "m")), 64)
		if err != nil || math.IsInf(v, 0) || math.Abs(v) > 1e6 {
			return math.NaN()
		}
		return v
	}
	x, y = read(left), read(right)
	return x, y, strings.TrimSpace(body), !math.IsNaN(x) && !math.IsNaN(y)
}

// near is a point of the plane, or the named point or the end of a body that it all but meets.
func near(a *answer.Answers, at statics.Vec, body string, reach float64) (Place, error) {
	l := a.Layout
	if len(l.Bodies) == 0 {
		return Place{}, fmt.Errorf("there is no body to take moments for")
	}
	if body != "" && l.BodyNamed(body) == nil {
		return Place{}, fmt.Errorf("no body is called %q", body)
	}
	for _, p := range Places(a) {
		if math.Hypot(p.At.X-at.X, p.At.Y-at.Y) <= reach && (body == "" || p.Body == body) {
			return p, nil
		}
	}
	if body == "" {
		body = nearest(l, at)
	}
	x, y := tidy(at.X), tidy(at.Y)
	key := fmt.Sprintf("%s, %s", plain(x), plain(y))
	name := fmt.Sprintf("the point (%s m, %s m)", shown(x), shown(y))
	if b := l.BodyNamed(body); b != nil {
		if s := b.Distance(at); b.Length > 0 && s >= 0 && s <= b.Length && apart(b.At(s), at) <= reach {
			s = tidy(b.FromZero(s))
			at = b.At(b.FromZero(s))
			return Place{Body: body, At: at, Name: fmt.Sprintf("the point at %.2f m", s), Key: fmt.Sprintf("%.2f m on %s", s, body)}, nil
		}
	}
	return Place{Body: body, At: statics.Vec{X: x, Y: y}, Name: name, Key: key + " on " + body}, nil
}

// tidy keeps centimetres.
func tidy(v float64) float64 { return math.Round(v*100) / 100 }

func plain(v float64) string { return strconv.FormatFloat(v+0, 'f', 2, 64) }

func shown(v float64) string { return strings.Replace(plain(v), "-", "−", 1) }

func apart(p, q statics.Vec) float64 { return math.Hypot(p.X-q.X, p.Y-q.Y) }

// nearest is the body whose axis a point is nearest to.
func nearest(l *answer.Layout, at statics.Vec) string {
	best, name := math.Inf(1), ""
	for i := range l.Bodies {
		b := &l.Bodies[i]
		if d := apart(b.At(min(max(b.Distance(at), 0), b.Length)), at); d < best || name == "" {
			best, name = d, b.Name
		}
	}
	return name
}

// span is about how large the arrangement is, in metres.
func span(l *answer.Layout) float64 {
	low, high := statics.Vec{X: math.Inf(1), Y: math.Inf(1)}, statics.Vec{X: math.Inf(-1), Y: math.Inf(-1)}
	take := func(p statics.Vec) {
		if !math.IsNaN(p.X) && !math.IsNaN(p.Y) {
			low.X, low.Y, high.X, high.Y = min(low.X, p.X), min(low.Y, p.Y), max(high.X, p.X), max(high.Y, p.Y)
		}
	}
	for i := range l.Bodies {
		b := &l.Bodies[i]
		take(b.At(0))
		take(statics.Vec{X: b.At(b.Length).X - b.Height*b.Axis.Y, Y: b.At(b.Length).Y + b.Height*b.Axis.X})
		take(b.Centre)
	}
	for i := range l.Supports {
		take(l.Supports[i].At)
		if l.Supports[i].HasFar {
			take(l.Supports[i].Far)
		}
	}
	for i := range l.Loads {
		take(l.Loads[i].At)
	}
	return max(high.X-low.X, high.Y-low.Y, 1e-3)
}

// Places are the points of an arrangement that have names: supports, loads, named points, ends and centres of bodies.
func Places(a *answer.Answers) []Place {
	l := a.Layout
	var list []Place
	add := func(words string) {
		p, err := Find(a, words)
		if err != nil {
			return
		}
		for _, o := range list {
			if o.Body == p.Body && apart(o.At, p.At) < 1e-9*span(l) {
				return
			}
		}
		list = append(list, p)
	}
	for i := range l.Supports {
		add(l.Supports[i].Name)
	}
	for i := range l.Question.Points {
		add(l.Question.Points[i].Name)
	}
	for i := range l.Loads {
		add(l.Loads[i].Name)
	}
	for i := range l.Bodies {
		b := &l.Bodies[i]
		if b.Length > 0 {
			add("left end on " + b.Name)
			add("right end on " + b.Name)
		}
		if b.Weight > 0 {
			add(b.Name)
		}
	}
	return list
}

// An About is what moments about one point say.
type About struct {
	Place Place
	Route solution.Route
	Gives string // "It gives the force at P", or why it gives none
}

// Pivot takes moments about a place. An error says that there is nothing to balance.
func Pivot(a *answer.Answers, p Place) (About, error) {
	r, err := solution.About(a, p.Body, p.At, p.Name)
	if err != nil {
		return About{}, err
	}
	return About{Place: p, Route: r, Gives: gives(&r)}, nil
}

// gives says what one equation gives, by the first move of the route.
func gives(r *solution.Route) string {
	if r.Poor != "" {
		return capital(r.Poor) + "."
	}
	if r.Working == nil || len(r.Working.Moves) == 0 {
		return "It gives nothing that is not known."
	}
	m := r.Working.Moves[0]
	return "It gives " + r.Working.Unknowns()[m.Gives].Words + " by itself."
}

func capital(s string) string {
	if s == "" {
		return s
	}
	r := []rune(s)
	return strings.ToUpper(string(r[0])) + string(r[1:])
}

// Picture shows the forces on the body about the place: those through it faded, the others with their distances.
func (p *Place) Picture(a *answer.Answers, o figure.Options) *draw.Picture {
	placed := p.Placed(a, o)
	return placed.Picture
}

// Placed is the same picture, with where things are on it.
func (p *Place) Placed(a *answer.Answers, o figure.Options) figure.Placed {
	o.View, o.Body, o.Pivot, o.PivotName = figure.Moment, p.Body, p.At, p.Name
	if len([]rune(p.Name)) > 3 {
		o.PivotName = "this point"
	}
	return figure.Place(a.Layout, o)
}
