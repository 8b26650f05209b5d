package workbench

import (
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"steelyard/question"
)

// words of the notation: a thing of that name can't be told from them by looking at one word.
var words = strings.Fields(`question level idea traps g text body piece point support cable strut link load force couple given part vary
	uniform light length height weight mass centre center of angle marks every zero at right left end placed block by frame rod from to
	rectangle triangle disc radius hole density the foot lower bottom top upper middle unknown up down above below along back angles
	rest pivot hinge clamp strap meter spring floor wall slope roller on smooth rough coefficient friction pushes pulls reading tension
	thrust hung clockwise anticlockwise about tip lift slip find show is figures horizontal vertical direction normal size position
	furthest towards range greatest least moment total resultant whether it stays in step m cm mm km kg N kN t`)

// Rename gives a thing another name, wherever it is spoken of.
func Rename(text, thing, name string) (Change, error) {
	d, err := open(text)
	if err != nil {
		return Change{}, err
	}
	name = strings.TrimSpace(name)
	switch {
	case lineOf(d.q, thing) == 0:
		return Change{}, refuse("there is nothing called "+thing, "choose something on the drawing")
	case name == thing:
		return Change{Text: text, Said: "it is called that already"}, nil
	case !isName(name):
		return Change{}, refuse(strconv.Quote(name)+" cannot be a name", "a name is one word of letters and digits and begins with a letter, such as P")
	case d.taken(name):
		return Change{}, refuse("something is called "+name+" already", "choose another name")
	case slices.Contains(words, thing):
		return Change{}, refuse(thing+" is a word of the notation too, so it can't be renamed here", "rename it in the notation")
	case slices.Contains(words, name) && name != "N" && name != "m":
		return Change{}, refuse(name+" is a word of the notation", "choose another name")
	}
	for i, l := range d.lines {
		d.lines[i] = renamed(l, thing, name)
	}
	c, err := d.done(thing + " is now called " + name)
	if err != nil {
		return c, err
	}
	if q, err := question.Parse("", c.Text); err == nil && q.Body(name) == nil && q.Support(name) == nil && q.Load(name) == nil && q.Point(name) == nil && q.Piece(name) == nil {
		return Change{}, refuse(thing+" can't be renamed here", "rename it in the notation")
	}
	return c, nil
}

// renamed is a line with a name replaced: words of the notation, and placeholders inside texts; comments stay.
func renamed(l, from, to string) string {
	var b strings.Builder
	for i := 0; i < len(l); {
		switch {
		case l[i] == '#':
			b.WriteString(l[i:])
			return b.String()
		case l[i] == '"' || strings.HasPrefix(l[i:], "“"):
			open, mark := 1, `"`
			if l[i] != '"' {
				open, mark = len("“"), "”"
			}
			end := closing(l, i+open, mark)
			b.WriteString(strings.ReplaceAll(l[i:end], "{"+from+".", "{"+to+"."))
			i = end
		case isNameByte(l, i):
			n := nameLength(l[i:])
			if word := l[i : i+n]; word == from {
				b.WriteString(to)
			} else {
				b.WriteString(word)
			}
			i += n
		default:
			_, n := utf8.DecodeRuneInString(l[i:])
			b.WriteString(l[i : i+n])
			i += n
		}
	}
	return b.String()
}

func isNameByte(l string, i int) bool {
	r, _ := utf8.DecodeRuneInString(l[i:])
	return unicode.IsLetter(r) || unicode.IsDigit(r)
}

func nameLength(s string) int {
	for i, r := range s {
		if !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '_' && r != '-' && r != '\'' {
			return i
		}
	}
	return len(s)
}

func isName(s string) bool {
	for i, r := range s {
		if !unicode.IsLetter(r) && (i == 0 || !unicode.IsDigit(r) && r != '_' && r != '-' && r != '\'') {
			return false
		}
	}
	return s != "" && utf8.RuneCountInString(s) <= 40
}
