package workbench

import (
	"slices"
	"strconv"
	"strings"

	"steelyard/quantity"
	"steelyard/question"
)

// Set writes another number, kind, label or wording in place of the one that is there, or gives one where there is none.
// What is one of the names of Fields; to is as it is typed, and a number without a unit keeps the unit that it has.
func Set(text, thing, what, to string) (Change, error) {
	d, err := open(text)
	if err != nil {
		return Change{}, err
	}
	to = strings.Join(strings.Fields(to), " ")
	if strings.ContainsAny(to, "#\x00") && what != "label" && what != "title" && what != "wording" {
		return Change{}, refuse("# begins a comment and can't stand there", "leave it out")
	}
	if err := d.set(thing, what, to); err != nil {
		return Change{}, err
	}
	said := what
	if n := fieldName(what); n != "" {
		said = n
	}
	if thing != "" {
		said = thingName(d.q, thing) + ": " + said
	}
	if to != "" {
		said += " " + to
	}
	return d.done(said)
}

func (d *draft) set(thing, what, to string) error {
	q := d.q
	if thing == "" {
		return d.setWhole(what, to)
	}
	if name, ok := strings.CutPrefix(thing, "part "); ok && q.Part(name) != nil {
		return d.part(name, q.Part(name).Span.Line, what, to)
	}
	if y := d.varies(thing); y != nil {
		return d.setVary(y, what, to)
	}
	line := lineOf(q, thing)
	if line == 0 {
		return refuse("there is nothing called "+thing, "choose something on the drawing")
	}
	switch what {
	case "label":
		return d.label(line, to)
	case "kind":
		return d.kind(thing, line, to)
	case "at", "from", "to", "by", "centre":
		if what == "centre" && to == "" {
			return d.drop(line, "centre of mass", "center of mass")
		}
		return d.setPlace(thing, what, to)
	case "far":
		return d.far(thing, line, to)
	case "direction":
		return d.direction(thing, line, to)
	case "weight-acts":
		return d.weightActs(line, to)
	case "surface":
		return d.surface(line, to)
	case "hung":
		return d.hung(thing, line, to)
	case "sense":
		return d.sense(thing, line, to)
	case "above":
		return d.flag(line, "above", to == "yes")
	case "placed":
		return d.clause(line, "placed at", to, "placed at")
	}
	return d.number(thing, what, line, to)
}

// varies finds the number that varies of "vary K.weight".
func (d *draft) varies(thing string) *question.Vary {
	name, ok := strings.CutPrefix(thing, "vary ")
	for i := range d.q.Vary {
		if y := &d.q.Vary[i]; ok && y.Thing+"."+y.Attribute == name {
			return y
		}
	}
	return nil
}

func (d *draft) setVary(y *question.Vary, what, to string) error {
	v := map[string]question.Value{"from": y.From, "to": y.To, "step": y.Step}[what]
	if v.Status != question.Given {
		return refuse("what varies has a least and a greatest value and a step", "")
	}
	written, _, err := read(to, []quantity.Dimension{v.Unit.Dimension}, v.Unit)
	if err != nil {
		return err
	}
	d.put(v.Span, written)
	return nil
}

// lineOf is the line that a thing's statement stands on; 0 if there is none.
func lineOf(q *question.Question, thing string) int {
	switch {
	case q.Body(thing) != nil:
		return q.Body(thing).Span.Line
	case q.Support(thing) != nil:
		return q.Support(thing).Span.Line
	case q.Load(thing) != nil:
		return q.Load(thing).Span.Line
	case q.Point(thing) != nil:
		return q.Point(thing).Span.Line
	case q.Piece(thing) != nil:
		return q.Piece(thing).Span.Line
	}
	return 0
}

// quoted is a text in quotation marks.
func quoted(s string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(s) + `"`
}

func (d *draft) label(line int, to string) error {
	s := cut(d.lines[line-1])
	i := s.find(`"`)
	switch {
	case to == "" && i >= 0:
		d.lines[line-1] = s.without(i)
	case to != "":
		d.lines[line-1] = s.with(i, quoted(to))
	}
	return nil
}

// drop takes a clause out, if it is there.
func (d *draft) drop(line int, words ...string) error {
	s := cut(d.lines[line-1])
	if i := s.find(words...); i >= 0 {
		d.lines[line-1] = s.without(i)
	}
	return nil
}

// clause writes a clause; it goes if to is empty.
func (d *draft) clause(line int, word, to string, words ...string) error {
	if to == "" {
		return d.drop(line, words...)
	}
	s := cut(d.lines[line-1])
	d.lines[line-1] = s.with(s.find(words...), word+" "+to)
	return nil
}

func (d *draft) flag(line int, word string, on bool) error {
	s := cut(d.lines[line-1])
	switch i := s.find(word); {
	case on && i < 0:
		d.lines[line-1] = s.with(-1, word)
	case !on && i >= 0:
		d.lines[line-1] = s.without(i)
	}
	return nil
}

// setPlace takes a place as it is typed: 1.25 m, 1.25, left end, (0.2 m, 0.4 m), unknown, or a named point.
func (d *draft) setPlace(thing, what, to string) error {
	if to == "" {
		return refuse("the place is missing", "write a distance such as 0.60 m, or left end")
	}
	if g, err := gripOf(d.q, thing, what); err == nil {
		if u, n := d.unitFor(g); bare(to) {
			to += unitOf("0 " + symbol(u))
			_ = n
		}
		if g.x != nil && g.way == along && g.thing == thing && g.x.Known() && number(to) {
			d.put(g.x.Span, to)
			return nil
		}
	} else if bare(to) {
		u, _ := lengthUnit(d.q, "")
		to += " " + symbol(u)
	}
	return d.place(thing, what, to)
}

func (d *draft) unitFor(g grip) (quantity.Unit, int) {
	if g.x != nil && g.x.Known() {
		return g.x.Unit, g.x.Decimals
	}
	return lengthUnit(d.q, g.body)
}

func symbol(u quantity.Unit) string {
	if u.Symbol == "°" {
		return "deg"
	}
	return u.Symbol
}

// bare reports whether a text is a number without a unit.
func bare(s string) bool {
	_, err := strconv.ParseFloat(strings.Replace(s, ",", ".", 1), 64)
	return err == nil
}

// number reports whether a text is a length.
func number(s string) bool {
	_, err := quantity.Parse(s, quantity.Length, quantity.Unit{})
	return err == nil
}

// dimensions are what an attribute may be measured in.
func dimensions(q *question.Question, thing, attribute string) []quantity.Dimension {
	switch attribute {
	case "length", "height", "marks every", "width", "radius":
		return []quantity.Dimension{quantity.Length}
	case "weight", "mass":
		return []quantity.Dimension{quantity.Force, quantity.Mass}
	case "reading":
		return []quantity.Dimension{quantity.Force}
	case "angle":
		return []quantity.Dimension{quantity.Angle}
	case "coefficient":
		return []quantity.Dimension{quantity.Number}
	case "density":
		return []quantity.Dimension{quantity.AreaDensity, quantity.LineDensity}
	case "size":
		if l := q.Load(thing); l != nil {
			switch l.Kind {
			case question.Force:
				return []quantity.Dimension{quantity.Force}
			case question.Couple:
				return []quantity.Dimension{quantity.Moment}
			case question.Spread:
				return []quantity.Dimension{quantity.LineLoad, quantity.LineDensity}
			}
		}
	}
	return nil
}

// number writes a number of a thing.
func (d *draft) number(thing, what string, line int, to string) error {
	q := d.q
	attribute := what
	dims := dimensions(q, thing, what)
	if dims == nil {
		return refuse(thing+" has no "+what, "change it in the notation")
	}
	v := q.Value(thing, attribute)
	if what == "weight" || what == "mass" { // one of the two is given
		for _, other := range []string{"weight", "mass"} {
			if o := q.Value(thing, other); o != nil && o.Status != question.Absent {
				v, attribute = o, other
			}
		}
	}
	if v == nil {
		return refuse(thing+" has no "+what, "change it in the notation")
	}
	if to == "" {
		if v.Status == question.Absent {
			return nil
		}
		return d.drop(line, clauseWords(q, thing, attribute)...)
	}
	if to != "unknown" {
		unit := v.Unit
		if v.Status != question.Given {
			unit = usual(q, dims[0])
			if what == "mass" {
				unit = quantity.SIUnit(quantity.Mass)
			}
		}
		written, dim, err := read(to, dims, unit)
		if err != nil {
			return err
		}
		to = written
		if v.Unit.Symbol != "" && unitOf(d.at(v.Span)) != "" && bare(to) {
			to += unitOf(d.at(v.Span))
		}
		if word := map[quantity.Dimension]string{quantity.Force: "weight", quantity.Mass: "mass"}[dim]; word != attribute && (what == "weight" || what == "mass") {
			return d.clause(line, word, to, "weight", "mass")
		}
	}
	if v.Status != question.Absent {
		d.put(v.Span, to)
		return nil
	}
	words := clauseWords(q, thing, attribute)
	return d.clause(line, words[0], to, words...)
}

// read checks a number as it is typed, and gives it a unit if it has none.
func read(to string, dims []quantity.Dimension, unit quantity.Unit) (string, quantity.Dimension, error) {
	var refusal error
	for _, dim := range dims {
		bareUnit := quantity.Unit{}
		if unit.Dimension == dim {
			bareUnit = unit
		}
		_, err := quantity.Parse(to, dim, bareUnit)
		if err == nil {
			if bare(to) && bareUnit.Symbol != "" {
				to += " " + symbol(bareUnit)
			}
			return to, dim, nil
		}
		if refusal == nil {
			refusal = err
		}
	}
	if r, ok := refusal.(*quantity.Refusal); ok {
		return "", 0, refuse(r.What, r.Mend)
	}
	return "", 0, refusal
}

// usual is the unit that numbers of a dimension have in a question, else the SI's.
func usual(q *question.Question, dim quantity.Dimension) quantity.Unit {
	for _, n := range q.Numbers() {
		if v := q.Value(n.Thing, n.Attribute); v != nil && v.Known() && v.Unit.Dimension == dim {
			return v.Unit
		}
	}
	return quantity.SIUnit(dim)
}

// clauseWords are the words that a number's clause begins with, the usual one first.
func clauseWords(q *question.Question, thing, attribute string) []string {
	switch attribute {
	case "coefficient":
		return []string{"coefficient", "coefficient of friction"}
	case "reading":
		if s := q.Support(thing); s != nil && s.Kind == question.Meter {
			return []string{"reading", "force", "tension", "thrust"}
		}
		return []string{"force", "reading", "tension", "thrust"}
	}
	return []string{attribute}
}

// kind makes a support another one. What the new kind can't have goes.
func (d *draft) kind(thing string, line int, to string) error {
	q := d.q
	p := q.Support(thing)
	if p == nil {
		return refuse(thing+" is no support", "")
	}
	lines := []string{"cable", "strut", "link"}
	if !slices.Contains(kindWords, to) && !slices.Contains(lines, to) {
		return refuse(strconv.Quote(to)+" is no kind of support", "choose one of the list")
	}
	s := cut(d.lines[line-1])
	word, _, _ := strings.Cut(strings.TrimLeft(s.line, " \t"), " ")
	if wasLine, isNow := isLine(p.Kind), slices.Contains(lines, to); wasLine != isNow {
		return refuse("a "+p.Kind.String()+" can't become a "+to+" here", "take it away and add a "+to)
	} else if isNow {
		return d.lineKind(s, line, word, p.Kind.String(), to)
	}
	first := to
	if to == "slope" {
		first = "slope 20 deg"
		if p.Angle.Known() {
			first = "slope " + d.at(p.Angle.Span)
		}
	}
	d.lines[line-1] = s.with(0, first)
	var gone []string
	contact := []string{"rest", "floor", "wall", "slope", "roller"}
	if !slices.Contains(contact, to) {
		gone = append(gone, "smooth", "rough", "coefficient")
	}
	if to != "rest" {
		gone = append(gone, "above")
	}
	if to == "hinge" || to == "clamp" || to == "pivot" || to == "floor" || to == "slope" {
		gone = append(gone, "pushes", "pulls")
	}
	if to == "hinge" || to == "clamp" {
		gone = append(gone, "reading", "force")
	}
	for _, w := range gone {
		if err := d.drop(line, w); err != nil {
			return err
		}
	}
	return nil
}

var kindWords = []string{"rest", "pivot", "hinge", "clamp", "strap", "force meter", "spring", "floor", "wall", "slope", "roller"}

// lineKind makes a cable a strut or a link, or the other way round.
func (d *draft) lineKind(s statement, line int, word, was, to string) error {
	l := strings.Replace(s.line, word+" ", to+" ", 1)
	s = cut(l)
	swap := func(from, by string) {
		if i := s.find(from); i >= 0 {
			s = cut(s.with(i, by+strings.TrimPrefix(s.text(i), from)))
		}
	}
	switch {
	case to == "strut":
		swap("to", "from")
		swap("pulls", "pushes")
	case was == "strut":
		swap("from", "to")
		swap("pushes", "pulls")
	}
	d.lines[line-1] = s.line
	return nil
}

// far says where the other end of a cable, strut or link is.
func (d *draft) far(thing string, line int, to string) error {
	p := d.q.Support(thing)
	if p == nil || !isLine(p.Kind) {
		return refuse(thing+" has no other end", "")
	}
	if err := d.drop(line, "pulls", "pushes", "at"); err != nil {
		return err
	}
	word := "to"
	if p.Kind == question.Strut {
		word = "from"
	}
	return d.clause(line, word, to, "to", "from")
}

// direction says which way a force pushes, or a cable pulls.
func (d *draft) direction(thing string, line int, to string) error {
	if l := d.q.Load(thing); l != nil && l.Kind == question.Force {
		s := cut(d.lines[line-1])
		size := "unknown"
		if l.Size.Known() {
			size = d.at(l.Size.Span)
		}
		for i := range s.clauses {
			if strings.HasPrefix(s.text(i), size+" ") {
				d.lines[line-1] = s.with(i, size+" "+to)
				return nil
			}
		}
		return refuse("the direction of "+thing+" can't be found on its line", "change it in the notation")
	}
	p := d.q.Support(thing)
	if p == nil {
		return refuse(thing+" has no direction of its own", "")
	}
	word := "pushes"
	if p.Kind == question.Cable || p.Kind == question.Link || p.Kind == question.Meter || p.Kind == question.Spring {
		word = "pulls"
	}
	if isLine(p.Kind) {
		if to == "" {
			return refuse("a "+p.Kind.String()+" needs a direction or another end", "write one, such as 35 deg above left")
		}
		if err := d.drop(line, "to", "from"); err != nil {
			return err
		}
	}
	return d.clause(line, word, to, "pulls", "pushes", "at")
}

// weightActs says where a body's weight acts: uniform, light, or a place of its centre of mass.
func (d *draft) weightActs(line int, to string) error {
	if to != "uniform" && to != "light" {
		if bare(to) {
			u, _ := lengthUnit(d.q, "")
			to += " " + symbol(u)
		}
		to = "centre of mass at " + to
		if strings.HasSuffix(to, " unknown") {
			to = "centre of mass unknown"
		}
	}
	s := cut(d.lines[line-1])
	i := s.find("uniform", "light", "centre of mass", "center of mass")
	switch {
	case i >= 0:
		d.lines[line-1] = s.with(i, to)
	case len(s.clauses) > 0 && strings.HasPrefix(s.text(0), "block"):
		d.lines[line-1] = s.line[:s.clauses[0].to] + ", " + to + s.line[s.clauses[0].to:]
	case len(s.clauses) > 0:
		d.lines[line-1] = s.line[:s.clauses[0].from] + to + ", " + s.line[s.clauses[0].from:]
	}
	if to == "light" {
		return d.drop(line, "weight", "mass")
	}
	if b := cut(d.lines[line-1]); b.find("weight", "mass", "frame") < 0 {
		return d.clause(line, "weight", "100 "+symbol(usual(d.q, quantity.Force)), "weight")
	}
	return nil
}

// surface says how rough a contact is: smooth, rough, or a coefficient of friction.
func (d *draft) surface(line int, to string) error {
	s := cut(d.lines[line-1])
	i := s.find("smooth", "rough", "coefficient")
	switch {
	case to == "" && i >= 0:
		d.lines[line-1] = s.without(i)
	case to == "smooth" || to == "rough":
		d.lines[line-1] = s.with(i, to)
	case to != "":
		d.lines[line-1] = s.with(i, "coefficient "+strings.TrimPrefix(to, "coefficient "))
	}
	return nil
}

func (d *draft) hung(thing string, line int, to string) error {
	l := d.q.Load(thing)
	if l == nil || l.Kind != question.Weight {
		return refuse(thing+" neither stands nor hangs", "")
	}
	s := cut(d.lines[line-1])
	i := s.find("on", "hung from")
	if i < 0 {
		return refuse("the place of "+thing+" can't be found on its line", "change it in the notation")
	}
	rest := strings.TrimPrefix(strings.TrimPrefix(s.text(i), "on "), "hung from ")
	word := "on "
	if to == "yes" || to == "hung from" {
		word = "hung from "
	}
	d.lines[line-1] = s.with(i, word+rest)
	return nil
}

func (d *draft) sense(thing string, line int, to string) error {
	if to != "clockwise" && to != "anticlockwise" {
		return refuse("a couple turns clockwise or anticlockwise", "")
	}
	s := cut(d.lines[line-1])
	for i := range s.clauses {
		t := s.text(i)
		if size, ok := strings.CutSuffix(t, " anticlockwise"); ok {
			d.lines[line-1] = s.with(i, size+" "+to)
			return nil
		} else if size, ok := strings.CutSuffix(t, " clockwise"); ok {
			d.lines[line-1] = s.with(i, size+" "+to)
			return nil
		}
	}
	return refuse(thing+" does not turn", "")
}

// setWhole changes what belongs to the question as a whole.
func (d *draft) setWhole(what, to string) error {
	line := func(word, rest string, after int) error {
		for i, l := range d.lines {
			if first, _, _ := strings.Cut(strings.TrimSpace(l), " "); first == word {
				if rest == "" {
					d.lines = append(d.lines[:i], d.lines[i+1:]...)
				} else {
					_, comment := comment(l)
					d.lines[i] = strings.TrimRight(word+" "+rest+comment, " ")
				}
				return nil
			}
		}
		if rest != "" {
			d.insert(after, word+" "+rest)
		}
		return nil
	}
	switch what {
	case "title":
		if to == "" {
			return refuse("the title is missing", "a few words are enough")
		}
		return line("question", quoted(to), 1)
	case "level":
		return line("level", to, 2)
	case "idea":
		if to != "" {
			to = quoted(to)
		}
		return line("idea", to, 2)
	case "g":
		if bare(to) {
			to += " N/kg"
		}
		return line("g", to, 2)
	}
	return refuse("a question has no "+what, "change it in the notation")
}

// comment splits a line before its comment; the spaces before the comment go with it.
func comment(l string) (rest, note string) {
	for i := 0; i < len(l); {
		switch {
		case l[i] == '"':
			i = closing(l, i+1, `"`)
		case strings.HasPrefix(l[i:], "“"):
			i = closing(l, i+len("“"), "”")
		case l[i] == '#':
			k := len(strings.TrimRight(l[:i], " \t"))
			return l[:k], l[k:]
		default:
			i++
		}
	}
	k := len(strings.TrimRight(l, " \t\r"))
	return l[:k], l[k:]
}

// part changes the marks, the figures or the wording of a part.
func (d *draft) part(name string, line int, what, to string) error {
	if what != "marks" && what != "figures" && what != "wording" {
		return refuse("a part has no "+what, "change it in the notation")
	}
	body, note := comment(d.lines[line-1])
	if what == "wording" {
		if i := strings.IndexByte(body, '"'); i >= 0 {
			body = strings.TrimRight(body[:i], " ")
		}
		if to != "" {
			body += "  " + quoted(to)
		}
		d.lines[line-1] = body + note
		return nil
	}
	if n, err := strconv.Atoi(to); to != "" && (err != nil || n < 0 || n > 100) {
		return refuse(strconv.Quote(to)+" is no number of "+what, "write a whole number")
	}
	end := len(body)
	if i := strings.IndexByte(body, '"'); i >= 0 {
		end = i
	}
	head, wording := body[:end], body[end:]
	words := strings.Fields(head)
	for i, w := range words {
		if w == what && i+1 < len(words) {
			k := strings.LastIndex(head, what+" ")
			rest := strings.TrimLeft(head[k+len(what):], " ")
			old := len(rest) - len(strings.TrimLeft(rest, "0123456789"))
			if to == "" {
				head = strings.TrimRight(head[:k], " ") + rest[old:]
			} else {
				head = head[:k] + what + " " + to + rest[old:]
			}
			d.lines[line-1] = head + wording + note
			return nil
		}
	}
	if to != "" {
		head = strings.TrimRight(head, " ") + "  " + what + " " + to
		if wording != "" {
			head += "  "
		}
	}
	d.lines[line-1] = head + wording + note
	return nil
}
