package office

import (
	"bytes"
	"fmt"
	"unicode/utf8"
)

// A Part is an XML file being written. Names of elements and attributes are the caller's own; words are escaped.
type Part struct {
	b    bytes.Buffer
	open []string
}

// NewPart starts an XML file.
func NewPart() *Part {
	p := &Part{}
	p.b.WriteString(`<?xml version="1.0" encoding="UTF-8" standalone="yes"?>` + "\n")
	return p
}

// Fragment starts a piece of XML to be put into another part.
func Fragment() *Part { return &Part{} }

// Open opens an element; attributes are names and values in turns.
func (p *Part) Open(name string, attributes ...string) *Part {
	p.start(name, attributes)
	p.b.WriteByte('>')
	p.open = append(p.open, name)
	return p
}

// Empty writes an element without contents.
func (p *Part) Empty(name string, attributes ...string) *Part {
	p.start(name, attributes)
	p.b.WriteString("/>")
	return p
}

// Leaf writes an element with words in it.
func (p *Part) Leaf(name, text string, attributes ...string) *Part {
	return p.Open(name, attributes...).Text(text).Shut(1)
}

// Text writes words.
func (p *Part) Text(text string) *Part {
	p.b.WriteString(Escape(text))
	return p
}

// Raw writes XML as it is.
func (p *Part) Raw(xml string) *Part {
	p.b.WriteString(xml)
	return p
}

// Shut closes the elements opened last.
func (p *Part) Shut(n int) *Part {
	for range n {
		last := len(p.open) - 1
		p.b.WriteString("</" + p.open[last] + ">")
		p.open = p.open[:last]
	}
	return p
}

// Bytes closes all that is open and gives the file.
func (p *Part) Bytes() []byte {
	p.Shut(len(p.open))
	return p.b.Bytes()
}

func (p *Part) String() string { return string(p.Bytes()) }

func (p *Part) start(name string, attributes []string) {
	if len(attributes)%2 == 1 {
		panic(fmt.Sprintf("element %s: attribute %q has no value", name, attributes[len(attributes)-1]))
	}
	p.b.WriteString("<" + name)
	for i := 0; i < len(attributes); i += 2 {
		p.b.WriteString(" " + attributes[i] + `="` + Escape(attributes[i+1]) + `"`)
	}
}

// Escape escapes what XML reserves, and leaves out what no XML file may hold.
func Escape(text string) string {
	var b bytes.Buffer
	for i, r := range text {
		switch {
		case r == '&':
			b.WriteString("&amp;")
		case r == '<':
			b.WriteString("&lt;")
		case r == '>':
			b.WriteString("&gt;")
		case r == '"':
			b.WriteString("&quot;")
		case r == '\t', r == '\n':
			b.WriteByte(' ') // would be lost, or folded, in most of the places that words stand in
		case r < ' ', r == 0xFFFE, r == 0xFFFF:
		case r == utf8.RuneError && !bytes.HasPrefix([]byte(text[i:]), []byte("\uFFFD")): // no UTF-8
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}
