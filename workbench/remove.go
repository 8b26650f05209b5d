package workbench

import (
	"regexp"
	"slices"
	"strings"

	"steelyard/question"
)

// Remove takes a thing away with all that can't do without it: what stands on a body, parts that ask about it, numbers
// of it that vary. Also tells each. Placeholders in the wording give way to what they stood for.
func Remove(text, thing string) (Change, error) {
	d, err := open(text)
	if err != nil {
		return Change{}, err
	}
	q := d.q
	if name, ok := strings.CutPrefix(thing, "part "); ok && q.Part(name) != nil {
		n := q.Part(name).Span.Line
		d.lines = slices.Delete(d.lines, n-1, n)
		return d.done("taken away: " + thing)
	}
	if y := d.varies(thing); y != nil {
		d.lines = slices.Delete(d.lines, y.Span.Line-1, y.Span.Line)
		return d.done(y.Thing + "." + y.Attribute + " is the same for all pupils")
	}
	line := lineOf(q, thing)
	if line == 0 {
		return Change{}, refuse("there is nothing called "+thing, "choose something on the drawing")
	}
	if q.Body(thing) != nil && len(q.Bodies) == 1 {
		return Change{}, refuse("a question needs a body, and "+thing+" is the only one", "add another one first")
	}
	said := "taken away: " + thingName(q, thing)
	gone := map[string]bool{thing: true}
	lines := map[int]string{line: ""}
	for again := true; again; { // what depends on what goes, goes
		again = false
		for name, l := range d.dependents(gone) {
			if !gone[name] {
				gone[name], again = true, true
				lines[l] = thingName(q, name)
			}
		}
	}
	for l, what := range d.mentions(gone) {
		if _, ok := lines[l]; !ok {
			lines[l] = what
		}
	}
	var also []string
	for _, l := range sortedLines(lines) {
		if lines[l] != "" {
			also = append(also, lines[l])
		}
	}
	filled := d.fillIn(gone)
	if filled {
		also = append(also, "the wording spoke of it: read it again")
	}
	for i := len(d.lines); i > 0; i-- {
		if _, ok := lines[i]; ok {
			d.lines = slices.Delete(d.lines, i-1, i)
		}
	}
	return d.done(said, also...)
}

func sortedLines(m map[int]string) []int {
	var n []int
	for l := range m {
		n = append(n, l)
	}
	slices.Sort(n)
	return n
}

// dependents are the things that need one of those that go, with their lines.
func (d *draft) dependents(gone map[string]bool) map[string]int {
	q := d.q
	out := map[string]int{}
	needs := func(p *question.Place) bool { return gone[p.Body] || gone[p.Point] && p.Point != "" }
	for i := range q.Bodies {
		b := &q.Bodies[i]
		for j := range b.Pieces {
			if gone[b.Name] {
				out[b.Pieces[j].Name] = b.Pieces[j].Span.Line
			}
		}
	}
	for i := range q.Points {
		if p := &q.Points[i]; needs(&p.Place) {
			out[p.Name] = p.Span.Line
		}
	}
	along := func(dir *question.Direction) bool { return dir != nil && dir.Along != "" && gone[dir.Along] }
	for i := range q.Supports {
		if s := &q.Supports[i]; needs(&s.On) || needs(&s.By) || s.ToPoint != "" && gone[s.ToPoint] || along(s.Direction) {
			out[s.Name] = s.Span.Line
		}
	}
	for i := range q.Loads {
		if l := &q.Loads[i]; needs(&l.On) || needs(&l.To) || along(l.Direction) {
			out[l.Name] = l.Span.Line
		}
	}
	return out
}

// mentions are the lines of parts, conditions and numbers that vary that speak of what goes.
func (d *draft) mentions(gone map[string]bool) map[int]string {
	q := d.q
	out := map[int]string{}
	for i := range q.Conditions {
		if c := &q.Conditions[i]; gone[c.Name] || gone[c.Other] {
			out[c.Span.Line] = strings.TrimSpace(d.lines[c.Span.Line-1])
		}
	}
	for i := range q.Parts {
		if p := &q.Parts[i]; gone[p.Thing] || gone[p.Other] || gone[p.Place.Body] || gone[p.Place.Point] {
			out[p.Span.Line] = "part " + p.Name + ": find " + q.Asked(p)
		}
	}
	for i := range q.Vary {
		if v := &q.Vary[i]; gone[v.Thing] {
			out[v.Span.Line] = v.Thing + "." + v.Attribute + " no longer varies"
		}
	}
	return out
}

var holder = regexp.MustCompile(`\{([^{}.]+)\.[^{}]*\}`)

// fillIn writes what placeholders of things that go stood for; it reports whether there were any.
func (d *draft) fillIn(gone map[string]bool) (any bool) {
	for i, l := range d.lines {
		d.lines[i] = holder.ReplaceAllStringFunc(l, func(p string) string {
			if !gone[holder.FindStringSubmatch(p)[1]] {
				return p
			}
			any = true
			return strings.NewReplacer("{", "", "}", "").Replace(d.q.Fill(p))
		})
	}
	return any
}
