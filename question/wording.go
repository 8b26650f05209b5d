package question

import (
	"math"
	"strings"

	"steelyard/quantity"
)

// Wording returns the wording of a question, a paragraph each: the author's own with its
// placeholders filled in, or one written from the arrangement. Quantities are set as in print
// (see quantity.Typeset). Values that are unknown are not given away.
func Wording(q *Question) []string {
	if len(q.Text) == 0 {
		return []string{quantity.Typeset(q.stem())}
	}
	var out []string
	for _, t := range q.Text {
		out = append(out, quantity.Typeset(q.Fill(t)))
	}
	return out
}

// Fill puts the numbers of the arrangement into the placeholders of a text, plainly written.
func (q *Question) Fill(text string) string {
	if strings.IndexByte(text, '{') < 0 {
		return text
	}
	var b strings.Builder
	for {
		before, rest, open := strings.Cut(text, "{")
		b.WriteString(before)
		if !open {
			return b.String()
		}
		hole, after, _ := strings.Cut(rest, "}")
		text = after
		if hole == "g" {
			b.WriteString(q.fieldText())
			continue
		}
		thing, attribute, _ := strings.Cut(hole, ".")
		if v := q.Value(thing, attribute); v != nil && v.Known() {
			b.WriteString(v.Quantity.String())
		} else {
			b.WriteString("{" + hole + "}")
		}
	}
}

// FieldStrength returns g as the question has it, 9.81 N/kg where no line gives it.
func (q *Question) FieldStrength() quantity.Quantity {
	if q.Field.Known() {
		return q.Field.Quantity
	}
	g, _ := quantity.Parse("9.81 N/kg", quantity.Field, quantity.Unit{})
	return g
}

func (q *Question) fieldText() string { return q.FieldStrength().String() }

// NeedsField reports whether g is needed to work the question out: a mass stands where a weight
// acts, or one is asked for.
func (q *Question) NeedsField() bool {
	masses, weights := false, false
	see := func(mass, weight Value) {
		masses = masses || mass.Status != Absent
		weights = weights || weight.Status != Absent
	}
	for i := range q.Bodies {
		b := &q.Bodies[i]
		see(b.Mass, b.Weight)
		for j := range b.Pieces {
			see(b.Pieces[j].Mass, b.Pieces[j].Weight)
			masses = masses || b.Pieces[j].Density.Status != Absent
		}
	}
	forces := false
	for i := range q.Loads {
		l := &q.Loads[i]
		see(l.Mass, l.Weight)
		masses = masses || l.Size.Unit.Dimension == quantity.LineDensity
		forces = forces || l.Size.Known() && l.Size.Unit.Dimension != quantity.LineDensity
	}
	for i := range q.Supports {
		forces = forces || q.Supports[i].Reading.Known()
	}
	for i := range q.Parts {
		switch a := &q.Parts[i]; a.Ask {
		case AskMass:
			if weights || forces {
				return true
			}
		case AskWeight, AskForce, AskAcross, AskUpright, AskNormal, AskFriction, AskForceOn, AskCouple, AskSize, AskMoment, AskTotalMoment, AskResultant, AskGreatest, AskLeast:
			if masses && !(a.OfAngle) {
				return true
			}
		}
	}
	return masses && (weights || forces)
}

// stem writes the wording from the arrangement.
func (q *Question) stem() string {
	w := &stem{q: q}
	for i := range q.Bodies {
		w.body(&q.Bodies[i])
	}
	for i := range q.Supports {
		if s := &q.Supports[i]; s.By.Body != "" {
			w.joint(s)
		}
	}
	for i := range q.Supports {
		w.friction(&q.Supports[i])
	}
	for i := range q.Loads {
		w.load(&q.Loads[i])
	}
	for _, c := range q.Conditions {
		w.condition(c)
	}
	if q.NeedsField() {
		w.say("take g = " + q.fieldText())
	}
	return strings.Join(w.sentences, " ")
}

// A stem is the wording as it grows.
type stem struct {
	q         *Question
	sentences []string
}

func (w *stem) say(parts ...string) {
	s := strings.TrimSpace(strings.Join(parts, ""))
	if s != "" {
		w.sentences = append(w.sentences, capital(s)+".")
	}
}

// body describes a body and what holds it to the surroundings.
func (w *stem) body(b *Body) {
	if b.Shape == Frame {
		w.frame(b)
	}
	held := w.holders(b)
	intro := introduce(b)
	if b.Shape == Frame {
		intro = b.the()
	}
	switch {
	case b.particle() && len(held) == 0:
		w.say(indefinite("small "+b.noun()), pieceWeight(&b.Pieces[0]), " is in equilibrium")
	case b.particle():
		w.say(indefinite("small "+b.noun()), pieceWeight(&b.Pieces[0]), " ", held[0])
		held = held[1:]
	case len(held) > 0:
		w.say(intro, " ", held[0])
		held = held[1:]
	case b.Shape != Frame:
		w.say(plainIntroduction(b))
	}
	for _, h := range held {
		w.say("it ", h)
	}
	w.centre(b)
	w.stance(b)
	for i := range w.q.Supports {
		if s := &w.q.Supports[i]; s.On.Body == b.Name && s.By.Body == "" {
			w.line(s, b)
		}
	}
}

// introduce names a body with what is known of it: "a uniform plank, 4.80 m long and of weight
// 310 N,".
func introduce(b *Body) string {
	s := indefinite(adjectives(b) + b.noun())
	facts := bodyFacts(b)
	if len(facts) == 0 {
		return s
	}
	return s + ", " + list(facts, "and") + ","
}

func adjectives(b *Body) string {
	switch {
	case b.Light:
		return "light "
	case b.Uniform:
		return "uniform "
	}
	return ""
}

func bodyFacts(b *Body) []string {
	var f []string
	switch {
	case b.Shape == Block && b.Length.Known() && b.Height.Known():
		f = append(f, b.Length.Quantity.String()+" wide", b.Height.Quantity.String()+" high")
	case b.Length.Known():
		f = append(f, b.Length.Quantity.String()+" long")
	}
	switch {
	case b.Weight.Known():
		f = append(f, "of weight "+b.Weight.Quantity.String())
	case b.Mass.Known():
		f = append(f, "of mass "+b.Mass.Quantity.String())
	}
	return f
}

// plainIntroduction is a sentence of its own: "a uniform beam is 3.00 m long and has a weight of 240 N".
func plainIntroduction(b *Body) string {
	s := indefinite(adjectives(b)+b.noun()) + " is "
	switch {
	case b.Shape == Block && b.Length.Known() && b.Height.Known():
		s += b.Length.Quantity.String() + " wide and " + b.Height.Quantity.String() + " high"
	case b.Length.Known():
		s += b.Length.Quantity.String() + " long"
	default:
		s += "in equilibrium"
	}
	switch {
	case b.Weight.Known():
		s += " and has a weight of " + b.Weight.Quantity.String()
	case b.Mass.Known():
		s += " and has a mass of " + b.Mass.Quantity.String()
	}
	return s
}

func (w *stem) centre(b *Body) {
	if b.Shape == Frame && !b.Centre.Set() || b.Light || b.Uniform {
		return
	}
	switch {
	case b.Centre.At.Status == Unknown:
		w.say(b.the(), " is not uniform")
	case b.Centre.Set():
		p := b.Centre
		p.Body = b.Name
		w.say("its centre of mass is ", w.q.where(p, "its"))
	}
}

// stance says how a body lies where the sentences about what holds it do not.
func (w *stem) stance(b *Body) {
	switch {
	case b.Shape == Block && b.Angle.Status == Absent, b.Shape == Frame && b.Angle.Status == Absent:
	case b.Shape == Frame && b.Angle.Status == Unknown:
		w.say("it is at rest")
	case b.Angle.Known():
		w.say(b.the(), " ", lie(b.Angle))
	case b.Angle.Status == Unknown:
		w.say(b.the(), " makes an unknown angle with the horizontal")
	case b.Rule.Known():
		w.say(b.the(), " is level, and its marks are counted from its ", b.zero())
	case !w.onlyRests(b):
		w.say(b.the(), " is horizontal")
	}
}

// lie says how a body at an angle lies.
func lie(a Value) string {
	half := a
	half.Value, half.Digits, half.Decimals = 180, "180", 0
	switch d := a.SI() * 180 / math.Pi; {
	case a.Value == 0:
		return "is horizontal"
	case math.Abs(d-90) < 1e-9:
		return "is upright"
	case a.Unit.Symbol == "°" && d > 90 && d < 180:
		return "leans to the left, at " + minus(half, a).Quantity.String() + " to the horizontal"
	case d < 0 && d > -90:
		return "slopes down to the right, at " + strings.TrimPrefix(a.Quantity.String(), "-") + " to the horizontal"
	}
	return "makes an angle of " + a.Quantity.String() + " with the horizontal"
}

// after joins a place to what stands there.
func after(where string) string {
	switch {
	case where == "":
		return ""
	case strings.HasPrefix(where, "at "):
		return " " + where
	}
	return ", " + where
}

// onlyRests reports whether a body lies on rests from the surroundings alone.
func (w *stem) onlyRests(b *Body) bool {
	n := 0
	for i := range w.q.Supports {
		s := &w.q.Supports[i]
		if s.On.Body != b.Name {
			continue
		}
		if s.Kind != Rest && s.Kind != Meter || s.Above || s.By.Body != "" {
			return false
		}
		n++
	}
	return n > 0
}

// particle reports whether a frame is one small mass, such as a lamp where cords meet.
func (b *Body) particle() bool {
	return b.Shape == Frame && len(b.Pieces) == 1 && b.Pieces[0].Kind == PointMass
}

// frame describes the pieces of a frame.
func (w *stem) frame(b *Body) {
	if b.particle() {
		return
	}
	about := ""
	switch {
	case b.Mass.Known():
		about = " and has a mass of " + b.Mass.Quantity.String()
	case b.Weight.Known():
		about = " and has a weight of " + b.Weight.Quantity.String()
	}
	w.say(indefinite(b.noun()), " is made of ", counted(solid(b)), " uniform piece", map[bool]string{true: "s fixed together"}[solid(b) > 1], about)
	w.say("a point (x, y) of it is x to the right of and y above its point (0 m, 0 m)")
	if given := len(b.Pieces) > 0 && b.Pieces[0].Mass.Status == Absent && b.Pieces[0].Weight.Status == Absent && b.Pieces[0].Density.Status == Absent; given && solid(b) > 1 {
		w.say("all of it is of the same material")
	}
	for i := range b.Pieces {
		w.piece(&b.Pieces[i])
	}
}

// pieceWeight says the weight or mass of a piece after its name.
func pieceWeight(c *Piece) string {
	switch {
	case c.Weight.Known():
		return " of weight " + c.Weight.Quantity.String()
	case c.Mass.Known():
		return " of mass " + c.Mass.Quantity.String()
	}
	return ""
}

func solid(b *Body) int {
	n := 0
	for i := range b.Pieces {
		if !b.Pieces[i].Hole {
			n++
		}
	}
	return n
}

func (w *stem) piece(c *Piece) {
	shape, stands := "", ""
	switch c.Kind {
	case RodPiece:
		shape, stands = "thin rod", "runs from "+xyWords(c.From)+" to "+xyWords(c.To)
	case Rectangle:
		shape = "rectangle " + c.Width.Quantity.String() + " wide and " + c.Height.Quantity.String() + " high"
		stands = "has its lower left corner at " + xyWords(c.From)
	case Triangle:
		shape, stands = "triangle", "has its corners at "+xyWords(c.From)+", "+xyWords(c.To)+" and "+xyWords(c.Third)
	case Disc:
		shape, stands = "disc of radius "+c.Width.Quantity.String(), "has its centre at "+xyWords(c.From)
	case PointMass:
		shape, stands = "small mass", "is fixed at "+xyWords(c.From)
	}
	name := plainNoun(c.Label)
	if name == "" {
		name = plainNoun(c.Name)
	}
	about := ""
	switch {
	case c.Hole:
	case c.Mass.Known():
		about = " and a mass of " + c.Mass.Quantity.String()
	case c.Weight.Known():
		about = " and a weight of " + c.Weight.Quantity.String()
	case c.Density.Known() && c.Kind == RodPiece:
		about = " and a mass of " + c.Density.Quantity.String() + " along its length"
	case c.Density.Known():
		about = " and a mass of " + c.Density.Quantity.String()
	}
	if about != "" && !strings.HasPrefix(stands, "has") {
		about = strings.Replace(about, " and a ", " and has a ", 1)
	}
	if c.Hole {
		w.say("a hole in the shape of ", indefinite(shape), " is cut out of it; it ", stands)
		return
	}
	w.say("the ", name, ", ", indefinite(shape), ", ", stands, about)
}

// load describes a load.
func (w *stem) load(l *Load) {
	q := w.q
	b := q.Body(l.On.Body)
	if b == nil {
		return
	}
	of := "its"
	if len(q.Bodies) > 1 {
		of = ""
	} else if b.Shape != Frame {
		of = "the"
	}
	where := q.where(l.On, of)
	switch l.Kind {
	case Weight:
		s := q.aLoad(l)
		if l.Weight.Known() {
			s += " of weight " + l.Weight.Quantity.String()
		} else if l.Mass.Known() {
			s += " of mass " + l.Mass.Quantity.String()
		}
		w.say(s, " ", loadVerb(l, l.On.At.Status == Unknown), " ", where)
	case Spread:
		s := "a load of " + l.Size.Quantity.String()
		if l.Size.Status == Unknown {
			s = "a load"
		}
		if l.Label != "" {
			s += ", the " + plainNoun(l.Label) + ","
		} else {
			s = strings.Replace(s, "a load", "a load "+l.Name, 1)
		}
		w.say(s, " is spread evenly over ", b.the(), " ", q.stretch(l, of))
	case Force:
		s := "a force " + l.Name
		if l.Label != "" {
			s = indefinite(plainNoun(l.Label)) + " exerts a force " + l.Name
		}
		if l.Size.Known() {
			s += " of " + l.Size.Quantity.String()
		}
		if l.Label == "" {
			s += " acts"
		}
		w.say(s, " on ", b.the(), after(q.where(l.On, "its")), ", ", q.way(l.Direction))
	case Couple:
		s := "a couple " + l.Name
		if l.Size.Known() {
			s += " of " + l.Size.Quantity.String()
		}
		turn := " clockwise"
		if l.Anticlockwise {
			turn = " anticlockwise"
		}
		at := ""
		if l.On.Set() {
			at = after(q.where(l.On, "its"))
		}
		w.say(s, " acts", turn, " on ", b.the(), at)
	}
}

func loadVerb(l *Load, somewhere bool) string {
	verb, many := "stands", plural(plainNoun(l.Label))
	switch {
	case l.Hung:
		verb = "hangs"
	case l.Label == "":
		verb = "is placed"
	}
	if many {
		verb = strings.TrimSuffix(verb, "s")
	}
	return verb
}

// stretch says from where to where a spread load lies.
func (q *Question) stretch(l *Load, of string) string {
	b := q.Body(l.On.Body)
	if l.On.End == Left && l.To.End == Right {
		return "along its whole length"
	}
	if l.On.At.Known() && l.To.At.Known() {
		end := "its " + b.zero()
		if b.Rule.Known() {
			return "from the " + l.On.At.Quantity.String() + " mark to the " + l.To.At.Quantity.String() + " mark"
		}
		return "from " + l.On.At.Quantity.String() + " to " + l.To.At.Quantity.String() + " from " + end
	}
	say := func(p Place) string {
		s := strings.TrimPrefix(q.where(p, "its"), "at ")
		if p.At.Known() {
			return "a point " + s
		}
		return s
	}
	return "from " + say(l.On) + " to " + say(l.To)
}

func (w *stem) condition(c Condition) {
	s := w.q.Support(c.Name)
	if s == nil {
		return
	}
	b := w.q.Body(s.On.Body)
	if b == nil {
		return
	}
	switch c.Kind {
	case AboutToTip:
		w.say(b.the(), " is about to tip about ", c.Name)
	case AboutToLift:
		w.say(b.the(), " is about to lift off ", c.Name)
	case AboutToSlip:
		w.say(b.the(), " is about to slip at ", c.Name)
	case Ratio:
		o := w.q.Support(c.Other)
		if o == nil {
			return
		}
		times := ""
		switch {
		case c.Factor.Status == Absent || c.Factor.Value == 1:
			w.say("the forces of ", s.the(), " and ", o.the(), " are equal")
			return
		case c.Factor.Value == 2:
			times = "twice"
		case c.Factor.Value == 3:
			times = "three times"
		case c.Factor.Value == 4:
			times = "four times"
		case c.Factor.Value == 0.5:
			times = "half"
		default:
			times = c.Factor.Quantity.String() + " times"
		}
		w.say("the force of ", s.the(), " is ", times, " that of ", o.the())
	}
}
