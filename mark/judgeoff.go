package mark

import (
	"math"
	"strings"

	"steelyard/quantity"
	"steelyard/question"
	"steelyard/statics"
)

// A fault is one term that differs from the true equation.
type fault struct {
	col  int
	kind faultKind
	has  float64 // the factor that stands there
	want float64
}

type faultKind uint8

const (
	otherFactor faultKind = iota
	otherSense
	missing
	extra
)

// explain compares a wrong line, term by term, with the true equation that fits it best, and names the term that
// is off. rest is what the line is off by at the true values.
func (w *working) explain(j *Judged, s *scene, g []float64, rest float64, t *trial) {
	var best *natural
	bestScale, score := 0.0, 0.9
	about, named := s.find(w.about)
	constant := w.constant(s, g, rest)
	for n := range s.natural {
		e := &s.natural[n]
		for i := range len(g) + 2 {
			scale := 1.0
			switch {
			case i == len(g):
			case i == len(g)+1:
				scale = -1
			case g[i] == 0 || e.row[i] == 0 || s.cols[i].kind == angleOf, s.cols[i].isForce() && s.placed(g, i): // its distance is what is sought
				continue
			default:
				scale = g[i] / e.row[i]
			}
			x := 0.0
			list := s.faults(e, g, scale, constant)
			if len(list) > 4 {
				continue
			}
			for _, f := range list {
				if f.kind == missing && !s.cols[f.col].known {
					x -= 2.6
				} else if f.kind == missing {
					x -= 1.1
				} else {
					x -= 1.2
				}
			}
			grouped := false
			if len(list) > 1 && e.turns && s.plainScale(scale) {
				if name, _ := s.together(e, list, scale); name != "" {
					grouped = true
					x = -0.4
					if len(list) > 2 || name == "arms-exchanged" {
						x = 0.4
					}
				}
			}
			matched := 0
			for k := range g {
				if g[k] != 0 && e.row[k] != 0 && near(g[k], e.row[k]*scale) && g[k]*e.row[k]*scale > 0 {
					matched++
				}
			}
			x += 1.6 * float64(matched)
			if !s.plainScale(scale) {
				x -= 1.5
			}
			if s.plainScale(scale) {
				x += 0.7
			}
			if named && e.turns && math.Hypot(e.at.X-about.at.X, e.at.Y-about.at.Y) < 1e-9 {
				x += 1.5
			}
			if e.turns && s.isSupport(e.at) {
				x += 0.3
			}
			if len(list) == 0 {
				x -= 0.8
			}
			if matched == 0 && !grouped {
				continue
			}
			if len(list) == 0 && matched < 2 || len(list) > 1 && x < 1.9 && !grouped {
				continue
			}
			if x > score {
				best, bestScale, score = e, scale, x
			}
		}
	}
	if best == nil {
		return
	}
	j.Means = best.means
	w.explainWith(j, s, g, best, bestScale, constant)
}

// isSupport reports whether a support acts at a point.
func (s *scene) isSupport(at statics.Vec) bool {
	for i := range s.l.Supports {
		if p := s.l.Supports[i].At; math.Hypot(p.X-at.X, p.Y-at.Y) < 1e-9 {
			return true
		}
	}
	return false
}

// plainScale reports whether a line is the true equation itself, not a multiple, but for units.
func (s *scene) plainScale(v float64) bool {
	v = math.Abs(v)
	for _, k := range [...]float64{1, 100, 1000, 0.001, 1 / s.l.Field} {
		if near(v, k) {
			return true
		}
	}
	return false
}

// constant is what stands in the line beside the forces: numbers already worked out.
func (w *working) constant(s *scene, g []float64, rest float64) float64 {
	sum := 0.0
	for i := range g {
		if s.cols[i].isForce() {
			sum += g[i] * s.cols[i].value
		}
	}
	return rest - sum
}

// placed reports whether the place of the force in column i is a name in the line.
func (s *scene) placed(g []float64, i int) bool {
	return i+1 < len(s.cols) && s.cols[i+1].kind == placeOf && s.cols[i+1].force == i && g[i+1] != 0
}

// faults lists the terms of a line that differ from a true equation times scale.
func (s *scene) faults(e *natural, g []float64, scale, constant float64) []fault {
	var list []fault
	most := 0.0
	for i := range g {
		if s.cols[i].isForce() {
			most = max(most, math.Abs(e.row[i]*scale*s.cols[i].value), math.Abs(g[i]*s.cols[i].value))
		}
	}
	for i := range g {
		c := &s.cols[i]
		if !c.isForce() || s.placed(g, i) {
			continue
		}
		want := e.row[i] * scale
		switch {
		case g[i] == 0 && want == 0:
		case g[i] == 0:
			if math.Abs(want*c.value) > 0.01*most && math.Abs(constant) < 0.01*most {
				list = append(list, fault{i, missing, 0, want})
			}
		case want == 0:
			if math.Abs(g[i]*c.value) > 0.005*most {
				list = append(list, fault{i, extra, g[i], 0})
			}
		case near(g[i], want) && g[i]*want < 0:
			list = append(list, fault{i, otherSense, g[i], want})
		case !near(g[i], want):
			list = append(list, fault{i, otherFactor, g[i], want})
		}
	}
	return list
}

func (w *working) explainAs(j *Judged, s *scene, g []float64, e *natural, scale float64) {
	w.explainWith(j, s, g, e, scale, 0)
}

// explainWith names what is off, and the slip that would do it.
func (w *working) explainWith(j *Judged, s *scene, g []float64, e *natural, scale, constant float64) {
	list := s.faults(e, g, scale, constant)
	if len(list) == 0 {
		j.Off = "the terms belong together, but a number in it is off"
		return
	}
	if len(list) > 3 && !e.turns || len(list) > 4 {
		return
	}
	if len(list) > 1 && e.turns {
		if name, off := s.together(e, list, scale); name != "" {
			w.blame(j, name, "", off)
			return
		}
	}
	var words []string
	for k, f := range list {
		if k == 2 || len(list) > 3 {
			break
		}
		name, off := s.one(e, f, scale)
		words = append(words, off)
		if k == 0 {
			w.blame(j, name, s.cols[f.col].words, "")
		}
	}
	j.Off = strings.Join(words, "; ")
}

// blame notes a slip, if it is one that can be made in this question.
func (w *working) blame(j *Judged, name, of, off string) {
	if off != "" {
		j.Off = off
	}
	if name == "" || w.k.Plan == nil {
		return
	}
	for i := range w.k.Plan.Cases {
		c := &w.k.Plan.Cases[i]
		if c.Slip.Name != name {
			continue
		}
		if j.Slip == "" {
			j.Slip = name
			if of == "" {
				j.Of = c.Of
			}
		}
		if of != "" && c.Of == of {
			j.Of = c.Of
			return
		}
	}
}

// together names a slip that changes several terms at once.
func (s *scene) together(e *natural, list []fault, scale float64) (name, off string) {
	fromEnd, turned := 0, 0
	same := ""
	for k, f := range list {
		n := ""
		if f.kind == otherFactor {
			n, _ = s.factorSlip(&s.cols[f.col], math.Abs(f.has/f.want), scale)
		}
		if k > 0 && n != same {
			n = ""
		}
		same = n
		if n == "" && k == 0 {
			same = "-"
		}
		if f.kind == otherSense {
			turned++
		}
		if f.kind == otherFactor && s.from(e, f, scale) == "the left end" {
			fromEnd++
		}
	}
	if len(list) == 2 && list[0].kind == otherFactor && list[1].kind == otherFactor &&
		near(list[0].has, list[1].want) && near(list[0].want, list[1].has) {
		return "arms-exchanged", "the distances of " + s.cols[list[0].col].words + " and " + s.cols[list[1].col].words + " are exchanged"
	}
	switch {
	case fromEnd == len(list):
		return "all-from-the-end", "the distances are measured from the left end, not from " + pivotName(e)
	case turned == len(list):
		return "all-turn-one-way", "the moments are added as if all turned the same way about " + pivotName(e)
	case same == "one-slant-length":
		return "slant-lengths", "the distances are along the body, not perpendicular to the forces"
	case same == "one-mass-as-force":
		return "mass-as-force", "masses stand where weights should"
	case same == "sine-for-cosine":
		return "sine-for-cosine", "sine and cosine are exchanged"
	}
	return "", ""
}

func pivotName(e *natural) string { return strings.TrimPrefix(cutFor(e.means), "moments about ") }

func cutFor(s string) string {
	if i := strings.Index(s, " for the "); i > 0 {
		return s[:i]
	}
	return s
}

// from is the point that a wrong distance is measured from; "" if none fits.
func (s *scene) from(e *natural, f fault, scale float64) string {
	c := &s.cols[f.col]
	arm := math.Abs(f.has / scale)
	b := &s.l.Bodies[c.on]
	if b.Level() && near(arm, math.Abs(c.at.X-b.Origin.X)*math.Abs(c.way.Y)) {
		return "the left end"
	}
	for _, p := range s.points {
		if math.Hypot(p.at.X-e.at.X, p.at.Y-e.at.Y) < 1e-9 {
			continue
		}
		d := math.Abs((c.at.X-p.at.X)*c.way.Y - (c.at.Y-p.at.Y)*c.way.X)
		if d > 1e-9 && near(arm, d) {
			return p.name
		}
	}
	return ""
}

// one names the slip behind one term, and says what is off.
func (s *scene) one(e *natural, f fault, scale float64) (name, off string) {
	c := &s.cols[f.col]
	what := c.words
	if c.known {
		what = quantity.Format(c.value, s.unit[quantity.Force], 3) + " of " + strings.TrimPrefix(what, "the weight of ")
		if c.kind == weightOf {
			what = "the " + what
		}
	}
	pivot := pivotName(e)
	if !e.turns {
		return s.oneOfBalance(e, f, c)
	}
	own := c.kind == weightOf && s.l.BodyNamed(c.name) != nil
	switch f.kind {
	case missing:
		switch {
		case own:
			return "weight-left-out-of-moments", c.words + " is left out: it has a moment about " + pivot
		case c.kind == weightOf || c.kind == pushOf:
			return "load-left-out-of-moments", c.words + " is left out: it has a moment about " + pivot
		case c.kind == turnOf:
			return "", c.words + " is left out"
		}
		if strings.Contains(pivot, "middle") || strings.Contains(pivot, "centre") {
			return "other-push-forgotten-middle", c.words + " is left out: it has a moment about " + pivot
		}
		return "other-push-forgotten-end", c.words + " is left out: it has a moment about " + pivot
	case extra:
		return "pivot-force-given-moment", c.words + " has no moment about " + pivot + ": its line passes through that point"
	case otherSense:
		return "turned-the-wrong-way", "the moment of " + c.words + " turns the other way about " + pivot
	}
	ratio := math.Abs(f.has / f.want)
	// A weight in newtons is g times its mass in kilograms, or g/1000 times that in grams.
	if g := s.l.Field / s.perMass(); near(ratio, g) && (near(math.Abs(scale), 1/g) || near(math.Abs(scale), s.perLength()/g)) {
		if name, off := s.massesBeside(e, f.col); name != "" {
			return name, off
		}
	}
	if name, off := s.factorSlip(c, ratio, scale); name != "" {
		return name, off
	}
	from := s.from(e, f, scale)
	arm := quantity.Format(math.Abs(f.want/scale), s.unit[quantity.Length], 3)
	said := quantity.Format(math.Abs(f.has/scale), s.unit[quantity.Length], 3)
	b := &s.l.Bodies[c.on]
	support := c.kind >= reactionOf
	switch {
	case support && b.Length > 0 && near(f.has/scale, b.Length):
		return "length-for-span", "the distance of " + c.words + " from " + pivot + " is " + arm + ", not the whole length"
	case support && from == "the left end":
		return "mark-for-span", "the distance of " + c.words + " is measured from the left end, not from " + pivot
	case own && b.Uniform && from != "" && strings.HasPrefix(from, "the right end"):
		return "counted-from-other-end", "the distance of " + what + " is measured from " + from + ", not from " + pivot
	case own && b.Uniform && near(f.has/scale, b.Length):
		return "weight-at-far-end", "the weight acts at the middle, " + arm + " from " + pivot + ", not at the far end"
	case from == "the left end":
		return "one-from-the-end", "the distance of " + what + " is measured from the left end, not from " + pivot
	case from != "":
		name = "gap-to-neighbour"
		if s.l.SupportNamed(from) != nil {
			name = "arm-to-other-support"
		}
		return name, "the distance of " + what + " is measured from " + from + ", not from " + pivot
	case own && s.midway(e, f, scale):
		return "midway-between-supports", "the weight acts at the middle of the " + plainName(b.Label, b.Name) + ", " + arm + " from " + pivot + ", not midway between the supports"
	}
	return "", "the distance of " + what + " from " + pivot + " is " + arm + ", not " + said
}

// midway reports whether a weight was put midway between two supports.
func (s *scene) midway(e *natural, f fault, scale float64) bool {
	for i := range s.l.Supports {
		for k := range i {
			m := (s.l.Supports[i].At.X + s.l.Supports[k].At.X) / 2
			if near(f.has/scale, m-e.at.X) {
				return true
			}
		}
	}
	return false
}

// massesBeside names the slip when one term of an equation is right as a force, and every other is a mass. A line whose
// other terms agree only after division by g looks as if the one were multiplied by it.
func (s *scene) massesBeside(e *natural, right int) (name, off string) {
	var masses []string
	for i := range s.cols {
		c := &s.cols[i]
		switch {
		case i == right || !c.isForce() || e.row[i] == 0 || math.Abs(c.value) < 1e-6*s.largest:
		case c.mass == 0:
			return "", ""
		default:
			masses = append(masses, quantity.Format(c.mass, s.unit[quantity.Mass], 3))
		}
	}
	switch len(masses) {
	case 0:
		return "", ""
	case 1:
		return "one-mass-as-force", masses[0] + " is a mass: it stands where a weight should"
	}
	return "mass-as-force", "masses stand where weights should: " + strings.Join(masses, ", ")
}

// factorSlip names a slip that multiplies a term: a mass for a weight, a lost power of ten, sine for cosine.
func (s *scene) factorSlip(c *column, ratio, scale float64) (name, off string) {
	g := s.l.Field
	switch {
	case c.mass != 0 && (near(ratio, 1/g) || near(ratio, s.perMass()/g)):
		return "one-mass-as-force", "a mass of " + quantity.Format(c.mass, s.unit[quantity.Mass], 3) + " stands where its weight should"
	case near(ratio, g):
		return "times-g-again", c.words + " is multiplied by g, although it is a weight already"
	case near(ratio, 100) || near(ratio, 0.01) || near(ratio, 1000) || near(ratio, 0.001):
		return "length-not-converted", "a distance is in other units than the rest"
	}
	for _, a := range s.degrees {
		sin, cos := math.Abs(math.Sin(a*radian)), math.Abs(math.Cos(a*radian))
		switch {
		case near(ratio, cos/sin) && !near(cos, sin), near(ratio, sin/cos) && !near(cos, sin):
			return "sine-for-cosine", "sine and cosine are exchanged for " + c.words
		case near(ratio, 1/sin), near(ratio, 1/cos):
			if c.kind >= reactionOf || c.kind == pushOf {
				return "whole-force-turns", "all of " + c.words + " is taken, not its component at right angles"
			}
			return "one-slant-length", "the distance to " + c.words + " is along the body, not perpendicular"
		}
	}
	return "", ""
}

// oneOfBalance names a term that is off in a balance of forces.
func (s *scene) oneOfBalance(e *natural, f fault, c *column) (name, off string) {
	switch f.kind {
	case missing:
		name = "missing-from-balance"
		if p := s.l.SupportNamed(c.name); p != nil && p.Kind == question.Cable {
			name = "cable-out-of-balance"
		}
		return name, c.words + " is left out of the balance"
	case extra:
		return "", c.words + " has no part in the " + cutFor(e.means)
	case otherSense:
		return "added-not-subtracted", c.words + " is counted the wrong way"
	}
	name, off = s.factorSlip(c, math.Abs(f.has/f.want), 1)
	if name == "whole-force-turns" || name == "one-slant-length" {
		return "whole-tension-in-balance", "all of " + c.words + " is taken, not its component"
	}
	if name == "" {
		off = "the part of " + c.words + " is wrong"
	}
	return name, off
}

// stillPushes names the slip of letting a support push that has just been left, at a limit: in the value that a line
// gives, or as a number or a name in it. It reports whether that is what is wrong.
func (w *working) stillPushes(j *Judged, s *scene) bool {
	for i := range s.cols {
		c := &s.cols[i]
		if !s.limit || c.kind != reactionOf && c.kind != normalOf || math.Abs(c.value) > 1e-6*s.largest {
			continue
		}
		key := s.key(i)
		v, ok := w.own[key]
		found := j.Finds == key && math.Abs(j.Value) > 1e-6*s.largest
		for k := range w.c.leaves {
			lf := &w.c.leaves[k]
			found = found || ok && v != 0 && lf.name < 0 && near(lf.typed, v) && !strings.Contains(j.Finds, key)
		}
		if found {
			w.blame(j, "both-still-push", c.words, "at the limit "+c.words+" is zero")
			return true
		}
	}
	return false
}

// bySlips looks for the one slip whose own wrong value a wrong line gives.
func (w *working) bySlips(j *Judged) {
	if j.Finds == "" || math.IsNaN(j.Value) || w.part == nil || w.k.Plan == nil || j.Finds != w.k.Sought(w.part) {
		return
	}
	found := -1
	for i := range w.k.outcomes {
		o := &w.k.outcomes[i]
		for s := range w.k.Plan.Slots {
			slot := &w.k.Plan.Slots[s]
			if slot.Part != w.part.Name || !o.Cases[0].Touches[s] || math.IsNaN(o.Values[s]) || near(o.Values[s], slot.Right) {
				continue
			}
			if math.Abs(math.Abs(o.Values[s])-math.Abs(j.Value)) <= 0.006*math.Abs(j.Value) {
				if found >= 0 && found != i {
					return
				}
				found = i
			}
		}
	}
	if found >= 0 {
		o := &w.k.outcomes[found]
		j.Slip, j.Of = o.Cases[0].Slip.Name, o.Cases[0].Of
	}
}
