package trial

import (
	"encoding/json"
	"math"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"steelyard/chart"
	"steelyard/draw"
	"steelyard/quantity"
	"steelyard/trial"
)

// vary gives a number another value, and draws the forces against it once they are shown.
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
		s.fail(err)
		return
	}
	s.Outcome = o
	if !s.Shown { // how it moves is not given away
		s.scene(&trial.Outcome{Change: o.Change, Before: o.Before, After: o.After, Rests: true})
		return
	}
	s.scene(o)
	if s.Curve, err = k.curve(s.Number); err != nil {
		s.fail(err)
	}
}

// name is the number in an address.
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

// ghosts are what moves, for the script; "" for nothing.
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

// graph and bars are pictures of the forces.
func (s *sight) graph() string {
	return string(draw.SVG(s.Curve.Picture(s.Value, chart.Options{ID: "graph", Width: 400, TextSize: textSize})))
}

func (s *sight) bars() string {
	return string(draw.SVG(chart.Sizes(s.Curve.Forces(s.Value), s.Curve.Greatest(), "N", chart.Options{ID: "bars", Width: 340, TextSize: textSize})))
}

// to is the address of a file of the graph.
func (s *sight) to(file string) string {
	q := url.Values{"see": {whatIf}, "number": {s.name()}, "was": {s.name()}, "value": {s.inUnit(s.Value)}, "shown": {"yes"}}
	return s.here() + "/" + file + "?" + q.Encode()
}
