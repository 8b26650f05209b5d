package class

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"
)

// A Pupil is one line of a class list. Only what sheets need is kept.
type Pupil struct {
	Name string // as it is printed; may be a pseudonym or a code
	Code string // short mark that numbers and answers go by; unlike any other's in the class
}

// most is how many pupils one list may have, and longest the length of a name in characters.
const (
	most    = 5000
	longest = 120
)

// Numbered makes a list of n pupils called by their numbers: 01, 02, …, 99, 100. A pupil's number is the same however
// long the list is, since what a pupil is given hangs on it.
func Numbered(n int) []Pupil {
	pupils := make([]Pupil, n)
	for i := range pupils {
		code := fmt.Sprintf("%02d", i+1)
		pupils[i] = Pupil{Name: "Pupil " + code, Code: code}
	}
	return pupils
}

// ReadRoll reads a class list as spreadsheets write it: comma, semicolon or tab between the
// columns, UTF-8 or UTF-16, with or without a byte-order mark, CRLF or LF. A head row names the columns,
// in any order: "name" or "pupil" (or "first name" and "last name"), and "code" or "id" if there is one. Without a head row the
// first column is the name and the second the code. Pupils without a code get their number in the list.
//
// Errors name the line and say what was expected.
func ReadRoll(r io.Reader) ([]Pupil, error) {
	rows, err := rowsOf(r, "class list")
	if err != nil {
		return nil, err
	}
	var columns columns
	var pupils []Pupil
	for i, r := range rows {
		if i == 0 {
			var head bool
			if columns, head = readHead(r.cells); head {
				continue
			}
		}
		p, err := columns.pupil(r.cells, r.line)
		if err != nil {
			return nil, err
		}
		if p.Name == "" && p.Code == "" {
			continue
		}
		if pupils = append(pupils, p); len(pupils) > most {
			return nil, fmt.Errorf("class list, line %d: more than %d pupils; is it the right file?", r.line, most)
		}
	}
	return settle(pupils)
}

// columns says where what stands in a row; −1 is nowhere.
type columns struct{ name, first, last, code int }

// columnNames are what schools' lists call the columns. A number that a state gives a pupil is not among them: it is
// nobody's business here.
var columnNames = map[string]string{
	"name": "name", "names": "name", "pupil": "name", "student": "name", "learner": "name", "full name": "name",
	"pupil name": "name", "student name": "name", "learner name": "name", "display name": "name",
	"first name": "first", "first": "first", "given name": "first", "forename": "first", "givenname": "first",
	"forenames": "first", "preferred name": "first", "preferred forename": "first", "known as": "first", "firstname": "first",
	"last name": "last", "last": "last", "family name": "last", "surname": "last", "familyname": "last", "lastname": "last",
	"preferred surname": "last",
	"code":              "code", "id": "code", "number": "code", "username": "code", "admission number": "code", "admission no": "code",
	"pupil id": "code", "student id": "code", "pupil number": "code", "student number": "code",
}

func readHead(row []string) (columns, bool) {
	c := columns{-1, -1, -1, -1}
	for i, cell := range row {
		switch columnNames[strings.ToLower(strings.Join(strings.Fields(cell), " "))] {
		case "name":
			c.name = i
		case "first":
			c.first = i
		case "last":
			c.last = i
		case "code":
			c.code = i
		}
	}
	if c.name < 0 && c.first < 0 && c.last < 0 && c.code < 0 {
		return columns{name: 0, first: -1, last: -1, code: 1}, false
	}
	return c, true
}

func (c columns) pupil(row []string, line int) (Pupil, error) {
	cell := func(i int) string {
		if i < 0 || i >= len(row) {
			return ""
		}
		return unguard(strings.Join(strings.Fields(row[i]), " "))
	}
	p := Pupil{Name: cell(c.name), Code: cell(c.code)}
	if p.Name == "" {
		p.Name = strings.TrimSpace(cell(c.first) + " " + cell(c.last))
	}
	if p.Name == "" {
		p.Name = p.Code
	}
	for _, s := range []string{p.Name, p.Code} {
		if utf8.RuneCountInString(s) > longest {
			return p, fmt.Errorf("class list, line %d: a name of more than %d characters; is a quotation mark missing?", line, longest)
		}
		if strings.ContainsFunc(s, func(r rune) bool { return r < ' ' || r == 0x7f }) {
			return p, fmt.Errorf("class list, line %d: a character that can't be printed stands in %q; take it out", line, s)
		}
	}
	return p, nil
}

// settle gives codes to those without one, and refuses two that are the same.
func settle(pupils []Pupil) ([]Pupil, error) {
	if len(pupils) == 0 {
		return nil, fmt.Errorf("class list: there are no pupils in it; write one name to a line")
	}
	var codes []string
	for i := range pupils {
		codes = append(codes, pupils[i].Code)
	}
	for i, p := range Numbered(len(pupils)) {
		if pupils[i].Code != "" {
			continue
		}
		code := p.Code
		for slices.Contains(codes, code) {
			code += "a"
		}
		pupils[i].Code = code
		codes = append(codes, code)
	}
	seen := map[string]int{}
	for i, p := range pupils {
		if j, ok := seen[p.Code]; ok {
			return nil, fmt.Errorf("class list: %s and %s both have the code %s; give each a code of their own", pupils[j].Name, p.Name, p.Code)
		}
		seen[p.Code] = i
	}
	return pupils, nil
}
