package trial

import (
	"math"
	"slices"
	"strings"

	"steelyard/answer"
	"steelyard/draw"
	"steelyard/figure"
	"steelyard/statics"
)

// A Ghost is a body, with what is on it, a little later: turned about a point of the picture, or shifted.
type Ghost struct {
	Body  string     `json:"body"`
	Group string     `json:"group"` // ID of its group on the picture, at the end of the motion
	At    draw.Point `json:"at"`    // of the pivot
	Turn  float64    `json:"turn"`  // radians, clockwise on the page
	Shift draw.Point `json:"shift"`
}

// A Scene is a picture of an outcome: the arrangement solid, what was taken away set back, and where something moves,
// its bodies dashed, half way and at the end, with the sense of turning.
type Scene struct {
	Picture *draw.Picture
	Ghosts  []Ghost
	placed  figure.Placed
	by      draw.Point // how far all of it was shifted to make room
}

// At is where a point of a body, in metres, is on the picture.
func (s *Scene) At(body int, v statics.Vec) draw.Point {
	p := s.placed.At(body, v)
	return draw.Point{X: p.X + s.by.X, Y: p.Y + s.by.Y}
}

// Scale is in points for a metre.
func (s *Scene) Scale() float64 { return s.placed.Scale }

// How far ghosts go.
const (
	farthest = 0.14 // of the arrangement's size
	steepest = 0.16 // radians, that it turns at most
	least    = 28.0 // points, of what shifts
)

// Scene draws an outcome. The error says why the arrangement that it shows can't be laid out.
func (o *Outcome) Scene(opt figure.Options) (Scene, error) {
	q := Settled(o.Before)
	if o.Change.Deed != Away {
		if err := change(q, o.Change); err != nil {
			return Scene{}, err
		}
	}
	l, err := answer.Lay(q)
	if err != nil {
		return Scene{}, err
	}
	opt.View, opt.HideDistances = figure.Sketch, true
	placed := figure.Place(l, opt)
	p := *placed.Picture
	p.Marks = slices.Clone(p.Marks)
	if o.Change.Deed == Away {
		setBack(p.Marks, o.Change.Thing)
	}
	s := Scene{Picture: &p, placed: placed}
	p.Title = "What happens: " + strings.Join(o.Say, " ")
	if r := []rune(p.Title); len(r) > 250 {
		p.Title = string(r[:249]) + "…"
	}
	if o.Rests {
		return s, nil
	}
	p.Description = strings.Join(o.Say, " ") + " " + o.Needed + " In the picture the arrangement is drawn solid and its motion dashed, half way and at the end. " + p.Description
	s.Ghosts = o.ghosts(&placed)
	for i := range s.Ghosts {
		g := &s.Ghosts[i]
		marks := o.parts(placed.Picture.Marks, g.Body)
		p.Marks = append(p.Marks,
			draw.Group{ID: "half-" + g.Body, Class: "ghost half", Marks: g.moved(marks, 0.5)},
			draw.Group{ID: g.Group, Class: "ghost", Title: "the " + g.Body + ", a little later", Marks: g.moved(marks, 1)})
		if g.Turn != 0 {
			b := l.BodyIndex(g.Body)
			centre := placed.At(b, massOf(l, b).centre)
			p.Marks = append(p.Marks, draw.Group{ID: "sense-" + g.Body, Class: "sense", Marks: sense(&placed, g, o.start.loose[b], centre, max(opt.TextSize, 10))})
		}
	}
	s.makeRoom()
	return s, nil
}

// makeRoom lets the picture grow until the ghosts are on it.
func (s *Scene) makeRoom() {
	p := s.Picture
	low, high := draw.Point{}, draw.Point{X: p.Width, Y: p.Height}
	const edge = 3
	reach := func(marks []draw.Mark) {
		for _, m := range marks {
			switch m := m.(type) {
			case draw.Line:
				for _, q := range m.Points {
					low, high = draw.Point{X: min(low.X, q.X-edge), Y: min(low.Y, q.Y-edge)}, draw.Point{X: max(high.X, q.X+edge), Y: max(high.Y, q.Y+edge)}
				}
			case draw.Arc:
				r := m.Radius + edge
				low, high = draw.Point{X: min(low.X, m.Centre.X-r), Y: min(low.Y, m.Centre.Y-r)}, draw.Point{X: max(high.X, m.Centre.X+r), Y: max(high.Y, m.Centre.Y+r)}
			}
		}
	}
	for _, m := range p.Marks {
		if g, ok := m.(draw.Group); ok && (strings.HasPrefix(g.Class, "ghost") || g.Class == "sense") {
			reach(g.Marks)
		}
	}
	p.Width, p.Height = high.X-low.X, high.Y-low.Y
	if low == (draw.Point{}) {
		return
	}
	s.by = draw.Point{X: -low.X, Y: -low.Y}
	p.Marks = shifted(p.Marks, s.by)
	for i := range s.Ghosts {
		s.Ghosts[i].At.X -= low.X
		s.Ghosts[i].At.Y -= low.Y
	}
}

// shifted are marks moved across the picture.
func shifted(marks []draw.Mark, by draw.Point) []draw.Mark {
	to := func(p draw.Point) draw.Point { return draw.Point{X: p.X + by.X, Y: p.Y + by.Y} }
	out := make([]draw.Mark, len(marks))
	for i, m := range marks {
		switch m := m.(type) {
		case draw.Line:
			points := make([]draw.Point, len(m.Points))
			for j, p := range m.Points {
				points[j] = to(p)
			}
			m.Points = points
			out[i] = m
		case draw.Arc:
			m.Centre = to(m.Centre)
			out[i] = m
		case draw.Text:
			m.At = to(m.At)
			out[i] = m
		case draw.Group:
			m.Marks = shifted(m.Marks, by)
			out[i] = m
		}
	}
	return out
}

// ghosts works out how far each body goes on the picture. Rates are those of the motion, all for the same time.
func (o *Outcome) ghosts(placed *figure.Placed) (list []Ghost) {
	l, m := o.After.Layout, o.Motion
	if m == nil {
		return nil
	}
	size, fastest, turning := span(l), 0.0, 0.0
	for i, v := range m.Velocity {
		turning = max(turning, math.Abs(v.Turn))
		b := &l.Bodies[i]
		for _, p := range []statics.Vec{b.At(0), b.At(b.Length), b.Centre} {
			if u := v.At(p); !math.IsNaN(u.X + u.Y) {
				fastest = max(fastest, math.Hypot(u.X, u.Y))
			}
		}
	}
	if fastest == 0 {
		fastest = size * turning
	}
	time := farthest * size / max(fastest, 1e-12)
	if turning*time > steepest {
		time = steepest / turning
	}
	for _, mv := range answer.Moves(l, m) {
		i := l.BodyIndex(mv.Body)
		v := m.Velocity[i]
		g := Ghost{Body: mv.Body, Group: "ghost-" + mv.Body}
		if mv.Turns {
			g.At, g.Turn = placed.At(i, mv.Pivot), -v.Turn*time
		} else {
			g.Shift = draw.Point{X: v.X * time * placed.Scale, Y: -v.Y * time * placed.Scale}
			if n := math.Hypot(g.Shift.X, g.Shift.Y); n < least { // a small thing is not drawn to scale
				g.Shift = draw.Point{X: g.Shift.X * least / n, Y: g.Shift.Y * least / n}
			}
		}
		list = append(list, g)
	}
	return list
}

// parts are the marks of a body and of the loads on it.
func (o *Outcome) parts(marks []draw.Mark, body string) (list []draw.Mark) {
	ids := []string{"body-" + body}
	for i := range o.After.Layout.Loads {
		if d := &o.After.Layout.Loads[i]; o.After.Layout.Bodies[d.On].Name == body {
			ids = append(ids, "load-"+d.Name)
		}
	}
	for _, m := range marks {
		if g, ok := m.(draw.Group); ok && slices.Contains(ids, g.ID) {
			list = append(list, g.Marks...)
		}
	}
	return list
}

// to is where a point comes after a part of the motion.
func (g *Ghost) to(p draw.Point, part float64) draw.Point {
	if g.Turn == 0 {
		return draw.Point{X: p.X + part*g.Shift.X, Y: p.Y + part*g.Shift.Y}
	}
	sin, cos := math.Sincos(part * g.Turn)
	x, y := p.X-g.At.X, p.Y-g.At.Y
	return draw.Point{X: g.At.X + x*cos - y*sin, Y: g.At.Y + x*sin + y*cos}
}

// moved are outlines after a part of the motion, dashed and without words.
func (g *Ghost) moved(marks []draw.Mark, part float64) (list []draw.Mark) {
	dashed := draw.Style{Stroke: draw.Deep, Width: 0.8 + 0.5*part, Dash: []float64{4, 3}}
	if part < 1 {
		dashed.Dash = []float64{1.5, 3}
	}
	for _, m := range marks {
		switch m := m.(type) {
		case draw.Line:
			pts := make([]draw.Point, len(m.Points))
			for i, p := range m.Points {
				pts[i] = g.to(p, part)
			}
			list = append(list, draw.Line{Points: pts, Closed: m.Closed, Style: dashed})
		case draw.Arc:
			m.Centre, m.From, m.To, m.Style = g.to(m.Centre, part), m.From+part*g.Turn, m.To+part*g.Turn, dashed
			list = append(list, m)
		case draw.Group:
			list = append(list, g.moved(m.Marks, part)...)
		}
	}
	return list
}

// sense is an arrow about the pivot, the way that the body turns, clear of words where there is room; about the centre of
// mass where the pivot is not known for sure, or is off the picture.
func sense(placed *figure.Placed, g *Ghost, loose bool, centre draw.Point, size float64) []draw.Mark {
	p, at := placed.Picture, g.At
	off := loose || at.X < 0 || at.Y < 0 || at.X > p.Width || at.Y > p.Height
	if off {
		at = centre
	}
	ink := draw.Style{Stroke: draw.Second, Width: 1.6}
	arc := draw.Arc{Centre: at, Radius: 2.6 * size, From: -2.35, To: -0.8, Style: ink}
search:
	for _, radius := range []float64{2.6, 2, 3.4, 4.4} {
		for _, from := range []float64{-2.35, 0.8, 2.35, -0.77} { // above, below, at the left, at the right
			try := draw.Arc{Centre: at, Radius: radius * size, From: from, To: from + 1.55, Style: ink}
			clear := true
			for i := range 7 {
				clear = clear && placed.Clear(try.At(from+1.55*float64(i)/6), 0.5*size)
			}
			if clear {
				arc = try
				break search
			}
		}
	}
	end, way := arc.At(arc.To), arc.To+math.Pi/2
	if g.Turn < 0 {
		end, way = arc.At(arc.From), arc.From-math.Pi/2
	}
	head := func(turn float64) draw.Point {
		return draw.Point{X: end.X - 8*math.Cos(way+turn), Y: end.Y - 8*math.Sin(way+turn)}
	}
	arrow := []draw.Mark{arc, draw.Line{Points: []draw.Point{head(0.5), end, head(-0.5)}, Style: ink}}
	if off {
		return arrow
	}
	return append(arrow, draw.Arc{Centre: g.At, Radius: 2.2, To: 2 * math.Pi, Style: draw.Style{Stroke: draw.Second, Width: 1, Fill: draw.Second}})
}

// setBack makes a thing that is no longer there pale and dashed.
func setBack(marks []draw.Mark, thing string) {
	for i, m := range marks {
		if g, ok := m.(draw.Group); ok && (g.ID == "support-"+thing || g.ID == "load-"+thing || g.ID == "surface-"+thing) {
			g.Class += " gone"
			g.Marks = pale(g.Marks)
			marks[i] = g
		}
	}
}

// pale are marks in faint lines without filling.
func pale(marks []draw.Mark) []draw.Mark {
	out := make([]draw.Mark, len(marks))
	faint := func(s draw.Style) draw.Style {
		if s.Width > 0 {
			s.Stroke, s.Dash = draw.Faint, []float64{2, 2}
		}
		if s.Fill != draw.None {
			s.Fill = draw.Paper
		}
		return s
	}
	for i, m := range marks {
		switch m := m.(type) {
		case draw.Line:
			m.Style = faint(m.Style)
			out[i] = m
		case draw.Arc:
			m.Style = faint(m.Style)
			out[i] = m
		case draw.Text:
			m.Ink = draw.Grey
			out[i] = m
		case draw.Group:
			m.Marks = pale(m.Marks)
			out[i] = m
		default:
			out[i] = m
		}
	}
	return out
}
