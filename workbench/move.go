package workbench

import (
	"math"
	"strings"

	"steelyard/quantity"
	"steelyard/question"
)

// A Snap says to which grid a move keeps.
type Snap uint8

const (
	Exactly Snap = iota // to where it is asked for, rounded to a millionth of a unit
	Stepped             // to the steps of the handle
	Finely              // to its fine steps
)

// Move puts a thing somewhere else. What says which of its numbers follow ("at", "from", "to", "far", "by", "length",
// "height", "centre", "placed"; "" is the first). Of a place along a body, x is its distance in metres from the zero of
// the body's scale; of a point, x and y are its coordinates. Where a handle ends, the move ends.
func Move(text, thing, what string, x, y float64, s Snap) (Change, error) {
	d, err := open(text)
	if err != nil {
		return Change{}, err
	}
	g, err := gripOf(d.q, thing, what)
	if err != nil {
		return Change{}, err
	}
	return d.move(g, x, y, s)
}

// Step moves a thing by so many of its handle's steps, ordinary or fine ones, to the right or up where they are positive.
// Of a number that is no place, such as a weight or an angle, it makes more or less.
func Step(text, thing, what string, across, up int, fine bool) (Change, error) {
	d, err := open(text)
	if err != nil {
		return Change{}, err
	}
	g, err := gripOf(d.q, thing, what)
	if err != nil {
		if v := d.q.Value(thing, what); v != nil {
			return d.nudge(thing, what, across, fine)
		}
		return Change{}, err
	}
	step := g.step
	if fine {
		step = g.fine
	}
	x, y := g.now+float64(across)*step, g.up+float64(up)*step
	return d.move(g, quantity.Snap(x), quantity.Snap(y), Exactly)
}

func (d *draft) move(g grip, x, y float64, s Snap) (Change, error) {
	if g.way == still {
		return Change{}, refuse("the place of "+g.thing+" is not given, so it can't be moved", "give it a place first")
	}
	if !finite(x) || !finite(y) || math.Abs(x) > 1e6 || math.Abs(y) > 1e6 {
		return Change{}, refuse("that is no place", "give a distance in metres")
	}
	grid := map[Snap]float64{Stepped: g.step, Finely: g.fine}[s]
	if x = snap(x, grid); s == Exactly {
		x = quantity.Snap(x)
	}
	if y = snap(y, grid); s == Exactly {
		y = quantity.Snap(y)
	}
	x = min(max(x, g.low[0]), g.high[0])
	if g.way == onBody || g.way == inPlane {
		y = min(max(y, g.low[1]), g.high[1])
	}
	switch {
	case g.way == onBody || g.way == inPlane:
		d.renumberPoint(g, x, y)
	case g.x != nil:
		d.put(g.x.Span, renumber(d.at(g.x.Span), g.x.Quantity, x))
	default:
		u, n := lengthUnit(d.q, g.body)
		one := quantity.Quantity{Unit: u, Decimals: n}
		if err := d.place(g.thing, g.what, renumber("0 "+u.Symbol, one, x)); err != nil {
			return Change{}, err
		}
	}
	c, err := d.done("")
	if err != nil {
		return c, err
	}
	q, err := question.Parse("", c.Text)
	if err != nil {
		return Change{}, unread(err, "")
	}
	if moved, err := gripOf(q, g.thing, g.what); err == nil {
		c.Said = thingName(q, g.thing) + ": " + moved.says(q)
	}
	return c, nil
}

// renumberPoint writes both coordinates; a bare 0 takes the unit and the decimals of the other one.
func (d *draft) renumberPoint(g grip, x, y float64) {
	write := func(v, other *question.Value, si float64) string {
		old, was := d.at(v.Span), v.Quantity
		if si == v.SI() {
			return old
		}
		if was.Value == 0 && was.Decimals == 0 && other.Decimals > 0 {
			was.Decimals, was.Unit = other.Decimals, other.Unit
			old = "0" + unitOf(d.at(other.Span))
		}
		return renumber(old, was, si)
	}
	first, second := write(g.x, g.y, x), write(g.y, g.x, y)
	d.put(g.y.Span, second) // the later one first: columns before it stay
	d.put(g.x.Span, first)
}

// place writes another place into a statement.
func (d *draft) place(thing, what, place string) error {
	place = strings.TrimSpace(place)
	line, words := 0, []string{"on", "hung from"}
	body := ""
	switch q := d.q; {
	case q.Support(thing) != nil:
		s := q.Support(thing)
		line, body = s.Span.Line, s.On.Body
		if what == "by" || what == "far" {
			words, body = []string{"by", "to", "from"}, s.By.Body
		}
	case q.Load(thing) != nil:
		l := q.Load(thing)
		line, body = l.Span.Line, l.On.Body
	case q.Point(thing) != nil:
		p := q.Point(thing)
		line, body, words = p.Span.Line, p.Place.Body, []string{"on", "at"}
	case q.Body(thing) != nil && what == "centre":
		line, words = q.Body(thing).Span.Line, []string{"centre of mass", "center of mass"}
	default:
		return refuse("there is no "+thing+" here", "choose something on the drawing")
	}
	s := cut(d.lines[line-1])
	i := s.find(words...)
	if i < 0 {
		return refuse("the place of "+thing+" can't be found on its line", "change it in the notation")
	}
	old := s.text(i)
	word := words[0]
	for _, w := range words {
		if strings.HasPrefix(old, w+" ") {
			word = w
		}
	}
	switch what {
	case "centre":
		d.lines[line-1] = s.with(i, word+" at "+place)
	case "from", "to":
		head, rest, _ := strings.Cut(old, " from ")
		k := strings.LastIndex(rest, " to ")
		if k < 0 {
			return refuse("the ends of "+thing+" can't be found on its line", "change them in the notation")
		}
		a, b := rest[:k], rest[k+len(" to "):]
		if what == "from" {
			a = place
		} else {
			b = place
		}
		d.lines[line-1] = s.with(i, head+" from "+a+" to "+b)
	default:
		if body == "" {
			d.lines[line-1] = s.with(i, "at "+place)
			return nil
		}
		d.lines[line-1] = s.with(i, word+" "+body+" at "+place)
	}
	return nil
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
