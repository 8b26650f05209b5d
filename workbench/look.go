package workbench

import (
	"errors"
	"math"
	"slices"

	"steelyard/answer"
	"steelyard/draw"
	"steelyard/figure"
	"steelyard/quantity"
	"steelyard/question"
	"steelyard/statics"
)

// Options say how a question is shown.
type Options struct {
	Width    float64 // of the picture, in points; 0 is 560
	TextSize float64 // 0 is 13
	Scale    float64 // points for a metre, held while something is dragged; 0 is what fits
	ID       string  // put before the ids in the picture

	// Quick leaves out what is found by trying many arrangements (limits of an angle, a coefficient that is enough), so
	// that a step of dragging takes no longer than a picture on the screen lasts.
	Quick bool
}

// A State says which of the four kinds of answer an arrangement has; "" is none, where it can't be worked out.
type State string

const (
	Unique   State = "unique"
	NotFixed State = "not-fixed"
	Moves    State = "moves"
	AtLimit  State = "at-limit"
)

// A Force is what a named thing exerts, in words.
type Force struct {
	Name  string
	Words string // "P on plank: 455 N up"
	Range bool   // equilibrium fixes only between which values it lies
}

// An Asked is the answer to a part.
type Asked struct {
	Part, Asked, Shown string
	Wording            string
	Marks              int
	None               bool // there is no such answer
	Later              bool // left out of a quick look
}

// A View is what a page shows of a question at once, while something is dragged too. Where the text can't be read only
// Faults are there; where it can be read but not worked out, what can be drawn is.
type View struct {
	Faults   question.Faults
	Question *question.Question
	Answers  *answer.Answers // nil if there are none
	Tidy     string          // the text in the standard form

	Picture *draw.Picture // nil if nothing can be drawn
	Scale   float64       // points for a metre
	Origin  draw.Point    // where the origin of the plane is on the picture
	Handles []Handle
	Things  []Thing

	State   State
	Later   bool     // nothing is judged in this quick look
	Verdict string   // in a sentence
	Details []string // how it moves, what is about to give
	Forces  []Force
	Asked   []Asked
}

// A Handle is where a thing is taken hold of on the picture, and how it moves.
type Handle struct {
	Thing string     `json:"thing"`
	What  string     `json:"what"`
	Of    string     `json:"of"`   // the thing that is chosen with it
	Label string     `json:"name"` // for a screen reader
	Says  string     `json:"says"` // where it is, in words
	X     float64    `json:"x"`    // on the picture, in points
	Y     float64    `json:"y"`
	Moves int        `json:"moves"` // how many numbers follow: 0, 1 or 2
	Now   [2]float64 `json:"now"`   // metres
	Low   [2]float64 `json:"low"`
	High  [2]float64 `json:"high"`
	Step  float64    `json:"step"`
	Fine  float64    `json:"fine"`
	U     [2]float64 `json:"u"` // on the picture, points for a metre of the first number
	V     [2]float64 `json:"v"` // of the second
}

// Look reads a question and works out what is quick to work out.
func Look(text string, o Options) *View {
	v := &View{}
	q, err := question.Parse("", text)
	if err != nil {
		v.Faults = faults(err)
		return v
	}
	v.Question, v.Tidy = q, q.String()
	d, err := open(text)
	if err == nil {
		v.Things = d.things()
	}
	var l *answer.Layout
	solved, left := q, map[string]bool(nil)
	if o.Quick {
		solved, left = hurried(q)
	}
	if solved == nil {
		v.Later = true
		if l, err = lean(q); err != nil {
			v.Faults = faults(err)
			return v
		}
		v.draw(l, o)
		return v
	}
	a, err := answer.Solve(solved)
	if err != nil {
		v.Faults = faults(err)
		if l, err = lean(q); err != nil {
			return v
		}
	} else {
		v.Answers, l = a, a.Layout
		v.judge(left)
	}
	v.draw(l, o)
	return v
}

// lean lays a question out whose angle is not known yet; a sketch shows such an angle at a guess in any case.
func lean(q *question.Question) (*answer.Layout, error) {
	guess := func(v *question.Value, degrees float64) {
		if v.Status == question.Unknown {
			*v = question.Value{Quantity: quantity.Of(degrees*math.Pi/180, quantity.SIUnit(quantity.Angle)), Status: question.Given}
		}
	}
	c := q.Clone()
	for i := range c.Bodies {
		guess(&c.Bodies[i].Angle, 50)
	}
	for i := range c.Supports {
		guess(&c.Supports[i].Angle, 20)
	}
	l, err := answer.Lay(c)
	if err != nil {
		return nil, err
	}
	l.Question = q // words come from the question itself, in which the unknown stays unknown
	for i := range l.Bodies {
		l.Bodies[i].Body = &q.Bodies[i]
	}
	for i := range l.Supports {
		l.Supports[i].Support = &q.Supports[i]
	}
	for i := range l.Loads {
		l.Loads[i].Load = &q.Loads[i]
	}
	return l, nil
}

// hurried is a question without the parts that take long, and their names; nil where the arrangement itself is found
// by such a part.
func hurried(q *question.Question) (*question.Question, map[string]bool) {
	for i := range q.Bodies {
		if q.Bodies[i].Angle.Status == question.Unknown {
			return nil, nil
		}
	}
	for i := range q.Supports {
		if s := &q.Supports[i]; s.Angle.Status == question.Unknown || s.Mu.Status == question.Unknown {
			return nil, nil
		}
	}
	left := map[string]bool{}
	for i := range q.Parts {
		if p := &q.Parts[i]; p.OfAngle || p.Ask == question.AskLeastCoefficient || p.Ask == question.AskAngle {
			left[p.Name] = true
		}
	}
	if len(left) == 0 {
		return q, nil
	}
	c := q.Clone()
	c.Parts = slices.DeleteFunc(c.Parts, func(p question.Part) bool { return left[p.Name] })
	return c, left
}

func faults(err error) question.Faults {
	if f, ok := errors.AsType[question.Faults](err); ok {
		return f
	}
	return question.Faults{{What: err.Error()}}
}

// judge puts the state, the forces and the answers into words.
func (v *View) judge(left map[string]bool) {
	a, q := v.Answers, v.Question
	switch a.State {
	case statics.Unique:
		v.State, v.Verdict = Unique, "It stays at rest, and equilibrium fixes every force."
	case statics.NotFixed:
		v.State, v.Verdict = NotFixed, "It stays at rest, but equilibrium does not fix every force: each lies between the values shown."
	case statics.Limit:
		v.State, v.Verdict = AtLimit, "It stays at rest, but only just."
	case statics.NoEquilibrium:
		v.State, v.Verdict = Moves, "It does not stay at rest."
		v.Details = append(v.Details, answer.MotionInWords(a.Layout, a.Solution.Motion))
	}
	v.Details = append(v.Details, answer.GivingInWords(a.Layout, a.Solution.Giving)...)
	v.Details = append(v.Details, a.Warnings...)
	for _, f := range a.Forces {
		v.Forces = append(v.Forces, Force{Name: f.Name, Words: answer.ForceInWords(a, f), Range: f.Spans != nil})
	}
	results := a.Results
	for i := range q.Parts {
		p := &q.Parts[i]
		if left[p.Name] {
			v.Asked = append(v.Asked, Asked{Part: p.Name, Asked: q.Asked(p), Wording: question.PartWording(q, *p), Marks: p.Marks, Later: true})
			continue
		}
		r := &results[0]
		results = results[1:]
		v.Asked = append(v.Asked, Asked{Part: r.Part.Name, Asked: q.Asked(r.Part), Shown: r.Shown, Wording: question.PartWording(q, *r.Part),
			Marks: r.Part.Marks, None: math.IsNaN(r.Value) && r.Part.Ask != question.AskWhether && r.Part.Ask != question.AskDirection})
	}
}

// draw draws the picture and puts handles on it.
func (v *View) draw(l *answer.Layout, o Options) {
	if !(o.Width > 0) {
		o.Width = 560
	}
	if !(o.TextSize > 0) {
		o.TextSize = 13
	}
	p := figure.Place(l, figure.Options{Width: o.Width, TextSize: o.TextSize, Scale: o.Scale, ID: o.ID})
	v.Picture, v.Scale, v.Origin = p.Picture, p.Scale, p.At(statics.Ground, statics.Vec{})
	h := handler{v: v, p: &p, l: p.Layout, size: o.TextSize}
	for _, g := range grips(v.Question) {
		h.add(g)
	}
}

// A handler puts handles onto a picture.
type handler struct {
	v    *View
	p    *figure.Placed
	l    *answer.Layout
	size float64
}

// apart is how far handles keep from each other, in points: targets of 24 by 24 don't meet.
const apart = 25

func (h *handler) add(g grip) {
	at, off, ok := h.where(g)
	for _, n := range []float64{at.X, at.Y, g.now, g.up, g.low[0], g.low[1], g.high[0], g.high[1], g.step, g.fine} {
		ok = ok && finite(n)
	}
	if !ok {
		return
	}
	q := h.v.Question
	x := Handle{Thing: g.thing, What: g.what, Of: g.of, Label: g.label(q), Says: g.says(q), Step: g.step, Fine: g.fine,
		Now: [2]float64{g.now, g.up}, Low: g.low, High: g.high}
	if x.Of == "" {
		x.Of = g.thing
	}
	k := h.p.Scale
	axis := statics.Vec{X: 1}
	if b := h.l.BodyNamed(g.body); b != nil && finite(b.Axis.X) {
		axis = b.Axis
	}
	across1 := [2]float64{k * axis.X, -k * axis.Y}
	across2 := [2]float64{-k * axis.Y, -k * axis.X}
	switch g.way {
	case along:
		x.Moves, x.U = 1, across1
		if b := q.Body(g.body); b != nil && b.ZeroRight && g.what != "length" {
			x.U = [2]float64{-across1[0], -across1[1]}
		}
	case across:
		x.Moves, x.U = 1, across2
	case onBody:
		x.Moves, x.U, x.V = 2, across1, across2
	case inPlane:
		x.Moves, x.U, x.V = 2, [2]float64{k, 0}, [2]float64{0, -k}
	}
	spot := h.spot(at, off)
	x.X, x.Y = math.Round(spot.X*10)/10, math.Round(spot.Y*10)/10
	h.v.Handles = append(h.v.Handles, x)
}

// ring is how large a handle is drawn, in points.
const ring = 7.5

// spot is where a handle stands: beside its place, clear of other handles and, if there is room, of labels.
func (h *handler) spot(at, off draw.Point) draw.Point {
	n := math.Hypot(off.X, off.Y)
	way := draw.Point{Y: 1}
	if n > 0 {
		way = draw.Point{X: off.X / n, Y: off.Y / n}
	}
	by := func(k float64) draw.Point { return draw.Point{X: at.X + k*way.X, Y: at.Y + k*way.Y} }
	for _, k := range []float64{n, n + 0.5*apart, 0.5 * n, 0, n + apart, -n, n + 1.5*apart} {
		if p := by(k); h.clear(p) && h.p.Clear(p, ring) {
			return p
		}
	}
	for i := range 24 { // anywhere near
		sin, cos := math.Sincos(float64(i%8) * math.Pi / 4)
		k := apart * float64(1+i/8)
		if p := (draw.Point{X: at.X + k*cos, Y: at.Y + k*sin}); h.clear(p) {
			return p
		}
	}
	return by(n)
}

func (h *handler) clear(p draw.Point) bool {
	for i := range h.v.Handles {
		if o := &h.v.Handles[i]; math.Hypot(o.X-p.X, o.Y-p.Y) < apart {
			return false
		}
	}
	return true
}

// where is the place of a grip on the picture, and which way from it its handle stands: under what holds, above what
// loads, so that both can be taken hold of where they meet.
func (h *handler) where(g grip) (at, off draw.Point, ok bool) {
	l, q := h.l, h.v.Question
	below, above := draw.Point{Y: 1.6 * h.size}, draw.Point{Y: -1.8 * h.size}
	switch {
	case q.Body(g.thing) != nil:
		return h.onBody(g)
	case q.Support(g.thing) != nil:
		s := l.SupportNamed(g.thing)
		if s == nil {
			return at, off, false
		}
		if g.what == "far" {
			body := statics.Ground
			if s.By >= 0 {
				body = s.By
			}
			return h.p.At(body, s.Far), draw.Point{}, s.HasFar
		}
		n := s.Normal
		if off = (draw.Point{X: -1.6 * h.size * n.X, Y: 1.6 * h.size * n.Y}); !finite(off.X) || n == (statics.Vec{}) || isLine(s.Kind) {
			off = below
		}
		if isLine(s.Kind) {
			off = draw.Point{}
		}
		return h.p.At(s.On, s.At), off, true
	case q.Load(g.thing) != nil:
		d := l.LoadNamed(g.thing)
		if d == nil {
			return at, off, false
		}
		p := d.At
		switch g.what {
		case "from":
			p = d.From
		case "to":
			p = d.To
		}
		if d.Hung {
			return h.p.At(d.On, p), draw.Point{Y: -above.Y}, true
		}
		return h.p.At(d.On, p), above, true
	case q.Point(g.thing) != nil:
		a := q.Point(g.thing)
		p := l.Point(a.Place)
		if a.Place.Body == "" && a.Place.XY != nil {
			p = statics.Vec{X: a.Place.XY.X.SI(), Y: a.Place.XY.Y.SI()}
		}
		return h.p.At(h.number(a.Place.Body), p), draw.Point{}, true
	}
	return at, off, false
}

func (h *handler) number(body string) int {
	for i := range h.l.Bodies {
		if h.l.Bodies[i].Name == body {
			return i
		}
	}
	return statics.Ground
}

// onBody is where the grips of a body are: its length at its end, its height in the middle of its top.
func (h *handler) onBody(g grip) (at, off draw.Point, ok bool) {
	b := h.l.BodyNamed(g.thing)
	if b == nil {
		return at, off, false
	}
	i := h.number(g.thing)
	out := func(x, y float64) draw.Point {
		return draw.Point{X: x*b.Axis.X - y*b.Axis.Y, Y: -(x*b.Axis.Y + y*b.Axis.X)}
	}
	plane := func(x, y float64) statics.Vec {
		return statics.Vec{X: b.Origin.X + x*b.Axis.X - y*b.Axis.Y, Y: b.Origin.Y + x*b.Axis.Y + y*b.Axis.X}
	}
	switch g.what {
	case "length":
		return h.p.At(i, plane(b.Length, b.Height/2)), out(h.size, 0), true
	case "height":
		return h.p.At(i, plane(b.Length/2, b.Height)), out(0, h.size), true
	case "centre":
		return h.p.At(i, plane(b.FromZero(g.now), b.Height/2)), draw.Point{}, true
	case "placed":
		return h.p.At(i, b.Origin), out(-h.size, 0), true
	}
	w, t := extentOf(b.Body), tall(b.Body)
	return h.p.At(i, plane(w/2, t/2)), draw.Point{}, true
}

// SVG is the picture.
func (v *View) SVG() []byte {
	if v.Picture == nil {
		return nil
	}
	return draw.SVG(v.Picture)
}

// Unit is the unit that the question's lengths are written in.
func (v *View) Unit() string {
	if v.Question == nil {
		return "m"
	}
	u, _ := lengthUnit(v.Question, "")
	return u.Symbol
}
