package question

import (
	"strconv"
	"strings"
	"unicode/utf8"

	"steelyard/quantity"
)

// String writes the question as a question file in the standard form: one order of clauses, one
// spelling of units, marks in a column. Lines and comments stay in the order of the file that was
// read; quantities keep their digits. Parsing it gives the same question.
func (q *Question) String() string {
	w := writer{q: q}
	for i := range q.Parts {
		if n := utf8.RuneCountInString(w.partHead(&q.Parts[i])); n < 60 {
			w.partWidth = max(w.partWidth, n)
		}
	}
	for i := range q.Vary {
		w.varyWidth = max(w.varyWidth, len(q.Vary[i].Thing)+1+len(q.Vary[i].Attribute))
	}
	lines := q.lines
	if lines == nil {
		lines = q.usualLines()
	}
	blank, started := false, false
	for _, l := range lines {
		text := w.statement(l)
		if l.statement != noStatement && text == "" && !l.commented {
			continue // of something that was taken out since
		}
		if text == "" && !l.commented {
			blank = true
			continue
		}
		if blank && started {
			w.b.WriteByte('\n')
		}
		blank, started = false, true
		if l.commented {
			if text != "" {
				text += "  "
			}
			text = strings.TrimRight(text+"# "+oneLineComment(l.comment), " ")
		}
		w.b.WriteString(text)
		w.b.WriteByte('\n')
	}
	return w.b.String()
}

func oneLineComment(s string) string {
	return strings.Map(func(r rune) rune {
		if r == '\n' || r == '\r' {
			return ' '
		}
		return r
	}, s)
}

// usualLines is the order of a question that was not read from a file.
func (q *Question) usualLines() []line {
	l := []line{{statement: titleLine}, {statement: levelLine}, {statement: ideaLine}, {statement: trapsLine}, {statement: gLine}, {}}
	add := func(s statement, n int) {
		for i := range n {
			l = append(l, line{statement: s, index: i})
		}
	}
	add(textLine, len(q.Text))
	l = append(l, line{})
	for i := range q.Bodies {
		l = append(l, line{statement: bodyLine, index: i})
		for j := range q.Bodies[i].Pieces {
			l = append(l, line{statement: pieceLine, index: j, owner: q.Bodies[i].Name})
		}
	}
	add(pointLine, len(q.Points))
	add(supportLine, len(q.Supports))
	add(loadLine, len(q.Loads))
	add(givenLine, len(q.Conditions))
	l = append(l, line{})
	add(partLine, len(q.Parts))
	l = append(l, line{})
	add(varyLine, len(q.Vary))
	return l
}

// A writer writes statements in the standard form.
type writer struct {
	q                    *Question
	b                    strings.Builder
	partWidth, varyWidth int
}

func (w *writer) statement(l line) string {
	q := w.q
	in := func(n int) bool { return l.index < n }
	switch l.statement {
	case titleLine:
		return "question " + quote(q.Title)
	case levelLine:
		if q.Level != "" {
			return "level " + q.Level
		}
	case ideaLine:
		if q.Idea != "" {
			return "idea " + quote(q.Idea)
		}
	case trapsLine:
		if len(q.Traps) > 0 {
			return "traps " + strings.Join(q.Traps, ", ")
		}
	case gLine:
		if q.Field.Status == Given {
			return "g " + typed(q.Field)
		}
	case textLine:
		if in(len(q.Text)) {
			return "text " + quote(q.Text[l.index])
		}
	case bodyLine:
		if in(len(q.Bodies)) {
			return writeBody(&q.Bodies[l.index])
		}
	case pieceLine:
		if b := q.Body(l.owner); b != nil && in(len(b.Pieces)) {
			return writePiece(&b.Pieces[l.index])
		}
	case pointLine:
		if in(len(q.Points)) {
			return w.point(&q.Points[l.index])
		}
	case supportLine:
		if in(len(q.Supports)) {
			return w.support(&q.Supports[l.index])
		}
	case loadLine:
		if in(len(q.Loads)) {
			return w.load(&q.Loads[l.index])
		}
	case givenLine:
		if in(len(q.Conditions)) {
			return writeCondition(q.Conditions[l.index])
		}
	case partLine:
		if in(len(q.Parts)) {
			return w.part(&q.Parts[l.index])
		}
	case varyLine:
		if in(len(q.Vary)) {
			return w.vary(q.Vary[l.index])
		}
	}
	return ""
}

// clauses joins what is said of a thing.
type clauses []string

func (c *clauses) add(s ...string) { *c = append(*c, strings.Join(s, " ")) }

func (c *clauses) addIf(ok bool, s string) {
	if ok {
		*c = append(*c, s)
	}
}

func (c *clauses) value(word string, v Value) {
	if v.Status != Absent {
		c.add(word, typed(v))
	}
}

func (c clauses) String() string { return strings.Join(c, ", ") }

func writeBody(b *Body) string {
	var c clauses
	switch b.Shape {
	case Frame:
		c.add("frame")
	case Block:
		c.add("block", typed(b.Length), "by", typed(b.Height))
	}
	c.addIf(b.Uniform, "uniform")
	c.addIf(b.Light, "light")
	if b.Shape != Block {
		c.value("length", b.Length)
		c.value("height", b.Height)
	}
	c.value("weight", b.Weight)
	c.value("mass", b.Mass)
	if b.Centre.Set() {
		word := "centre of mass at"
		if b.Centre.At.Status == Unknown {
			word = "centre of mass"
		}
		c.add(word, writePlace(b.Centre, b))
	}
	c.value("angle", b.Angle)
	c.value("marks every", b.Rule)
	c.addIf(b.ZeroRight, "zero at right end")
	if b.At != nil {
		c.add("placed at", writeXY(*b.At))
	}
	c.addIf(b.Label != "" && b.Label != b.Name, quote(b.Label))
	return "body " + b.Name + ": " + c.String()
}

func writePiece(p *Piece) string {
	var c clauses
	switch p.Kind {
	case RodPiece:
		c.add("rod from", writeXY(p.From), "to", writeXY(p.To))
	case Rectangle:
		c.add("rectangle", typed(p.Width), "by", typed(p.Height), "at", writeXY(p.From))
	case Triangle:
		c.add("triangle", writeXY(p.From), writeXY(p.To), writeXY(p.Third))
	case Disc:
		c.add("disc radius", typed(p.Width), "at", writeXY(p.From))
	case PointMass:
		c.add("point at", writeXY(p.From))
	}
	c.value("mass", p.Mass)
	c.value("weight", p.Weight)
	c.value("density", p.Density)
	c.addIf(p.Hole, "hole")
	c.addIf(p.Label != "", quote(p.Label))
	return "piece " + p.Name + " of " + p.Body + ": " + c.String()
}

func (w *writer) point(a *Point) string {
	var c clauses
	if a.Place.Body == "" && a.Place.XY != nil {
		c.add("at", writeXY(*a.Place.XY))
	} else {
		c.add("on", w.on(a.Place))
	}
	c.addIf(a.Label != "", quote(a.Label))
	return "point " + a.Name + ": " + c.String()
}

func (w *writer) support(s *Support) string {
	var c clauses
	line := s.Kind == Cable || s.Kind == Strut || s.Kind == Link
	word := "support"
	switch {
	case line:
		word = s.Kind.String()
	case s.Kind == Slope:
		c.add("slope", typed(s.Angle))
	default:
		c.add(s.Kind.String())
	}
	c.add("on", w.on(s.On))
	far := "to"
	if s.Kind == Strut {
		far = "from"
	}
	switch {
	case line && s.ToPoint != "":
		c.add(far, s.ToPoint)
	case line && s.To != nil:
		c.add(far, writeXY(*s.To))
	case line && s.By.Body != "":
		c.add(far, w.on(s.By))
	case s.By.Body != "":
		c.add("by", w.on(s.By))
	}
	c.addIf(s.Smooth, "smooth")
	c.addIf(s.Rough, "rough")
	c.value("coefficient", s.Mu)
	c.addIf(s.Above, "above")
	if s.Direction != nil {
		switch d := writeDirection(s.Direction); {
		case line && strings.HasPrefix(d, "at "):
			c.add(d)
		case s.Kind == Cable || s.Kind == Link:
			c.add("pulls", d)
		default:
			c.add("pushes", d)
		}
	}
	if s.Kind == Meter {
		c.value("reading", s.Reading)
	} else {
		c.value("force", s.Reading)
	}
	c.addIf(s.Label != "", quote(s.Label))
	return word + " " + s.Name + ": " + c.String()
}

func (w *writer) load(l *Load) string {
	var c clauses
	word := "load"
	switch l.Kind {
	case Weight:
		c.value("weight", l.Weight)
		c.value("mass", l.Mass)
	case Spread:
		c.add(typed(l.Size))
	case Force:
		word = "force"
		c.add(typed(l.Size), writeDirection(l.Direction))
	case Couple:
		word = "couple"
		turn := "clockwise"
		if l.Anticlockwise {
			turn = "anticlockwise"
		}
		c.add(typed(l.Size), turn)
	}
	on := "on"
	if l.Hung {
		on = "hung from"
	}
	b := w.q.Body(l.On.Body)
	switch {
	case l.Kind == Spread:
		c.add(on, l.On.Body, "from", writePlace(l.On, b), "to", writePlace(l.To, b))
	case l.On.Body != "":
		c.add(on, w.on(l.On))
	}
	c.addIf(l.Label != "", quote(l.Label))
	return word + " " + l.Name + ": " + c.String()
}

func writeCondition(c Condition) string {
	switch c.Kind {
	case AboutToTip:
		return "given about to tip about " + c.Name
	case AboutToSlip:
		return "given about to slip at " + c.Name
	case AboutToLift:
		return "given about to lift at " + c.Name
	}
	if c.Factor.Status == Given {
		return "given " + c.Name + " = " + typed(c.Factor) + " " + c.Other
	}
	return "given " + c.Name + " = " + c.Other
}

func (w *writer) partHead(a *Part) string {
	s := "part " + a.Name + ": "
	if a.Show.Status != Absent {
		return s + "show " + w.asked(a) + " is " + typed(a.Show)
	}
	return s + "find " + w.asked(a)
}

func (w *writer) part(a *Part) string {
	s := w.partHead(a)
	if a.Marks > 0 {
		s += strings.Repeat(" ", max(0, w.partWidth-utf8.RuneCountInString(s))+2) + "marks " + strconv.Itoa(a.Marks)
	}
	if a.Figures > 0 {
		s += "  figures " + strconv.Itoa(a.Figures)
	}
	if a.Text != "" {
		s += "  " + quote(a.Text)
	}
	return s
}

// asked writes what a part asks for.
func (w *writer) asked(a *Part) string {
	about := a.Other
	if about == "" && a.Place.Set() {
		b := w.q.Body(a.Place.Body)
		about = writePlace(a.Place, b)
		if a.Place.Body != "" && a.Place.End != NoEnd {
			about += " of " + a.Place.Body
		} else if a.Place.Body != "" {
			about += " on " + a.Place.Body
		}
	}
	switch a.Ask {
	case AskForce:
		if s := w.q.Support(a.Thing); s != nil {
			switch s.Kind {
			case Cable, Link:
				return "tension " + a.Thing
			case Strut:
				return "thrust " + a.Thing
			case Meter:
				return "reading " + a.Thing
			}
		}
		return "force " + a.Thing
	case AskAcross:
		return "horizontal force " + a.Thing
	case AskUpright:
		return "vertical force " + a.Thing
	case AskDirection:
		return "direction of force " + a.Thing
	case AskNormal:
		return "normal force " + a.Thing
	case AskFriction:
		return "friction " + a.Thing
	case AskForceOn:
		return "force of " + a.Other + " on " + a.Thing
	case AskCouple:
		return "couple " + a.Thing
	case AskWeight:
		return "weight " + a.Thing
	case AskMass:
		return "mass " + a.Thing
	case AskSize:
		return "size " + a.Thing
	case AskPosition:
		return "position " + a.Thing
	case AskCentre:
		return "centre of mass " + a.Thing
	case AskAngle:
		return "angle " + a.Thing
	case AskCoefficient:
		return "coefficient " + a.Thing
	case AskFurthest:
		return "furthest " + a.Thing + " towards " + a.Towards.String()
	case AskRange:
		return "range " + a.Thing
	case AskGreatest, AskLeast:
		s := "greatest "
		if a.Ask == AskLeast {
			s = "least "
		}
		if a.OfAngle {
			s += "angle "
		}
		return s + a.Thing
	case AskLeastCoefficient:
		return "least coefficient " + a.Thing
	case AskMoment:
		return "moment " + a.Thing + " about " + about
	case AskTotalMoment:
		return "total moment about " + about
	case AskResultant:
		return "resultant " + a.Thing
	}
	return "whether it stays"
}

func (w *writer) vary(v Vary) string {
	head := v.Thing + "." + v.Attribute
	return "vary " + head + strings.Repeat(" ", max(0, w.varyWidth-len(head))+1) + typed(v.From) + " to " + typed(v.To) + " step " + typed(v.Step)
}

// String returns the word for a compass direction.
func (c Compass) String() string {
	switch c {
	case Up:
		return "up"
	case Down:
		return "down"
	case ToLeft:
		return "left"
	case ToRight:
		return "right"
	}
	return ""
}

func writeDirection(d *Direction) string {
	if d == nil {
		return "down"
	}
	switch {
	case d.Across && d.Reverse:
		return "at right angles below " + d.Along
	case d.Across:
		return "at right angles to " + d.Along
	case d.Along != "" && d.Angle.Status == Absent && d.Reverse:
		return "back along " + d.Along
	case d.Along != "" && d.Angle.Status == Absent:
		return "along " + d.Along
	case d.Along != "" && d.Reverse:
		return "at " + typed(d.Angle) + " below " + d.Along
	case d.Along != "":
		return "at " + typed(d.Angle) + " to " + d.Along
	case d.Angle.Status == Absent:
		return d.Base.String()
	case d.Towards == Up:
		return typed(d.Angle) + " above " + d.Base.String()
	case d.Towards == Down:
		return typed(d.Angle) + " below " + d.Base.String()
	}
	return typed(d.Angle) + " " + d.Towards.String() + " of " + d.Base.String()
}

// on writes "plank at 0.60 m".
func (w *writer) on(p Place) string {
	if !p.Set() {
		return p.Body
	}
	return p.Body + " at " + writePlace(p, w.q.Body(p.Body))
}

func writePlace(p Place, b *Body) string {
	leaning := b != nil && b.leans()
	switch {
	case p.XY != nil:
		return writeXY(*p.XY)
	case p.Point != "":
		if isEnd(p.Point) || p.Point == "unknown" {
			return "point " + p.Point
		}
		return p.Point
	case p.End == Left && leaning:
		return "foot"
	case p.End == Right && leaning:
		return "top"
	case p.End == Left:
		return "left end"
	case p.End == Right:
		return "right end"
	case p.End == Middle:
		return "middle"
	}
	return typed(p.At)
}

func writeXY(xy XY) string { return "(" + typed(xy.X) + ", " + typed(xy.Y) + ")" }

// typed writes a value as it is typed in a question file.
func typed(v Value) string {
	if v.Status == Unknown {
		return "unknown"
	}
	return typedQuantity(v.Quantity)
}

func typedQuantity(q quantity.Quantity) string {
	if q.Unit.Symbol == "°" {
		return strings.TrimSuffix(q.String(), "°") + " deg"
	}
	return q.String()
}

// quote writes a text in quotation marks.
func quote(s string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(oneLine(s)) + `"`
}
