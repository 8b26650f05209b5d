package figure

import (
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"steelyard/answer"
	"steelyard/quantity"
	"steelyard/question"
)

// A Row is one thing of an arrangement, for a table beside its picture.
type Row struct{ Thing, Kind, Position, Size string }

// Describe puts into words what a picture drawn with the same options shows: a title of at most 250
// characters, and a long text from which the question can be solved without the picture. A sketch's
// tells no more than is given: no perpendicular distance, no sense of turning.
func Describe(l *answer.Layout, o Options) (title, text string) {
	return describe(l, o.withDefaults())
}

func describe(l *answer.Layout, o Options) (title, text string) {
	if l.Question == nil || len(l.Bodies) == 0 {
		return "Picture", ""
	}
	if o.View == Sketch {
		return sketchTitle(l), sketchWords(l)
	}
	return forceWords(l, o)
}

// Rows lists what a sketch shows in the order of its description: bodies, supports from left to
// right, loads from left to right.
func Rows(l *answer.Layout) []Row {
	var rows []Row
	for i := range l.Bodies {
		b := &l.Bodies[i]
		size := said(b.Body.Length)
		if w := firstOf(said(b.Body.Weight), said(b.Body.Mass)); w != "" {
			size = strings.TrimPrefix(size+", "+w, ", ")
		}
		rows = append(rows, Row{bodyCalled(b.Body), shapeWords(b), leaning(b), size})
	}
	for _, i := range supportsInOrder(l) {
		u := &l.Supports[i]
		rows = append(rows, Row{u.Name, withDirection(supportKind(u), pushing(l, u)), placeWords(l, u.Support.On), firstOf(said(u.Reading), surfaceWords(u))})
	}
	for _, i := range loadsInOrder(l) {
		d := &l.Loads[i]
		rows = append(rows, Row{d.Name, withDirection(loadKind(d), directionOf(l, d.Direction, true)), loadPlace(l, d), loadSize(d)})
	}
	return rows
}

// said is a value in words; "" unless it is given.
func said(v question.Value) string {
	if !v.Known() {
		return ""
	}
	return v.Quantity.Words()
}

func sketchTitle(l *answer.Layout) string {
	var t strings.Builder
	for i := range l.Bodies {
		b := &l.Bodies[i]
		if t.Len() > 0 {
			t.WriteString("; ")
		}
		t.WriteString(bodyCalled(b.Body))
		if n := said(b.Body.Length); n != "" && b.Shape == question.Bar {
			t.WriteString(" " + n + " long")
		}
		if lean := leaning(b); lean != "" && lean != "level" {
			t.WriteString(", " + lean)
		}
	}
	var held, carried []string
	for _, i := range supportsInOrder(l) {
		held = append(held, l.Supports[i].Name)
	}
	for _, i := range loadsInOrder(l) {
		carried = append(carried, l.Loads[i].Name)
	}
	if len(held) > 0 {
		t.WriteString(", held at " + list(held))
	}
	if len(carried) > 0 {
		t.WriteString(", with " + list(carried) + " acting on it")
	}
	return limited("Diagram of " + t.String() + ".")
}

// limited cuts a title at 250 characters.
func limited(title string) string {
	if utf8.RuneCountInString(title) <= 250 {
		return title
	}
	r := []rune(title)
	cut := string(r[:249])
	if i := strings.LastIndex(cut, " "); i > 150 {
		cut = cut[:i]
	}
	return strings.TrimRight(cut, ",; ") + "…"
}

// list joins names as in a sentence.
func list(names []string) string {
	if n := len(names); n > 1 {
		return strings.Join(names[:n-1], ", ") + " and " + names[n-1]
	}
	return strings.Join(names, "")
}

func sketchWords(l *answer.Layout) string {
	var out []string
	say := func(parts ...string) {
		var kept []string
		for _, p := range parts {
			if p != "" {
				kept = append(kept, p)
			}
		}
		out = append(out, sentence(strings.Join(kept, ", ")))
	}
	for i := range l.Bodies {
		sayBody(l, &l.Bodies[i], say)
	}
	for _, i := range apart(l) {
		say(apartWords(l, i))
	}
	for i := range l.Question.Points {
		p := &l.Question.Points[i]
		say("Point " + p.Name + " is " + placeWords(l, p.Place))
	}
	for _, i := range supportsInOrder(l) {
		u := &l.Supports[i]
		say(named(u.Name, u.Label)+" is "+supportKind(u)+placeOn(l, u.Support.On, u.On), byWords(l, u), farWords(l, u), pushing(l, u), reading(u), surfaceWords(u))
	}
	for _, i := range loadsInOrder(l) {
		d := &l.Loads[i]
		verb := " is " + loadKind(d)
		say(named(d.Name, d.Label)+verb, loadSize(d), loadPlace(l, d), directionOf(l, d.Direction, true))
	}
	for _, c := range l.Question.Conditions {
		say(condition(c))
	}
	var asked []string
	for i := range l.Question.Parts {
		if a := l.Question.Asked(&l.Question.Parts[i]); !slices.Contains(asked, a) {
			asked = append(asked, a)
		}
	}
	if len(asked) > 0 {
		say("Asked: " + strings.Join(asked, "; "))
	}
	return strings.Join(out, " ")
}

func named(name, label string) string {
	if label == "" || label == name {
		return name
	}
	return name + ", " + "the " + called(label, name) + ","
}

func sayBody(l *answer.Layout, b *answer.Body, say func(...string)) {
	name := bodyCalled(b.Body)
	size := ""
	switch {
	case b.Shape == question.Bar && b.Body.Length.Known():
		size = said(b.Body.Length) + " long"
	case b.Shape == question.Block:
		size = said(b.Body.Length) + " along its base and " + said(b.Body.Height) + " high"
	}
	weight := ""
	if w := said(b.Body.Weight); w != "" {
		weight = "weight " + w
	} else if m := said(b.Body.Mass); m != "" {
		weight = "mass " + m
	}
	how := shapeWords(b)
	say("The "+name+" is "+indefinite(how), size, weight, leaning(b))
	if b.Shape == question.Frame {
		for i := range b.Pieces {
			say(pieceWords(&b.Pieces[i]))
		}
	} else if b.Shape == question.Bar && len(l.Question.Loads)+len(l.Question.Supports) > 0 {
		say("Distances along the " + name + " are from its " + zeroEnd(b))
	}
	if isRule(b) {
		say("It is marked every " + said(b.Rule))
	}
	if b.Body.Centre.Set() {
		if b.Body.Centre.At.Status == question.Unknown {
			say("The place of its centre of mass is not given")
		} else {
			say("Its centre of mass G is " + placeWords(l, b.Body.Centre))
		}
	}
}

func indefinite(s string) string {
	if strings.ContainsRune("aeio", rune(s[0])) {
		return "an " + s
	}
	return "a " + s
}

func shapeWords(b *answer.Body) string {
	how := ""
	switch {
	case b.Uniform:
		how = "uniform "
	case b.Light:
		how = "light "
	}
	switch b.Shape {
	case question.Block:
		return how + "block"
	case question.Frame:
		return how + "frame"
	}
	if isRule(b) {
		return how + "rule"
	}
	return how + "straight body"
}

// leaning is how a straight body or block lies.
func leaning(b *answer.Body) string {
	switch {
	case b.Shape == question.Frame && b.Body.Angle.Status == question.Absent, b.Shape == question.Block && b.Body.Angle.Status == question.Absent:
		return ""
	case b.Body.Angle.Status == question.Absent:
		return "level"
	case !b.Body.Angle.Known():
		return "at an unknown angle to the horizontal"
	}
	a := math.Mod(b.Body.Angle.SI()*180/math.Pi, 360)
	text := said(b.Body.Angle)
	switch {
	case a == 90:
		return "upright"
	case a > 90 && a < 180:
		return "rising to the left, at " + text + " anticlockwise from the horizontal to the right"
	case a < 0:
		return "at " + strings.TrimPrefix(text, "minus ") + " below the horizontal, falling to the right"
	case a == 0:
		return "level"
	}
	return "at " + text + " to the horizontal, rising to the right"
}

func pieceWords(p *question.Piece) string {
	at := func(v question.XY) string { return "(" + shown(v.X) + ", " + shown(v.Y) + ")" }
	s := "Piece " + p.Name + " is "
	switch p.Kind {
	case question.RodPiece:
		s += "a rod from " + at(p.From) + " to " + at(p.To)
	case question.Rectangle:
		s += "a rectangle " + said(p.Width) + " wide and " + said(p.Height) + " high with its lower left corner at " + at(p.From)
	case question.Triangle:
		s += "a triangle with corners " + at(p.From) + ", " + at(p.To) + " and " + at(p.Third)
	case question.Disc:
		s += "a disc of radius " + said(p.Width) + " about " + at(p.From)
	default:
		s += "a small mass at " + at(p.From)
	}
	if p.Hole {
		s += ", cut out"
	}
	if m := firstOf(said(p.Mass), said(p.Weight), said(p.Density)); m != "" {
		s += ", " + m
	}
	return s
}

// zeroEnd names the end that distances are from.
func zeroEnd(b *answer.Body) string { return endName(b, b.ZeroRight) }

// endName names the left or the right end of a body as it lies: of a leaning one, the lower or the upper.
func endName(b *answer.Body, right bool) string {
	switch {
	case b != nil && math.Abs(b.Axis.Y) > 0.1 && (b.Axis.Y > 0) == right:
		return "upper end"
	case b != nil && math.Abs(b.Axis.Y) > 0.1:
		return "lower end"
	case right:
		return "right end"
	}
	return "left end"
}

// placeWords is where something is on its body.
func placeWords(l *answer.Layout, p question.Place) string {
	b := l.BodyNamed(p.Body)
	switch {
	case p.Point != "":
		return "at point " + p.Point
	case p.XY != nil:
		if p.XY.Y.Known() && p.XY.Y.SI() == 0 && b != nil && b.Shape == question.Bar {
			return said(p.XY.X) + " from the " + endName(b, false)
		}
		return "at (" + shown(p.XY.X) + ", " + shown(p.XY.Y) + ")"
	case p.End == question.Middle:
		return "at the middle"
	case p.End != question.NoEnd:
		return "at the " + endName(b, p.End == question.Right)
	case p.At.Known():
		from := "left end"
		if b != nil {
			from = zeroEnd(b)
		}
		return said(p.At) + " from the " + from
	case p.At.Status == question.Unknown:
		return "at an unknown distance"
	}
	return ""
}

// placeOn is the body and the place on it.
func placeOn(l *answer.Layout, p question.Place, on int) string {
	s := ""
	if len(l.Bodies) > 1 && on >= 0 {
		s = " of the " + bodyCalled(l.Bodies[on].Body)
	}
	if w := placeWords(l, p); w != "" {
		s += ", " + w
	}
	return s
}

func surfaceWords(u *answer.Support) string {
	switch {
	case u.Support.Mu.Known():
		return "coefficient of friction " + said(u.Support.Mu)
	case u.Support.Mu.Status == question.Unknown:
		return "rough, coefficient of friction not given"
	case u.Rough:
		return "rough"
	case u.Kind == question.Floor || u.Kind == question.Wall || u.Kind == question.Slope:
		return "smooth"
	}
	return ""
}

func reading(u *answer.Support) string {
	switch v := said(u.Reading); {
	case v != "" && u.Kind == question.Meter:
		return "reading " + v
	case v != "":
		return "exerting " + v
	case u.Kind == question.Meter && u.Reading.Status == question.Unknown:
		return "its reading not given"
	}
	return ""
}

// byWords is what body a support belongs to.
func byWords(l *answer.Layout, u *answer.Support) string {
	if u.By < 0 || u.By >= len(l.Bodies) {
		return ""
	}
	s := "on the " + bodyCalled(l.Bodies[u.By].Body)
	if u.Kind == question.Cable || u.Kind == question.Strut || u.Kind == question.Link {
		s = "to the " + bodyCalled(l.Bodies[u.By].Body)
	}
	return strings.TrimSpace(s + " " + placeWords(l, u.Support.By))
}

// farWords is where the fixed end of a cable, strut or link is, from the body's own end.
func farWords(l *answer.Layout, u *answer.Support) string {
	if u.To == nil {
		if u.Kind == question.Cable && u.Direction == nil && !u.HasFar {
			return "upright, from above"
		}
		return ""
	}
	o := l.Bodies[u.On].Origin
	if away := away(l, *u.To, u.Far.X-o.X, u.Far.Y-o.Y); away != "" {
		return "to a fixed point " + away + " " + originWords(&l.Bodies[u.On])
	}
	return "to a fixed point at " + originWords(&l.Bodies[u.On])
}

// apartWords says where a body lies that nothing joins to the first: where its origin is from the first's.
func apartWords(l *answer.Layout, i int) string {
	b, first := &l.Bodies[i], &l.Bodies[0]
	whose := func(b *answer.Body) string {
		if b.Shape == question.Frame {
			return originWords(b)
		}
		return originWords(b) + " of the " + bodyCalled(b.Body)
	}
	where := away(l, *b.Body.At, b.Origin.X-first.Origin.X, b.Origin.Y-first.Origin.Y)
	if where == "" {
		where = "at"
	}
	return whose(b) + " is " + where + " " + whose(first)
}

// away says how far above and to the right of a place another is; typed is how the other was written.
func away(l *answer.Layout, typed question.XY, dx, dy float64) string {
	var parts []string
	if math.Abs(dy) > 1e-9 {
		side := " above"
		if dy < 0 {
			side = " below"
		}
		parts = append(parts, lengthLike(l, typed.Y, dy)+side)
	}
	if math.Abs(dx) > 1e-9 {
		side := " to the right of"
		if dx < 0 {
			side = " to the left of"
		}
		parts = append(parts, lengthLike(l, typed.X, dx)+side)
	}
	return strings.Join(parts, " and ")
}

// originWords names the point that a body's places are counted from.
func originWords(b *answer.Body) string {
	if b.Shape == question.Frame {
		return "the point (0, 0) of the " + bodyCalled(b.Body)
	}
	return "the " + endName(b, false)
}

// lengthLike says a length in metres with the decimals of one that was typed.
func lengthLike(l *answer.Layout, v question.Value, metres float64) string {
	text := offset(l, v, metres)
	if q, err := quantity.Parse(quantity.Plain(text), quantity.Length, v.Unit); err == nil {
		return q.Words()
	}
	return text
}

func withDirection(kind, direction string) string {
	if direction == "" {
		return kind
	}
	return kind + ", " + direction
}

// pushing is the direction of a support's push or pull as it was written.
func pushing(l *answer.Layout, u *answer.Support) string {
	switch u.Kind {
	case question.Strut, question.Roller, question.Rest, question.Wall, question.Strap:
		return directionOf(l, u.Direction, false)
	}
	return directionOf(l, u.Direction, true)
}

// sideWords says which way the upper side of a body, or its lower one, faces.
func sideWords(b *answer.Body, upper bool) string {
	switch {
	case math.Abs(b.Axis.X) < 0.1 && (b.Axis.Y > 0) == upper:
		return "to the left"
	case math.Abs(b.Axis.X) < 0.1:
		return "to the right"
	case (b.Axis.X > 0) == upper:
		return "upwards"
	}
	return "downwards"
}

// directionOf is a direction as it was written; away says that the thing pulls or acts that way.
func directionOf(l *answer.Layout, d *question.Direction, away bool) string {
	if d == nil {
		return ""
	}
	verb := "pushing "
	if away {
		verb = "in the direction "
	}
	base := [...]string{"", "up", "down", "to the left", "to the right"}
	if b := l.BodyNamed(d.Along); b != nil {
		body, side := "the "+bodyCalled(b.Body), "above it"
		if d.Reverse {
			side = "below it"
		}
		switch {
		case d.Across && d.Reverse:
			return verb + "at right angles to " + body + ", " + sideWords(b, false)
		case d.Across:
			return verb + "at right angles to " + body + ", " + sideWords(b, true)
		case d.Angle.Known():
			return "at " + said(d.Angle) + " to " + body + ", measured from the part towards its " + endName(b, false) + ", " + side
		case d.Reverse:
			return verb + "along " + body + " towards its " + endName(b, false)
		}
		return verb + "along " + body + " towards its " + endName(b, true)
	}
	if d.Angle.Status == question.Absent || int(d.Towards) >= len(base) {
		return verb + base[d.Base]
	}
	size := said(d.Angle)
	if size == "" {
		size = "an unknown angle"
	}
	towards := [...]string{"", "above ", "below ", "to the left of ", "to the right of "}
	from := [...]string{"", "straight up", "straight down", "the horizontal to the left", "the horizontal to the right"}
	return verb + size + " " + towards[d.Towards] + from[d.Base]
}

func loadPlace(l *answer.Layout, d *answer.Load) string {
	s := ""
	if len(l.Bodies) > 1 {
		s = "on the " + bodyCalled(l.Bodies[d.On].Body) + " "
	}
	if d.Kind == question.Spread {
		to := question.Place(d.Load.To)
		if to.Set() {
			return s + "from " + strings.TrimPrefix(placeWords(l, d.Load.On), "at ") + " to " + strings.TrimPrefix(placeWords(l, to), "at ")
		}
		return s + "over its whole length"
	}
	return strings.TrimSpace(s + placeWords(l, d.Load.On))
}

func condition(c question.Condition) string {
	switch c.Kind {
	case question.AboutToTip:
		return "It is about to tip about " + c.Name
	case question.AboutToSlip:
		return "It is about to slip at " + c.Name
	case question.AboutToLift:
		return "It is about to lift at " + c.Name
	}
	if k := said(c.Factor); k != "" {
		return "The force at " + c.Name + " is " + k + " times the force at " + c.Other
	}
	return "The force at " + c.Name + " is equal to the force at " + c.Other
}

func supportsInOrder(l *answer.Layout) []int {
	return inOrder(len(l.Supports), func(i int) (float64, bool) {
		u := &l.Supports[i]
		if u.Support == nil || u.On < 0 {
			return 0, false
		}
		return placeX(u.At.X, u.Support.On), true
	})
}

func loadsInOrder(l *answer.Layout) []int {
	return inOrder(len(l.Loads), func(i int) (float64, bool) {
		d := &l.Loads[i]
		if d.Load == nil || d.On < 0 {
			return 0, false
		}
		return placeX(d.At.X, d.Load.On), true
	})
}

// placeX is where a thing comes in the order from left to right: nowhere, if its place isn't given,
// even where it has been found.
func placeX(x float64, p question.Place) float64 {
	if p.At.Status == question.Unknown {
		return math.NaN()
	}
	return x
}

// inOrder numbers things from left to right; what is nowhere comes last.
func inOrder(n int, at func(int) (float64, bool)) []int {
	var out []int
	for i := range n {
		if _, ok := at(i); ok {
			out = append(out, i)
		}
	}
	slices.SortStableFunc(out, func(i, j int) int {
		a, _ := at(i)
		b, _ := at(j)
		switch {
		case a < b || math.IsNaN(b) && !math.IsNaN(a):
			return -1
		case a > b || math.IsNaN(a) && !math.IsNaN(b):
			return 1
		}
		return 0
	})
	return out
}
