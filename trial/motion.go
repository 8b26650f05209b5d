package trial

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"steelyard/answer"
	"steelyard/quantity"
	"steelyard/question"
	"steelyard/statics"
)

// The engine names the simplest motion that nothing prevents. That is what happens wherever one way alone is left, as
// about a hinge. Two things it leaves out, for which statics needs no more than it is given:
//
//   - A body that can move with all others held does move, whatever the engine's proof says of the others: the sum of
//     motions that no contact forbids is one that none forbids.
//   - A body that a single contact or cable holds, or none, goes where the forces on it drive its centre of mass. Which
//     way it turns follows too, in all but rare cases; how fast would need to be known how its mass is spread.
//
// What else depends on more than statics is told, in a sentence each, instead of being claimed.

// A start is how bodies start to move, and what of that statics does not settle.
type start struct {
	*statics.Motion
	loose []bool // of each body: drawn as though its mass were spread evenly
	open  []string
}

// begin refines the engine's motion.
func begin(l *answer.Layout, m *statics.Motion) *start {
	s := &start{Motion: m, loose: make([]bool, len(l.Bodies))}
	if m == nil || len(l.System.Unknowns) > 0 { // with a force that is not known there is nothing to add
		return s
	}
	s.Motion = together(l, m)
	for i := range l.Bodies {
		s.free(l, i)
	}
	s.doubts(l)
	return s
}

// together adds up how each body moves with all others held, where the engine's motion leaves one of these out.
func together(l *answer.Layout, m *statics.Motion) *statics.Motion {
	if len(l.Bodies) < 2 {
		return m
	}
	sum := &statics.Motion{Velocity: make([]statics.Velocity, len(l.Bodies))}
	missing := false
	for i := range l.Bodies {
		v, moves := alone(&l.System, i)
		if !moves {
			continue
		}
		sum.Velocity[i] = v
		w := m.Velocity[i]
		missing = missing || w == (statics.Velocity{}) || v.Turn*w.Turn < 0
	}
	if !missing {
		return m
	}
	sum.Opens, sum.Slides = parting(l, sum.Velocity)
	return sum
}

// alone is how body i moves if all the others are held where they are.
func alone(s *statics.System, i int) (statics.Velocity, bool) {
	t := statics.System{Bodies: 1}
	if i < len(s.Centres) {
		t.Centres = s.Centres[i : i+1]
	}
	for _, d := range s.Loads {
		if d.On == i {
			d.On = 0
			t.Loads = append(t.Loads, d)
		}
	}
	for _, j := range s.Joints {
		switch {
		case j.On == i:
			j.On, j.By = 0, statics.Ground
		case j.By == i:
			j.On, j.By, j.Normal = 0, statics.Ground, statics.Vec{X: -j.Normal.X, Y: -j.Normal.Y}
		default:
			continue
		}
		t.Joints = append(t.Joints, j)
	}
	sol, err := statics.Solve(&t)
	if err != nil || sol.Motion == nil {
		return statics.Velocity{}, false
	}
	return sol.Motion.Velocity[0], true
}

// relative is how fast a point of a joint moves on its body, against the other body.
func relative(v []statics.Velocity, j *statics.Joint, at statics.Vec) statics.Vec {
	var u statics.Vec
	if j.On >= 0 {
		u = v[j.On].At(at)
	}
	if j.By >= 0 {
		w := v[j.By].At(at)
		u = statics.Vec{X: u.X - w.X, Y: u.Y - w.Y}
	}
	return u
}

const dust = 1e-7

// parting lists the contacts and cables that open in a motion, and the contacts that slide.
func parting(l *answer.Layout, v []statics.Velocity) (opens, slides []int) {
	limit := dust * span(l)
	for i := range l.System.Joints {
		j := &l.System.Joints[i]
		if j.Kind != statics.Contact && j.Kind != statics.Face && j.Kind != statics.Pull {
			continue
		}
		rate := func(at statics.Vec) float64 {
			u := relative(v, j, at)
			return u.X*j.Normal.X + u.Y*j.Normal.Y
		}
		one, two := rate(j.At) > limit, j.Kind == statics.Face && rate(j.To) > limit
		if one || two {
			opens = append(opens, i)
		}
		u := relative(v, j, j.At)
		if along := u.X*j.Normal.Y - u.Y*j.Normal.X; j.Kind != statics.Pull && !(one && (two || j.Kind == statics.Contact)) && math.Abs(along) > limit {
			slides = append(slides, i)
		}
	}
	return opens, slides
}

// A hold is a direction in which a body is held at a point; Pushes only where it can be left.
type hold struct {
	at, way statics.Vec
	leaves  bool
}

// holds are what goes on holding body i while it moves; by tells whether another body that moves is among what holds it.
func (s *start) holds(l *answer.Layout, i int) (list []hold, by bool) {
	for k := range l.System.Joints {
		j := &l.System.Joints[k]
		if j.On != i && j.By != i {
			continue
		}
		for _, b := range []int{j.On, j.By} {
			by = by || b >= 0 && b != i && s.Velocity[b] != statics.Velocity{} && !slices.Contains(s.Opens, k)
		}
		n, t := j.Normal, statics.Vec{X: j.Normal.Y, Y: -j.Normal.X}
		if j.By == i {
			n = statics.Vec{X: -n.X, Y: -n.Y}
		}
		switch j.Kind {
		case statics.Hinge, statics.Clamp:
			list = append(list, hold{j.At, statics.Vec{X: 1}, false}, hold{j.At, statics.Vec{Y: 1}, false})
			if j.Kind == statics.Clamp {
				list = append(list, hold{j.At, statics.Vec{}, false})
			}
		case statics.Couple:
			list = append(list, hold{j.At, statics.Vec{}, false})
		case statics.Rod:
			list = append(list, hold{j.At, n, false})
		default:
			ends := []statics.Vec{j.At}
			if j.Kind == statics.Face {
				ends = append(ends, j.To)
			}
			if slices.Contains(s.Opens, k) {
				if j.Kind != statics.Face {
					continue
				}
				ends = slices.DeleteFunc(ends, func(at statics.Vec) bool { return s.lifts(l, j, at) })
			}
			for _, at := range ends {
				list = append(list, hold{at, n, true})
			}
			if len(ends) > 0 && (j.Mu > 0 || math.IsNaN(j.Mu)) {
				list = append(list, hold{ends[0], t, true})
			}
		}
	}
	return list, by
}

// A mass is how a body and the weights on it are spread: their size as a weight, their centre and their second moment
// about it, as though the body were even along its length and the weights were points.
type mass struct {
	weight float64
	centre statics.Vec
	second float64
	others bool // forces or couples act that are not weights
}

func massOf(l *answer.Layout, i int) mass {
	b := &l.Bodies[i]
	middle := b.Centre
	if math.IsNaN(middle.X + middle.Y) {
		middle = b.At(b.Length / 2)
	}
	size := b.Length*b.Length + b.Height*b.Height
	if size == 0 {
		size = span(l) * span(l)
	}
	type point struct {
		at     statics.Vec
		weight float64
	}
	var points []point
	var m mass
	add := func(at statics.Vec, w float64) {
		if !math.IsNaN(at.X+at.Y+w) && w > 0 {
			points = append(points, point{at, w})
			m.weight += w
			m.centre.X += w * at.X
			m.centre.Y += w * at.Y
		}
	}
	add(middle, b.Weight)
	for k := range l.Loads {
		d := &l.Loads[k]
		if d.On != i {
			continue
		}
		if d.Kind == question.Weight || d.Kind == question.Spread {
			add(d.At, -d.Force.Y)
		} else {
			m.others = true
		}
	}
	if m.weight == 0 {
		return mass{1, middle, size / 12, m.others}
	}
	m.centre.X /= m.weight
	m.centre.Y /= m.weight
	for _, p := range points {
		m.second += p.weight * apart(p.at, m.centre) * apart(p.at, m.centre)
	}
	m.second += max(b.Weight, 0) * size / 12
	return m
}

// free lets a body that one contact or cable holds, or none, go where the forces drive it, by Gauss's principle.
//
// Source: the equations of plane motion, OpenStax University Physics vol. 1, §10.7 (from memory).
func (s *start) free(l *answer.Layout, i int) {
	list, by := s.holds(l, i)
	v := s.Velocity[i]
	turns := math.Abs(v.Turn)*span(l) > dust*math.Hypot(v.X, v.Y)
	if v == (statics.Velocity{}) || by || len(list) > 1 || len(list) == 1 && (turns || list[0].way == statics.Vec{}) {
		return
	}
	m := massOf(l, i)
	var f statics.Vec
	turn := 0.0
	for _, d := range l.System.Loads {
		if d.On == i {
			f = statics.Vec{X: f.X + d.Force.X, Y: f.Y + d.Force.Y}
			turn += d.Couple + statics.Moment(m.centre, d.At, d.Force)
		}
	}
	a, alpha := statics.Vec{X: f.X / m.weight, Y: f.Y / m.weight}, 0.0
	if m.second > 0 {
		alpha = turn / m.second
	}
	if len(list) == 1 {
		h := list[0]
		arm := statics.Moment(m.centre, h.at, h.way)
		into := a.X*h.way.X + a.Y*h.way.Y + alpha*arm
		if into < 0 || !h.leaves {
			share := 1 / m.weight
			if m.second > 0 {
				share += arm * arm / m.second
			}
			push := -into / share
			a = statics.Vec{X: a.X + push*h.way.X/m.weight, Y: a.Y + push*h.way.Y/m.weight}
			if m.second > 0 {
				alpha += push * arm / m.second
			}
		}
	}
	if math.Abs(alpha)*span(l) < dust*math.Hypot(a.X, a.Y) {
		alpha = 0
	}
	size := math.Abs(alpha)
	if size == 0 {
		size = math.Hypot(a.X, a.Y)
	}
	if !(size > 0) || math.IsInf(size, 0) {
		return
	}
	moved := *s.Motion
	moved.Velocity = slices.Clone(moved.Velocity)
	moved.Velocity[i] = statics.Velocity{X: clean((a.X + alpha*m.centre.Y) / size), Y: clean((a.Y - alpha*m.centre.X) / size), Turn: alpha / size}
	moved.Opens, moved.Slides = parting(l, moved.Velocity)
	s.Motion, s.loose[i] = &moved, alpha != 0
}

func clean(v float64) float64 {
	if math.Abs(v) < 1e-12 {
		return 0
	}
	return v
}

// doubts says what statics leaves open of a motion.
func (s *start) doubts(l *answer.Layout) {
	say := func(format string, v ...any) {
		if text := fmt.Sprintf(format, v...); !slices.Contains(s.open, text) {
			s.open = append(s.open, text)
		}
	}
	moving := 0
	for i := range l.Bodies {
		v := s.Velocity[i]
		if v == (statics.Velocity{}) {
			continue
		}
		moving++
		name, m := capital(called(l, i)), massOf(l, i)
		list, by := s.holds(l, i)
		turns := math.Abs(v.Turn)*span(l) > dust*math.Hypot(v.X, v.Y)
		rough := s.rough(l, i, say)
		switch {
		case s.loose[i]:
			say("How fast it turns as it goes depends on how its mass is spread; it is drawn as though that were even.")
		case turns && len(list) == 1 && !rough && (m.others || math.Abs(list[0].way.X) > dust):
			say("About which point it turns at the very first depends on how its mass is spread; this is the simplest.")
		case !turns && by && len(list) < 3:
			say("Whether %s turns as well depends on how its mass is spread.", called(l, i))
		case !turns && s.onFace(l, i, m.others):
			say("%s may tip as it slides, if what drives it or holds it back acts far from its centre of mass.", name)
		}
	}
	s.leaning(l, say)
	if moving > 1 {
		say("How fast each of them goes, statics does not tell.")
	}
}

// leaning tells of bodies at rest that would not be without what moves.
func (s *start) leaning(l *answer.Layout, say func(string, ...any)) {
	still := func(b int) bool { return b < 0 || s.Velocity[b] == statics.Velocity{} }
	for i := range l.Bodies {
		if !still(i) {
			continue
		}
		without, lost := l.System, false
		without.Joints = slices.DeleteFunc(slices.Clone(l.System.Joints), func(j statics.Joint) bool {
			gone := (j.On == i || j.By == i) && !(still(j.On) && still(j.By))
			lost = lost || gone
			return gone
		})
		if !lost {
			continue
		}
		if _, moves := alone(&without, i); moves {
			say("%s leans on what moves, so it may go too; how, statics alone does not tell.", capital(called(l, i)))
		}
	}
}

// rough says what is not known where a body stays on a rough surface as it moves.
func (s *start) rough(l *answer.Layout, i int, say func(string, ...any)) (any bool) {
	for k := range l.Supports {
		p := &l.Supports[k]
		mu := l.System.Joints[p.Joint].Mu
		if p.On != i && p.By != i || p.Joint >= len(l.System.Joints) || !(mu > 0) && !math.IsNaN(mu) || slices.Contains(s.Opens, p.Joint) && !s.halfOpen(l, p.Joint) {
			continue
		}
		if slices.Contains(s.Slides, p.Joint) {
			continue
		}
		any = true
		if math.IsInf(mu, 1) {
			say("%s is taken to be rough enough not to slip.", p.Name)
			continue
		}
		say("Whether %s slips as well depends on the friction there and on how the mass is spread. If it does, %s still turns the same way, but about another point.", p.Name, called(l, i))
	}
	return any
}

// halfOpen says whether a face is lifted at one end only.
func (s *start) halfOpen(l *answer.Layout, k int) bool {
	j := &l.System.Joints[k]
	if j.Kind != statics.Face {
		return false
	}
	return s.lifts(l, j, j.At) != s.lifts(l, j, j.To)
}

// lifts says whether a contact parts at a point.
func (s *start) lifts(l *answer.Layout, j *statics.Joint, at statics.Vec) bool {
	u := relative(s.Velocity, j, at)
	return u.X*j.Normal.X+u.Y*j.Normal.Y > dust*span(l)
}

// onFace says whether a body slides on a face that is rough, or pushed by more than weights.
func (s *start) onFace(l *answer.Layout, i int, pushed bool) bool {
	for k := range l.System.Joints {
		if j := &l.System.Joints[k]; j.Kind == statics.Face && (j.On == i || j.By == i) && (pushed || j.Mu > 0) && !slices.Contains(s.Opens, k) {
			return true
		}
	}
	return false
}

// words say how the bodies start to move: "The plank turns clockwise about Q."
func (s *start) words(l *answer.Layout) string {
	var list []string
	for _, mv := range answer.Moves(l, s.Motion) {
		i := bodyAt(l, mv.Body)
		name := called(l, i)
		switch {
		case mv.Turns && s.loose[i]:
			centre := massOf(l, i).centre
			v := s.Velocity[i].At(centre)
			if math.Hypot(v.X, v.Y) < dust*span(l) {
				list = append(list, name+" turns "+mv.Sense+" about its centre of mass")
			} else {
				list = append(list, name+" "+s.heads(l, i, v)+", turning "+mv.Sense+" as it goes")
			}
		case mv.Turns && mv.About != "":
			list = append(list, name+" turns "+mv.Sense+" about "+mv.About)
		case mv.Turns:
			list = append(list, name+" turns "+mv.Sense+" about "+pointWords(l, i, mv.Pivot))
		default:
			list = append(list, name+" "+s.heads(l, i, mv.Heads))
		}
	}
	if len(list) == 0 {
		return "It moves."
	}
	return capital(strings.Join(list, " and ")) + "."
}

// heads is a verb and a direction.
func (s *start) heads(l *answer.Layout, i int, v statics.Vec) string {
	size := math.Hypot(v.X, v.Y)
	list, _ := s.holds(l, i)
	switch {
	case math.Abs(v.X) < dust*size && v.Y < 0:
		return "falls"
	case math.Abs(v.X) < dust*size:
		return "rises"
	}
	verb := "moves off "
	if len(list) > 0 {
		verb = "slides "
		if s.byPull(l, i, list[0]) {
			verb = "swings "
		}
		if s.loose[i] { // the angle depends on how the mass is spread
			way := "down to the "
			if v.Y > 0 {
				way = "up to the "
			}
			if v.X > 0 {
				return verb + way + "right"
			}
			return verb + way + "left"
		}
	}
	return verb + strings.TrimPrefix(answer.Direction(v.X, v.Y, 3), "at ")
}

// byPull says whether what holds a body is a cable.
func (s *start) byPull(l *answer.Layout, i int, h hold) bool {
	return slices.ContainsFunc(l.System.Joints, func(j statics.Joint) bool {
		return (j.Kind == statics.Pull || j.Kind == statics.Rod) && (j.On == i || j.By == i) && j.At == h.at
	})
}

// pointWords is where a point without a name is, from a support of the body: "the point 3.60 m above F".
func pointWords(l *answer.Layout, i int, p statics.Vec) string {
	from, at := "the left end of "+called(l, i), l.Bodies[i].At(0)
	best := math.Inf(1)
	near := 1e-6 * span(l)
	for k := range l.Supports {
		s := &l.Supports[k]
		if s.On != i && s.By != i {
			continue
		}
		far := apart(s.At, p)
		if math.Abs(s.At.X-p.X) > near && math.Abs(s.At.Y-p.Y) > near {
			far += 1e6 * span(l) // straight above or beside it is easier to find
		}
		if far < best {
			best, from, at = far, s.Name, s.At
		}
	}
	metre := quantity.SIUnit(quantity.Length)
	part := func(v float64, positive, negative string) string {
		if math.Abs(v) <= near {
			return ""
		}
		if v < 0 {
			positive = negative
		}
		return Written(math.Abs(v), metre) + " " + positive
	}
	across, up := part(p.X-at.X, "to the right of", "to the left of"), part(p.Y-at.Y, "above", "below")
	switch {
	case across == "" && up == "":
		return from
	case across == "":
		return "the point " + up + " " + from
	case up == "":
		return "the point " + across + " " + from
	}
	return "the point " + across + " " + from + " and " + up + " it"
}

func bodyAt(l *answer.Layout, name string) int {
	return slices.IndexFunc(l.Bodies, func(b answer.Body) bool { return b.Name == name })
}
