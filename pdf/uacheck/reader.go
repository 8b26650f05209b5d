package uacheck

import (
	"bytes"
	"compress/zlib"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"unicode/utf16"
)

// The kinds of object: float64, string (a text or hexadecimal string, as its bytes), bool, nil, and these.
type (
	name  string
	ref   int
	dict  map[name]any
	array []any
	// A keyword is an operator of a page's content.
	keyword string
	stream  struct {
		dict dict
		data []byte
	}
)

// A file is a PDF file with its objects found.
type file struct {
	b       []byte
	at      map[int]int
	trailer dict
	had     map[int]any
}

func open(b []byte) (*file, error) {
	i := bytes.LastIndex(b, []byte("startxref"))
	if i < 0 {
		return nil, errors.New("there is no startxref")
	}
	l := &lexer{b: b, at: i + len("startxref")}
	start, ok := l.object().(float64)
	if !ok || start < 0 || int(start) >= len(b) || !bytes.HasPrefix(b[int(start):], []byte("xref")) {
		return nil, errors.New("startxref doesn't lead to a plain table of objects")
	}
	f := &file{b: b, at: map[int]int{}, had: map[int]any{}}
	l = &lexer{b: b, at: int(start) + 4}
	for {
		first := l.object()
		if first == keyword("trailer") {
			break
		}
		from, ok1 := first.(float64)
		count, ok2 := l.object().(float64)
		if !ok1 || !ok2 {
			return nil, errors.New("the table of objects cannot be read")
		}
		for n := int(from); n < int(from+count); n++ {
			offset, ok := l.object().(float64)
			l.object()
			kind := l.object()
			if !ok {
				return nil, errors.New("the table of objects cannot be read")
			}
			if kind == keyword("n") {
				f.at[n] = int(offset)
			}
		}
	}
	f.trailer, ok = l.object().(dict)
	if !ok {
		return nil, errors.New("there is no trailer")
	}
	return f, nil
}

// get follows references to the thing itself.
func (f *file) get(v any) any {
	for range 20 {
		r, is := v.(ref)
		if !is {
			return v
		}
		if had, ok := f.had[int(r)]; ok {
			v = had
			continue
		}
		v = f.read(int(r))
		f.had[int(r)] = v
	}
	return nil
}

func (f *file) read(n int) any {
	at, ok := f.at[n]
	if !ok || at < 0 || at >= len(f.b) {
		return nil
	}
	l := &lexer{b: f.b, at: at}
	if number, ok := l.object().(float64); !ok || int(number) != n {
		return nil
	}
	l.object()
	if l.object() != keyword("obj") {
		return nil
	}
	v := l.object()
	d, is := v.(dict)
	if !is || l.object() != keyword("stream") {
		return v
	}
	for l.at < len(f.b) && (f.b[l.at] == '\r' || f.b[l.at] == '\n') {
		l.at++
	}
	length, _ := f.get(d["Length"]).(float64)
	if length < 0 || l.at+int(length) > len(f.b) {
		return nil
	}
	data := f.b[l.at : l.at+int(length)]
	if d["Filter"] == name("FlateDecode") {
		z, err := zlib.NewReader(bytes.NewReader(data))
		if err != nil {
			return nil
		}
		if data, err = io.ReadAll(z); err != nil {
			return nil
		}
	}
	return stream{d, data}
}

func (f *file) dict(v any) dict {
	switch v := f.get(v).(type) {
	case dict:
		return v
	case stream:
		return v.dict
	}
	return nil
}

func (f *file) array(v any) array {
	if a, ok := f.get(v).(array); ok {
		return a
	}
	return nil
}

// text reads a text string.
func (f *file) text(v any) string {
	s, _ := f.get(v).(string)
	if len(s) < 2 || s[:2] != "\xFE\xFF" {
		return s
	}
	var units []uint16
	for i := 2; i+1 < len(s); i += 2 {
		units = append(units, uint16(s[i])<<8|uint16(s[i+1]))
	}
	return string(utf16.Decode(units))
}

// A lexer reads objects and operators one after the other.
type lexer struct {
	b    []byte
	at   int
	deep int // of lists and dictionaries; no honest file nests them beyond a few
}

const deepest = 100

const delimiters = "()<>[]{}/% \t\r\n\f\x00"

func (l *lexer) skip() {
	for l.at < len(l.b) {
		switch l.b[l.at] {
		case ' ', '\t', '\r', '\n', '\f', 0:
			l.at++
		case '%':
			for l.at < len(l.b) && l.b[l.at] != '\n' {
				l.at++
			}
		default:
			return
		}
	}
}

// object reads the next object; keyword("") at the end.
func (l *lexer) object() any {
	l.skip()
	if l.at >= len(l.b) {
		return keyword("")
	}
	switch c := l.b[l.at]; {
	case c == '/':
		l.at++
		return name(l.word())
	case c == '(':
		return l.literal()
	case c == '<' && l.at+1 < len(l.b) && l.b[l.at+1] == '<':
		l.at += 2
		return l.dictionary()
	case c == '<':
		return l.hexadecimal()
	case c == '[':
		l.at++
		return l.list()
	case c == ']' || c == '{' || c == '}' || c == ')':
		l.at++
		return keyword(c)
	case c == '>':
		l.at = min(l.at+2, len(l.b))
		return keyword(">>")
	}
	start := l.at
	word := l.word()
	switch word {
	case "true":
		return true
	case "false":
		return false
	case "null":
		return nil
	}
	v, err := strconv.ParseFloat(word, 64)
	if err != nil || !(math.Abs(v) < 1e9) { // "nan" and "inf" are words here
		l.at = max(l.at, start+1)
		return keyword(word)
	}
	return l.reference(v)
}

// reference reads on, in case a number starts "12 0 R".
func (l *lexer) reference(v float64) any {
	after := l.at
	l.skip()
	if l.word() == "0" {
		l.skip()
		if l.word() == "R" {
			return ref(int(v))
		}
	}
	l.at = after
	return v
}

func (l *lexer) word() string {
	start := l.at
	for l.at < len(l.b) && strings.IndexByte(delimiters, l.b[l.at]) < 0 {
		l.at++
	}
	return string(l.b[start:l.at])
}

func (l *lexer) literal() string {
	var out []byte
	l.at++
	for deep := 1; l.at < len(l.b); l.at++ {
		c := l.b[l.at]
		switch c {
		case '\\':
			l.at++
			if l.at < len(l.b) {
				out = append(out, l.b[l.at])
			}
			continue
		case '(':
			deep++
		case ')':
			deep--
			if deep == 0 {
				l.at++
				return string(out)
			}
		}
		out = append(out, c)
	}
	return string(out)
}

func (l *lexer) hexadecimal() string {
	var digits []byte
	for l.at++; l.at < len(l.b) && l.b[l.at] != '>'; l.at++ {
		if c := l.b[l.at]; c > ' ' {
			digits = append(digits, c)
		}
	}
	l.at++
	if len(digits)%2 == 1 {
		digits = append(digits, '0')
	}
	out := make([]byte, len(digits)/2)
	for i := range out {
		v, _ := strconv.ParseUint(string(digits[2*i:2*i+2]), 16, 8)
		out[i] = byte(v)
	}
	return string(out)
}

func (l *lexer) list() array {
	a := array{}
	l.deep++
	defer func() { l.deep-- }()
	for l.at < len(l.b) && l.deep < deepest {
		v := l.object()
		if v == keyword("]") || v == keyword("") {
			break
		}
		a = append(a, v)
	}
	return a
}

func (l *lexer) dictionary() dict {
	d := dict{}
	l.deep++
	defer func() { l.deep-- }()
	for l.at < len(l.b) && l.deep < deepest {
		key, ok := l.object().(name)
		if !ok {
			break
		}
		d[key] = l.object()
	}
	return d
}

func (r ref) String() string { return fmt.Sprintf("object %d", int(r)) }
