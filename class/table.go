package class

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
	utf16 "golang.org/x/text/encoding/unicode"
)

// largest is the size of a table in bytes that is read at most.
const largest = 16 << 20

// A row of a table knows its line in the file.
type row struct {
	cells []string
	line  int
}

// rowsOf reads a table as spreadsheets and people write it: comma, semicolon or tab between the columns,
// UTF-8, UTF-16 or Windows-1252, with or without a byte-order mark, any ends of lines, cells with line breaks in quotation
// marks, a first line "sep=;". What it is called comes before what is wrong with it.
func rowsOf(r io.Reader, what string) ([]row, error) {
	b, err := io.ReadAll(io.LimitReader(r, largest+1))
	if err != nil {
		return nil, fmt.Errorf("reading %s: %w", what, err)
	}
	if len(b) > largest {
		return nil, fmt.Errorf("%s: longer than %d MB; is it the right file?", what, largest>>20)
	}
	text, err := decode(b, what)
	if err != nil {
		return nil, err
	}
	comma := separator(text)
	skipped := 0
	if first, rest, _ := strings.Cut(text, "\n"); strings.HasPrefix(strings.ToLower(first), "sep=") && len(strings.TrimSpace(first)) <= 5 {
		if s := strings.TrimSpace(first[4:]); s != "" {
			comma = rune(s[0])
		}
		text, skipped = rest, 1
	}
	rows, err := parse(text, comma, skipped, false)
	if err == nil {
		return rows, nil
	}
	// A quotation mark stands where a spreadsheet would not put one. By itself in a cell of one line it is harmless;
	// else it may have swallowed other pupils' lines.
	if again, lazyErr := parse(text, comma, skipped, true); lazyErr == nil {
		return again, nil
	}
	line := skipped
	var p *csv.ParseError
	if errors.As(err, &p) {
		if line += p.StartLine; p.StartLine == p.Line {
			return nil, fmt.Errorf("%s, line %d: a quotation mark stands where none can be; write it twice, or take it out", what, line)
		}
	}
	return nil, fmt.Errorf("%s, line %d: a quotation mark opens here and isn't closed where it should be; close it, or take it out", what, line)
}

// errSwallowed says that a stray quotation mark has taken in more than its own line.
var errSwallowed = errors.New("a quotation mark is never closed")

// parse splits text into rows. Where stray quotation marks are let pass, each row must be one line.
func parse(text string, comma rune, skipped int, stray bool) ([]row, error) {
	c := csv.NewReader(strings.NewReader(text))
	c.Comma = comma
	c.FieldsPerRecord = -1
	c.TrimLeadingSpace = comma != '\t'
	c.LazyQuotes = stray
	lines := strings.Split(text, "\n")
	var rows []row
	for {
		cells, err := c.Read()
		if errors.Is(err, io.EOF) {
			return rows, nil
		}
		if err != nil {
			return nil, err
		}
		line, _ := c.FieldPos(0)
		if stray && slices.ContainsFunc(cells, func(s string) bool { return strings.Contains(s, "\n") }) && !wellQuoted(lines, line, cells) {
			return nil, errSwallowed
		}
		rows = append(rows, row{cells, line + skipped})
	}
}

// wellQuoted reports whether a row of several lines would also be read without leave for stray marks.
func wellQuoted(lines []string, line int, cells []string) bool {
	n := 0
	for _, c := range cells {
		n += strings.Count(c, "\n")
	}
	end := min(line+n, len(lines))
	marks := 0
	for _, l := range lines[line-1 : end] {
		marks += strings.Count(l, `"`)
	}
	inside := 0
	for _, c := range cells {
		inside += strings.Count(c, `"`)
	}
	return marks%2 == 0 && inside == 0
}

// decode turns the bytes of a file into text.
func decode(b []byte, what string) (string, error) {
	u16 := func(order utf16.Endianness) error {
		u, err := utf16.UTF16(order, utf16.UseBOM).NewDecoder().Bytes(b)
		if err != nil {
			return fmt.Errorf("%s: its UTF-16 is broken; save it again as CSV UTF-8", what)
		}
		b = u
		return nil
	}
	var err error
	switch {
	case bytes.HasPrefix(b, []byte{0xff, 0xfe}), bytes.HasPrefix(b, []byte{0xfe, 0xff}):
		err = u16(utf16.LittleEndian)
	case len(b) >= 4 && b[0] != 0 && b[1] == 0 && b[2] != 0 && b[3] == 0: // the mark has been lost
		err = u16(utf16.LittleEndian)
	case len(b) >= 4 && b[0] == 0 && b[1] != 0 && b[2] == 0 && b[3] != 0:
		err = u16(utf16.BigEndian)
	}
	if err != nil {
		return "", err
	}
	b = bytes.TrimPrefix(b, []byte("\ufeff"))
	if !utf8.Valid(b) {
		b = western(b)
	}
	if b == nil || bytes.IndexByte(b, 0) >= 0 {
		return "", fmt.Errorf("%s: it is no text in UTF-8 or UTF-16; save it as CSV UTF-8", what)
	}
	text := strings.ReplaceAll(string(b), "\r\n", "\n")
	return strings.ReplaceAll(text, "\r", "\n"), nil
}

// western reads text as Windows-1252, in which older spreadsheets save; nil if it holds what no such text does.
func western(b []byte) []byte {
	for _, c := range b {
		if c < ' ' && c != '\t' && c != '\n' && c != '\r' || strings.IndexByte("\x81\x8d\x8f\x90\x9d", c) >= 0 {
			return nil
		}
	}
	text, err := charmap.Windows1252.NewDecoder().Bytes(b)
	if err != nil {
		return nil
	}
	return text
}

// separator is what stands between the columns: whichever of tab, semicolon and comma the first line has most of.
func separator(text string) rune {
	line, _, _ := strings.Cut(text, "\n")
	best, count := ',', 0
	for _, r := range []rune{',', ';', '\t'} {
		if n := strings.Count(line, string(r)); n > count {
			best, count = r, n
		}
	}
	return best
}

// A heading says in which column each thing stands; −1 is nowhere.
type heading map[string]int

// head finds the columns of a table by their names, in any order; names lists what each may be called, its
// own name first. A column that is needed and not there is an error that says what was found.
func head(r row, what string, names [][]string, needed ...string) (heading, error) {
	h := heading{}
	for _, n := range names {
		h[n[0]] = -1
		for i, cell := range r.cells {
			if slices.Contains(n, strings.ToLower(strings.Join(strings.Fields(cell), " "))) {
				if h[n[0]] >= 0 {
					return nil, fmt.Errorf("%s, line %d: two columns are called %q; rename one", what, r.line, n[0])
				}
				h[n[0]] = i
			}
		}
	}
	for _, n := range needed {
		if h[n] < 0 {
			return nil, fmt.Errorf("%s, line %d: no column is called %q; the first line names the columns, here %s",
				what, r.line, n, listed(r.cells))
		}
	}
	return h, nil
}

// cell is a row's cell of a column, trimmed; "" if there is none.
func (h heading) cell(r row, name string) string {
	i := h[name]
	if i < 0 || i >= len(r.cells) {
		return ""
	}
	return strings.TrimSpace(r.cells[i])
}

// blank reports whether nothing stands in a row.
func (r row) blank() bool {
	return !slices.ContainsFunc(r.cells, func(s string) bool { return strings.TrimSpace(s) != "" })
}

// listed quotes the cells of a head row, as much of them as a message can bear.
func listed(cells []string) string {
	var out []string
	for _, c := range cells[:min(8, len(cells))] {
		out = append(out, fmt.Sprintf("%q", clip(strings.TrimSpace(c), 30)))
	}
	if len(cells) > 8 {
		out = append(out, "…")
	}
	return strings.Join(out, ", ")
}

// clip cuts a text to a number of characters.
func clip(s string, most int) string {
	if utf8.RuneCountInString(s) <= most {
		return s
	}
	return string([]rune(s)[:most-1]) + "…"
}

// printable takes characters out that can't be printed, but for line breaks and tabs.
func printable(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n':
			return r
		case r == '\t', r == '\u2028', r == '\u2029':
			return ' '
		case unicode.IsControl(r), unicode.Is(unicode.Bidi_Control, r):
			return -1
		}
		return r
	}, s)
}
