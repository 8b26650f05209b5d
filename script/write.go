package script

import "strings"

// String writes a line in one plain form, with * for every product: "R_B*2.4 = 180*1.3 + 45*2.9".
func (l Line) String() string {
	var b strings.Builder
	if l.About != "" {
		b.WriteString("about " + l.About + ": ")
	}
	switch l.Kind {
	case NotRead:
		return "not read: " + l.Unread
	case Statement:
		return strings.TrimSuffix(b.String(), ": ") + "{" + strings.Join(l.Words, " ") + "}"
	}
	for i := range l.Sides {
		if i > 0 {
			relation := l.Relation
			if i-1 < len(l.Links) {
				relation = l.Links[i-1]
			}
			b.WriteString(" " + relation + " ")
		}
		l.Sides[i].write(&b, 0)
	}
	if len(l.Words) > 0 {
		b.WriteString(" {" + strings.Join(l.Words, " ") + "}")
	}
	return b.String()
}

// String writes an expression in one plain form.
func (e Expr) String() string {
	var b strings.Builder
	e.write(&b, 0)
	return b.String()
}

// write writes an expression; around is how closely the operator around it binds.
func (e *Expr) write(b *strings.Builder, around int) {
	level := 9
	switch e.Op {
	case Add, Subtract:
		level = 1
	case Multiply, Divide:
		level = 3
	case Negate:
		level = 2
	case Power:
		level = 5
	}
	if level < around {
		b.WriteByte('(')
		defer b.WriteByte(')')
	}
	two := func(sign string, left, right int) {
		e.Args[0].write(b, left)
		b.WriteString(sign)
		e.Args[1].write(b, right)
	}
	switch e.Op {
	case Number:
		q := e.Quantity
		q.Unit.Symbol = ""
		b.WriteString(digitsOf(q.Digits, q.Value))
		if u := e.Quantity.Unit.Symbol; u == "°" {
			b.WriteString(u)
		} else if u != "" {
			b.WriteString("[" + u + "]")
		}
	case Name:
		b.WriteString(e.Text)
	case Add:
		two(" + ", 1, 2)
	case Subtract:
		two(" - ", 1, 2)
	case Multiply:
		two("*", 3, 4)
	case Divide:
		two("/", 3, 4)
	case Negate:
		b.WriteByte('-')
		e.Args[0].write(b, 3)
	case Power:
		two("^", 6, 6)
	case Root, Function:
		b.WriteString(e.Text + "(")
		e.Args[0].write(b, 0)
		b.WriteByte(')')
	}
}
