package formula

import "strings"

// A Run is a stretch of a formula's plain text in one style.
type Run struct {
	Text   string
	Italic bool // a quantity's symbol
	Sub    bool // set as a subscript
}

// Runs writes n in one line, as [Text] does, in pieces that each have one style.
func Runs(n Node) []Run {
	b := line{styled: true}
	text(&b, n)
	var out []Run
	all, at := b.String(), 0
	put := func(to int, r Run) {
		if to > at {
			r.Text = all[at:to]
			out, at = append(out, r), to
		}
	}
	for _, m := range b.marks {
		put(m.from, Run{})
		put(m.sub, Run{Italic: true})
		put(m.to, Run{Sub: true})
	}
	put(len(all), Run{})
	return out
}

// A line is a formula being written in plain text.
type line struct {
	strings.Builder
	styled bool
	marks  []place
}

// A place is where a symbol stands, and where its subscript begins.
type place struct{ from, sub, to int }

// symbol writes a quantity's symbol.
func (b *line) symbol(n Node) {
	m := place{from: b.Len()}
	b.WriteString(n.Text)
	m.sub = b.Len()
	if n.Sub != "" {
		if !b.styled {
			b.WriteString("_")
		}
		b.WriteString(n.Sub)
	}
	m.to = b.Len()
	if b.styled {
		b.marks = append(b.marks, m)
	}
}
