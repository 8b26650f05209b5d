package question

import (
	"slices"
	"strconv"
	"strings"
)

// A nameKind is a kind of named thing.
type nameKind uint8

const (
	bodyName nameKind = 1 << iota
	supportName
	loadName
	pointName
	pieceName
	anyName = bodyName | supportName | loadName | pointName | pieceName
)

// A named thing of the file.
type named struct {
	name string
	kind nameKind
	what string // "load"
	span Span
}

// things lists all named things in the order of their kinds.
func (q *Question) things() []named {
	n := make([]named, 0, len(q.Bodies)+len(q.Points)+len(q.Supports)+len(q.Loads))
	for i := range q.Bodies {
		b := &q.Bodies[i]
		n = append(n, named{b.Name, bodyName, "body", b.Span})
		for j := range b.Pieces {
			n = append(n, named{b.Pieces[j].Name, pieceName, "piece", b.Pieces[j].Span})
		}
	}
	for i := range q.Points {
		n = append(n, named{q.Points[i].Name, pointName, "point", q.Points[i].Span})
	}
	for i := range q.Supports {
		s := &q.Supports[i]
		n = append(n, named{s.Name, supportName, s.Kind.String(), s.Span})
	}
	for i := range q.Loads {
		l := &q.Loads[i]
		what := "load"
		switch l.Kind {
		case Force:
			what = "force"
		case Couple:
			what = "couple"
		}
		n = append(n, named{l.Name, loadName, what, l.Span})
	}
	return n
}

// kindOf is the kind of the thing of that name, and what it is; 0 if there is none.
func (p *parser) kindOf(name string) (nameKind, string) {
	for _, n := range p.things {
		if n.name == name {
			return n.kind, n.what
		}
	}
	return 0, ""
}

// names returns the names of things of the kinds wanted, in the order of the file.
func (p *parser) names(want nameKind) []string {
	var names []string
	for _, n := range p.things {
		if n.kind&want != 0 && n.name != "" {
			names = append(names, n.name)
		}
	}
	return names
}

// twice finds names that were given to two things.
func (p *parser) twice() {
	for i, n := range p.things {
		for _, m := range p.things[:i] {
			if n.name != m.name || n.name == "" {
				continue
			}
			first, second := m, n
			if first.span.Line > second.span.Line {
				first, second = second, first
			}
			p.faultSpan(second.span, "the name "+n.name+" is used twice", "it already names the "+first.what+" on line "+
				strconv.Itoa(first.span.Line)+"; choose another")
			break
		}
	}
	for i := range p.q.Parts {
		for j := range i {
			if a := &p.q.Parts[i]; a.Name == p.q.Parts[j].Name && a.Name != "" {
				p.faultSpan(a.Span, "there are two parts "+a.Name, "give one of them another letter")
				break
			}
		}
	}
}

// must finds the thing of that name and wants it to be of one of the kinds; what says which.
func (p *parser) must(name string, span Span, want nameKind, what string) bool {
	if name == "" || name == faulty || slices.Contains(p.lost, name) {
		return false
	}
	kind, is := p.kindOf(name)
	suggest := want
	if what == "support" {
		suggest = supportName
	}
	switch {
	case kind == 0:
		p.lost = append(p.lost, name) // said once
		mend := didYouMean(name, p.names(suggest))
		if mend == "" {
			mend = "describe it on a line of its own"
		} else if strings.HasPrefix(mend, "there is ") && len(p.names(suggest)) > 8 {
			mend = "write one of the names of the file"
		}
		p.faultSpan(span, "there is no "+what+" "+clip(name), mend)
	case kind&want == 0:
		mend := "name a " + what
		if n := p.names(suggest); len(n) > 0 && len(n) <= 8 {
			mend += ", such as " + n[0]
		}
		p.faultSpan(span, name+" is a "+is+", no "+what, mend)
	default:
		return true
	}
	return false
}
