package workbench

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"steelyard/quantity"
	"steelyard/question"
)

// An Addition is something to add.
type Addition struct {
	Kind string   // one of Additions, or "part", "vary"
	Body string   // that it goes on; the first if none is named
	At   *float64 // metres from the zero of its scale; nil is the widest gap
	Ask  string   // of a part: what it asks for, as in the notation; of vary: "K.weight"
}

// Additions are what can be added to an arrangement, in the order in which they are offered.
var Additions = append(slices.Clone(kindWords),
	"cable", "strut", "load", "hanging load", "spread load", "force", "couple", "body", "block", "point")

// Add adds a thing with numbers that can then be changed.
func Add(text string, a Addition) (Change, error) {
	d, err := open(text)
	if err != nil {
		return Change{}, err
	}
	switch a.Kind {
	case "part":
		return d.addPart(a.Ask)
	case "vary":
		return d.addVary(a.Ask)
	case "body", "block":
		return d.addBody(a.Kind)
	}
	if !slices.Contains(Additions, a.Kind) {
		return Change{}, refuse(strconv.Quote(a.Kind)+" is nothing that can be added", "choose one of the list")
	}
	if len(d.q.Bodies) == 0 {
		return Change{}, refuse("there is no body yet", "add a body first")
	}
	b := d.q.Body(a.Body)
	if a.Body == "" {
		b = &d.q.Bodies[0]
	}
	if b == nil {
		return Change{}, refuse("there is no body "+a.Body, "choose one of the bodies")
	}
	name, line := d.statement(a, b)
	after := d.last(a.Kind)
	d.insert(after+1, line)
	return d.done("added: " + line[:strings.IndexByte(line, ':')] + " on " + b.Name + name)
}

// last is the line after which a new thing of a kind goes: after the last of its like, else after the bodies and what
// else the arrangement has.
func (d *draft) last(kind string) int {
	q := d.q
	n := 0
	for i := range q.Bodies {
		n = max(n, q.Bodies[i].Span.Line)
		for j := range q.Bodies[i].Pieces {
			n = max(n, q.Bodies[i].Pieces[j].Span.Line)
		}
	}
	if kind == "body" || kind == "block" {
		return max(n, d.head())
	}
	for i := range q.Points {
		n = max(n, q.Points[i].Span.Line)
	}
	if kind == "point" {
		return n
	}
	for i := range q.Supports {
		n = max(n, q.Supports[i].Span.Line)
	}
	if slices.Contains(kindWords, kind) || kind == "cable" || kind == "strut" {
		return n
	}
	for i := range q.Loads {
		n = max(n, q.Loads[i].Span.Line)
	}
	return n
}

// head is the last line of the head of a file: title, level, idea, wording.
func (d *draft) head() int {
	n := 0
	for i, l := range d.lines {
		switch w, _, _ := strings.Cut(strings.TrimSpace(l), " "); w {
		case "question", "level", "idea", "traps", "g", "text":
			n = i + 1
		}
	}
	return n
}

// statement writes the line of a new thing.
func (d *draft) statement(a Addition, b *question.Body) (note, line string) {
	q := d.q
	unit, decimals := lengthUnit(q, b.Name)
	length := extentOf(b)
	step := stepFor(length, unit, decimals)
	x := d.gap(b)
	if a.At != nil {
		x = min(max(*a.At, 0), length)
	}
	x = min(snap(x, step), length)
	place := typedTo(x, unit, decimals)
	if b.Shape != question.Bar {
		place = "(" + place + ", " + typedTo(tall(b), unit, decimals) + ")"
	}
	newton := usual(q, quantity.Force)
	force := func(n float64) string { return amount(n, newton) }
	on := "on " + b.Name + " at " + place
	base := on
	if b.Shape != question.Bar { // what holds a block or a frame takes it from below
		base = "on " + b.Name + " at (" + typedTo(x, unit, decimals) + ", " + typedTo(0, unit, decimals) + ")"
	}
	supports, loads := []string{"P", "Q", "R", "S", "U", "V", "W", "X", "Y", "Z"}, []string{"K", "L", "A", "B", "C", "D", "E", "F", "G", "H", "J"}
	named := func(letters []string) string { return d.free(letters) }
	origin, xAxis := d.spot(b)
	switch a.Kind {
	case "floor", "slope":
		kind := a.Kind
		if kind == "slope" {
			kind = "slope 20 deg"
		}
		where := "on " + b.Name
		if b.Shape != question.Block {
			where += " at " + endWord(b, question.Left)
		}
		return "", fmt.Sprintf("support %s: %s, %s, rough", named([]string{"F", "G", "H"}), kind, where)
	case "wall":
		return "", fmt.Sprintf("support %s: wall, on %s at %s, smooth", named([]string{"W", "V", "U"}), b.Name, endOr(b, "right", unit, decimals))
	case "cable", "strut":
		dy, word, kind, letters := 0.5*length, "to", "cable", []string{"T", "U", "V"}
		if a.Kind == "strut" {
			dy, word, kind, letters = -0.5*length, "from", "strut", []string{"S", "T", "U"}
		}
		if a.At == nil && b.Shape == question.Bar {
			x, on = length, "on "+b.Name+" at "+endWord(b, question.Right)
		}
		fx, fy := origin[0]+x*xAxis[0]*0.5, origin[1]+x*xAxis[1]*0.5+dy
		return "", fmt.Sprintf("%s %s: %s, %s (%s, %s)", kind, named(letters), on, word,
			typedTo(snap(fx, step), unit, decimals), typedTo(snap(fy, step), unit, decimals))
	case "load":
		return "", fmt.Sprintf("load %s: weight %s, %s", named(loads), force(100), on)
	case "hanging load":
		return "", fmt.Sprintf("load %s: weight %s, hung from %s", named(loads), force(100), strings.TrimPrefix(base, "on "))
	case "spread load":
		u := quantity.Unit{}
		u, _ = quantity.UnitNamed("N/m")
		to := min(snap(x+0.25*length, step), length)
		from := max(min(x, to-step), 0)
		return "", fmt.Sprintf("load %s: %s, on %s from %s to %s", named(append([]string{"S"}, loads...)), amount(100, u), b.Name,
			typedTo(from, unit, decimals), typedTo(to, unit, decimals))
	case "force":
		return "", fmt.Sprintf("force %s: %s down, %s", named([]string{"E", "F", "G", "H"}), force(50), on)
	case "couple":
		u := quantity.SIUnit(quantity.Moment)
		return "", fmt.Sprintf("couple %s: %s clockwise, %s", named([]string{"C", "D"}), amount(10, u), on)
	case "point":
		return "", fmt.Sprintf("point %s: %s", named([]string{"A", "B", "C", "D", "E"}), on)
	}
	return "", fmt.Sprintf("support %s: %s, %s", named(supports), a.Kind, base)
}

// endWord is an end of a body as the notation has it.
func endWord(b *question.Body, e question.End) string {
	leaning := b.Shape == question.Bar && b.Angle.Known() && b.Angle.Value > 0
	switch {
	case e == question.Left && leaning:
		return "foot"
	case e == question.Left:
		return "left end"
	case leaning:
		return "top"
	}
	return "right end"
}

// endOr is the right end of a bar, or a corner of what has no ends.
func endOr(b *question.Body, _ string, u quantity.Unit, decimals int) string {
	if b.Shape == question.Bar {
		return endWord(b, question.Right)
	}
	return "(" + typedTo(extentOf(b), u, decimals) + ", " + typedTo(tall(b)/2, u, decimals) + ")"
}

// typedTo writes a length with the decimals of the writer, or the few more that it needs.
func typedTo(si float64, u quantity.Unit, decimals int) string {
	return renumber("0 "+symbol(u), quantity.Quantity{Unit: u, Decimals: decimals}, si)
}

// amount is a size in newtons or their like, in a unit, with no more digits than it needs.
func amount(si float64, u quantity.Unit) string {
	return renumber("0 "+symbol(u), quantity.Quantity{Unit: u}, si)
}

// gap is the middle of the widest gap on a body, in metres from the zero of its scale.
func (d *draft) gap(b *question.Body) float64 {
	length := extentOf(b)
	taken := []float64{0, length}
	eachPlace(d.q, func(p *question.Place) {
		switch {
		case p.Body != b.Name:
		case p.At.Known():
			taken = append(taken, p.At.SI())
		case p.XY != nil:
			taken = append(taken, p.XY.X.SI())
		case p.End == question.Middle:
			taken = append(taken, length/2)
		}
	})
	slices.Sort(taken)
	at, widest := length/2, 0.0
	for i := 1; i < len(taken); i++ {
		if w := taken[i] - taken[i-1]; w > widest+1e-9 {
			at, widest = (taken[i]+taken[i-1])/2, w
		}
	}
	return at
}

// spot is where a body begins in the plane as far as its line says, and the direction of its axis.
func (d *draft) spot(b *question.Body) (origin, axis [2]float64) {
	if b.At != nil {
		origin = [2]float64{b.At.X.SI(), b.At.Y.SI()}
	}
	sin, cos := 0.0, 1.0
	if b.Angle.Known() {
		sin, cos = math.Sincos(b.Angle.SI())
	}
	return origin, [2]float64{cos, sin}
}

// free is the first letter that nothing is called by; after the last, letters with numbers.
func (d *draft) free(letters []string) string {
	for n := 1; ; n++ {
		for _, l := range letters {
			if n > 1 {
				l += strconv.Itoa(n)
			}
			if !d.taken(l) {
				return l
			}
		}
	}
}

func (d *draft) taken(name string) bool {
	q := d.q
	return q.Body(name) != nil || q.Support(name) != nil || q.Load(name) != nil || q.Point(name) != nil || q.Piece(name) != nil
}

// addBody adds a bar or a block, level, beside or below what is there.
func (d *draft) addBody(kind string) (Change, error) {
	q := d.q
	unit, decimals := lengthUnit(q, "")
	name := d.freeWord(map[string][]string{"body": {"beam", "bar", "rail"}, "block": {"crate", "box", "chest"}}[kind])
	force := usual(q, quantity.Force)
	placed := ""
	if len(q.Bodies) > 0 {
		low := 0.0
		for i := range q.Bodies {
			if at := q.Bodies[i].At; at != nil {
				low = min(low, at.Y.SI())
			}
		}
		length := max(extentOf(&q.Bodies[0]), 0.1)
		placed = ", placed at (" + typedTo(0, unit, decimals) + ", " + typedTo(snap(low-0.3*length, stepFor(length, unit, decimals)), unit, decimals) + ")"
	}
	line := fmt.Sprintf("body %s: uniform, length %s, weight %s%s", name, typedTo(2, unit, decimals), amount(100, force), placed)
	if kind == "block" {
		line = fmt.Sprintf("body %s: block %s by %s, uniform, weight %s%s", name, typedTo(0.6, unit, decimals), typedTo(1, unit, decimals), amount(200, force), placed)
	}
	d.insert(d.last("body")+1, line)
	c, err := d.done("added: body " + name)
	if err == nil && len(q.Bodies) > 0 {
		c.Also = append(c.Also, "give "+name+" supports of its own, or let it rest on another body")
	}
	return c, err
}

func (d *draft) freeWord(words []string) string {
	for n := 1; ; n++ {
		for _, w := range words {
			if n > 1 {
				w += strconv.Itoa(n)
			}
			if !d.taken(w) {
				return w
			}
		}
	}
}

// addPart adds a part that asks for something; the marks are two until the writer says otherwise.
func (d *draft) addPart(ask string) (Change, error) {
	ask = strings.Join(strings.Fields(ask), " ")
	if ask == "" || strings.ContainsAny(ask, "#\"“\n") {
		return Change{}, refuse("it does not say what the part asks for", "write it as in the notation, such as force P")
	}
	q := d.q
	name, line := "a", 0
	for i := range q.Parts {
		line = max(line, q.Parts[i].Span.Line)
	}
	for c := 'a'; c <= 'z' && q.Part(name) != nil; c++ {
		name = string(c)
	}
	text := "part " + name + ": find " + ask + "  marks 2"
	switch {
	case line > 0:
		d.insert(line+1, text)
	case len(q.Vary) > 0:
		d.insert(q.Vary[0].Span.Line, text, "")
	default:
		d.insert(len(d.lines)+1, "", text)
	}
	return d.done("added: part " + name + ", find " + ask)
}

// addVary lets a number differ from pupil to pupil, by up to about a fifth either way.
func (d *draft) addVary(number string) (Change, error) {
	thing, attribute, ok := strings.Cut(number, ".")
	v := d.q.Value(thing, attribute)
	if !ok || v == nil || !v.Known() {
		return Change{}, refuse("there is no number "+strconv.Quote(number)+" that could vary", "choose one that is given")
	}
	for i := range d.q.Vary {
		if y := &d.q.Vary[i]; y.Thing == thing && y.Attribute == attribute {
			return Change{}, refuse(number+" varies already", "change its line in the notation")
		}
	}
	now := v.Value
	ten := math.Pow(10, math.Floor(math.Log10(math.Max(math.Abs(now), 1e-9))-0.7))
	step := ten
	for _, k := range []float64{1, 2, 5, 10} {
		if step = k * ten; step >= 0.04*math.Abs(now) {
			break
		}
	}
	if own := math.Pow(10, -float64(v.Decimals)); step < own {
		step = own
	}
	low, high := now-3*step, now+3*step
	if low <= 0 {
		low = now
	}
	write := func(x float64) string {
		one := v.Quantity
		si := quantity.Quantity{Value: x, Unit: v.Unit, Digits: quantity.RoundDecimals(x, 6)}.SI()
		return renumber(d.at(v.Span), one, si)
	}
	line := "vary " + number + " " + write(low) + " to " + write(high) + " step " + write(step)
	at := 0
	for i := range d.q.Vary {
		at = max(at, d.q.Vary[i].Span.Line)
	}
	if at > 0 {
		d.insert(at+1, line)
	} else {
		d.insert(len(d.lines)+1, "", line)
	}
	return d.done(number + " differs from pupil to pupil")
}

// Asks lists what parts can sensibly ask of a question, as the notation writes it.
func Asks(q *question.Question) []string {
	var list []string
	for i := range q.Supports {
		s := &q.Supports[i]
		if s.Reading.Known() {
			continue
		}
		word := map[question.Kind]string{question.Cable: "tension ", question.Link: "tension ", question.Strut: "thrust ", question.Meter: "reading "}[s.Kind]
		if word == "" {
			word = "force "
		}
		list = append(list, word+s.Name)
		if s.Kind == question.Clamp {
			list = append(list, "couple "+s.Name)
		}
		if s.Mu.Known() || s.Rough {
			list = append(list, "normal force "+s.Name, "friction "+s.Name, "least coefficient "+s.Name)
		}
	}
	for i := range q.Loads {
		l := &q.Loads[i]
		switch {
		case l.Kind == question.Weight && l.Mass.Status == question.Unknown:
			list = append(list, "mass "+l.Name)
		case l.Kind == question.Weight && l.Weight.Status == question.Unknown:
			list = append(list, "weight "+l.Name)
		case l.Size.Status == question.Unknown:
			list = append(list, "size "+l.Name)
		}
		if l.Kind == question.Weight && l.On.At.Status == question.Unknown {
			list = append(list, "position "+l.Name)
		} else if l.Kind == question.Weight && l.On.At.Known() {
			list = append(list, "furthest "+l.Name+" towards left", "furthest "+l.Name+" towards right", "greatest "+l.Name)
		}
		for j := range q.Supports {
			if len(list) < 40 && q.Supports[j].Kind != question.Cable {
				list = append(list, "moment "+l.Name+" about "+q.Supports[j].Name)
			}
		}
	}
	for i := range q.Bodies {
		b := &q.Bodies[i]
		if b.Weight.Status == question.Unknown {
			list = append(list, "weight "+b.Name)
		}
		if b.Mass.Status == question.Unknown {
			list = append(list, "mass "+b.Name)
		}
		if b.Centre.At.Status == question.Unknown || b.Shape == question.Frame {
			list = append(list, "centre of mass "+b.Name)
		}
		if b.Angle.Status == question.Unknown {
			list = append(list, "angle "+b.Name)
		}
	}
	return append(list, "whether it stays")
}
