package workbench

import (
	"math"

	"steelyard/quantity"
	"steelyard/question"
)

// A way is how a grip moves.
type way uint8

const (
	still   way = iota // it can be chosen, but not moved: its place is unknown, or follows from others
	along              // one number, along a body
	across             // the same at right angles to a body's axis: the height of a block
	onBody             // two numbers, in the axes of a body
	inPlane            // two numbers, across and up
)

// A grip is what can be taken hold of, and the numbers that follow. Of a place by a word ("right end") x is nil.
type grip struct {
	thing, what string // "P", "at": as an edit names it
	of          string // the thing that is chosen with it: of a named point, what stands there
	way         way
	body        string // that it moves along or on
	line        int    // of its statement
	x, y        *question.Value
	now, up     float64 // metres; of a distance along a body from the zero of its scale
	low, high   [2]float64
	step, fine  float64
}

// grips lists what can be moved in a question, or at least chosen.
func grips(q *question.Question) []grip {
	var list []grip
	for i := range q.Bodies {
		list = append(list, bodyGrips(q, &q.Bodies[i])...)
	}
	for i := range q.Supports {
		s := &q.Supports[i]
		g := placeGrip(q, s.Name, "at", s.Span.Line, &s.On)
		if s.By.Body != "" && s.By.At.Known() && !s.On.At.Known() && !isLine(s.Kind) {
			g = placeGrip(q, s.Name, "by", s.Span.Line, &s.By) // what rests by its end slides on the other body
		}
		list = append(list, g)
		if !isLine(s.Kind) {
			continue
		}
		switch {
		case s.ToPoint != "" && q.Point(s.ToPoint) != nil:
			p := q.Point(s.ToPoint)
			f := placeGrip(q, p.Name, "at", p.Span.Line, &p.Place)
			f.of = s.Name
			list = append(list, f)
		case s.To != nil:
			list = append(list, planeGrip(q, grip{thing: s.Name, what: "far", line: s.Span.Line}, s.To))
		case s.By.Set():
			list = append(list, placeGrip(q, s.Name, "far", s.Span.Line, &s.By))
		}
	}
	for i := range q.Loads {
		l := &q.Loads[i]
		if l.Kind == question.Spread {
			list = append(list, placeGrip(q, l.Name, "from", l.Span.Line, &l.On), placeGrip(q, l.Name, "to", l.Span.Line, &l.To))
			continue
		}
		list = append(list, placeGrip(q, l.Name, "at", l.Span.Line, &l.On))
	}
	return once(list)
}

// once leaves out a second grip on the same number, as where two cables end at one named point.
func once(list []grip) []grip {
	var out []grip
	seen := map[[2]string]bool{}
	for _, g := range list {
		if k := [2]string{g.thing, g.what}; !seen[k] {
			seen[k] = true
			out = append(out, g)
		}
	}
	return out
}

func isLine(k question.Kind) bool {
	return k == question.Cable || k == question.Strut || k == question.Link
}

func bodyGrips(q *question.Question, b *question.Body) []grip {
	var list []grip
	base := grip{thing: b.Name, body: b.Name, line: b.Span.Line}
	if b.Length.Known() && b.Shape != question.Frame {
		g := base
		g.what, g.way, g.x, g.now = "length", along, &b.Length, b.Length.SI()
		g.step = stepFor(g.now, b.Length.Unit, b.Length.Decimals)
		g.low[0], g.high[0] = math.Max(furthest(q, b), g.step), 3*g.now
		list = append(list, g)
	}
	if b.Shape == question.Block && b.Height.Known() {
		g := base
		g.what, g.way, g.x, g.now = "height", across, &b.Height, b.Height.SI()
		g.step = stepFor(g.now, b.Height.Unit, b.Height.Decimals)
		g.low[0], g.high[0] = math.Max(tallest(q, b), g.step), 3*g.now
		list = append(list, g)
	}
	if b.Centre.At.Known() {
		list = append(list, placeGrip(q, b.Name, "centre", b.Span.Line, &question.Place{Body: b.Name, At: b.Centre.At}))
	}
	if b.At != nil {
		list = append(list, planeGrip(q, grip{thing: b.Name, what: "placed", line: b.Span.Line}, b.At))
	}
	if len(list) == 0 {
		g := base
		g.what = "body"
		list = append(list, g)
	}
	for i := range list {
		list[i].fine = fineFor(math.Max(list[i].step, 1e-9))
	}
	return list
}

// placeGrip is the grip of a place on a body.
func placeGrip(q *question.Question, thing, what string, line int, p *question.Place) grip {
	if a := q.Point(p.Point); p.Point != "" {
		if a == nil {
			return grip{thing: thing, what: what, line: line}
		}
		g := placeGrip(q, a.Name, "at", a.Span.Line, &a.Place)
		g.of = thing
		return g
	}
	g := grip{thing: thing, what: what, line: line, body: p.Body}
	b := q.Body(p.Body)
	if b == nil {
		if p.XY != nil {
			return planeGrip(q, g, p.XY)
		}
		return g
	}
	length := extentOf(b)
	unit, decimals := lengthUnit(q, b.Name)
	switch {
	case p.XY != nil:
		g.way, g.x, g.y, g.now, g.up = onBody, &p.XY.X, &p.XY.Y, p.XY.X.SI(), p.XY.Y.SI()
		g.low, g.high = [2]float64{math.Min(0, g.now), math.Min(0, g.up)}, [2]float64{math.Max(length, g.now), math.Max(tall(b), g.up)}
		g.step = stepFor(math.Max(length, tall(b)), p.XY.X.Unit, max(p.XY.X.Decimals, p.XY.Y.Decimals))
		if g.low == g.high {
			g.way = still // a body that is only a point
		}
	case p.At.Known():
		g.way, g.x, g.now, g.high[0] = along, &p.At, p.At.SI(), length
		g.step = stepFor(length, p.At.Unit, p.At.Decimals)
	case p.End != question.NoEnd && b.Length.Known():
		g.way, g.high[0] = along, length
		g.now = map[question.End]float64{question.Right: length, question.Middle: length / 2}[p.End]
		if b.ZeroRight {
			g.now = quantity.Snap(length - g.now)
		}
		g.step = stepFor(length, unit, decimals)
	}
	g.fine = fineFor(math.Max(g.step, 1e-9))
	return g
}

// planeGrip is the grip of a point of the plane.
func planeGrip(q *question.Question, g grip, xy *question.XY) grip {
	g.way, g.x, g.y, g.now, g.up = inPlane, &xy.X, &xy.Y, xy.X.SI(), xy.Y.SI()
	size := math.Max(math.Abs(g.now), math.Abs(g.up))
	for i := range q.Bodies {
		size = math.Max(size, math.Max(extentOf(&q.Bodies[i]), tall(&q.Bodies[i])))
	}
	g.low, g.high = [2]float64{-2 * size, -2 * size}, [2]float64{2 * size, 2 * size}
	u, d := xy.X.Unit, max(xy.X.Decimals, xy.Y.Decimals)
	if xy.X.Digits == "0" && xy.X.Decimals == 0 {
		u = xy.Y.Unit
	}
	g.step = stepFor(size, u, d)
	g.fine = fineFor(g.step)
	return g
}

// extentOf is how long a body is along its axis, in metres.
func extentOf(b *question.Body) float64 {
	if b.Length.Known() {
		return b.Length.SI()
	}
	x := 0.0
	for i := range b.Pieces {
		c := &b.Pieces[i]
		x = max(x, c.From.X.SI()+math.Max(c.Width.SI(), 0), c.To.X.SI(), c.Third.X.SI())
	}
	return x
}

// tall is how high a body is at right angles to its axis, in metres.
func tall(b *question.Body) float64 {
	if b.Height.Known() {
		return b.Height.SI()
	}
	y := 0.0
	for i := range b.Pieces {
		c := &b.Pieces[i]
		y = max(y, c.From.Y.SI()+math.Max(c.Height.SI(), 0), c.To.Y.SI(), c.Third.Y.SI())
	}
	return y
}

// furthest is how far from the zero of its scale the last thing on a body is: it can't be made shorter.
func furthest(q *question.Question, b *question.Body) float64 {
	far := 0.0
	if b.Centre.At.Known() {
		far = b.Centre.At.SI()
	}
	eachPlace(q, func(p *question.Place) {
		switch {
		case p.Body != b.Name:
		case p.At.Known():
			far = max(far, p.At.SI())
		case p.XY != nil:
			far = max(far, p.XY.X.SI())
		}
	})
	return far
}

func tallest(q *question.Question, b *question.Body) float64 {
	far := 0.0
	eachPlace(q, func(p *question.Place) {
		if p.Body == b.Name && p.XY != nil {
			far = max(far, p.XY.Y.SI())
		}
	})
	return far
}

func eachPlace(q *question.Question, do func(*question.Place)) {
	for i := range q.Points {
		do(&q.Points[i].Place)
	}
	for i := range q.Supports {
		do(&q.Supports[i].On)
		do(&q.Supports[i].By)
	}
	for i := range q.Loads {
		do(&q.Loads[i].On)
		do(&q.Loads[i].To)
	}
}

// gripOf finds the grip that an edit names.
func gripOf(q *question.Question, thing, what string) (grip, error) {
	var known bool
	for _, g := range grips(q) {
		if g.thing == thing && (g.what == what || what == "") {
			return g, nil
		}
		known = known || g.thing == thing
	}
	if !known {
		return grip{}, refuse("there is no "+thing+" here to move", "choose something on the drawing")
	}
	return grip{}, refuse(thing+" can't be moved in that way", "change it in the notation")
}
