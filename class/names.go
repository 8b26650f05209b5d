package class

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// A Roll is a class list as it stands: nothing is made up where the list says nothing.
type Roll struct {
	Pupils []Listed
	How    []string // how it was read, and what was passed over, in sentences
}

// A Listed is one line of a list.
type Listed struct {
	Name string
	Code string // what the list knows the pupil by; may be empty
	Line int
}

// ReadNames reads a class list as [ReadRoll] does, but leaves codes empty where the list has none, and says how it
// took the list. A list without a head row whose second column holds no digits is "surname, first name".
//
// All that is wrong is told together, as [Faults], each with its line.
func ReadNames(r io.Reader) (Roll, error) {
	var roll Roll
	rows, err := rowsOf(r, "class list")
	if err != nil {
		return roll, err
	}
	rows = slices.DeleteFunc(rows, row.blank)
	if len(rows) == 0 {
		return roll, Faults{"class list: there are no pupils in it; write one name to a line"}
	}
	c, head := readHead(rows[0].cells)
	switch {
	case head:
		roll.How = c.how(rows[0].cells)
		rows = rows[1:]
	case surnamesFirst(rows):
		c = columns{name: -1, last: 0, first: 1, code: -1}
		roll.How = append(roll.How, "There is no line of headings; it was read as surname, first name.")
	case slices.ContainsFunc(rows, func(r row) bool { return len(r.cells) > 1 }):
		roll.How = append(roll.How, "There is no line of headings; the first column was read as the name, the second as an identifier.")
	}
	var faults Faults
	for _, r := range rows {
		p, err := c.pupil(r.cells, r.line)
		if err != nil {
			faults = append(faults, err.Error())
			continue
		}
		if p.Name = visible(p.Name); p.Name != "" {
			roll.Pupils = append(roll.Pupils, Listed{p.Name, visible(p.Code), r.line})
		}
		if len(roll.Pupils) > most {
			return roll, Faults{fmt.Sprintf("class list, line %d: more than %d pupils; is it the right file?", r.line, most)}
		}
	}
	faults = append(faults, twice(roll.Pupils)...)
	if len(faults) == 0 && len(roll.Pupils) == 0 {
		faults = Faults{"class list: there are no pupils in it; write one name to a line"}
	}
	if len(faults) > 0 {
		return roll, faults
	}
	return roll, nil
}

// twice finds codes that two pupils have, and names that two pupils without codes have.
func twice(pupils []Listed) (faults Faults) {
	codes, names := map[string]Listed{}, map[string]Listed{}
	for _, p := range pupils {
		if q, ok := codes[p.Code]; ok && p.Code != "" {
			faults = append(faults, fmt.Sprintf("class list, line %d: %s has the code %s, as %s in line %d has; give each a code of their own", p.Line, p.Name, p.Code, q.Name, q.Line))
		}
		if q, ok := names[p.Name]; ok && (p.Code == "" || q.Code == "") {
			faults = append(faults, fmt.Sprintf("class list, line %d: %s stands in line %d too; if they are two pupils, add an initial, so that their sheets can be told apart", p.Line, p.Name, q.Line))
		}
		codes[p.Code], names[p.Name] = p, p
	}
	return faults
}

// how says which heading was taken for what, and which columns were not read.
func (c columns) how(head []string) (said []string) {
	var read, left []string
	for i, cell := range head {
		cell = clip(visible(strings.Join(strings.Fields(cell), " ")), 40)
		switch i {
		case c.name, c.first, c.last:
			read = append(read, fmt.Sprintf("“%s” as a name", cell))
		case c.code:
			read = append(read, fmt.Sprintf("“%s” as an identifier", cell))
		default:
			if cell != "" {
				left = append(left, "“"+cell+"”")
			}
		}
	}
	said = append(said, "Read: "+strings.Join(read, ", ")+".")
	if len(left) > 0 {
		said = append(said, "Passed over and not kept: "+strings.Join(left, ", ")+".")
	}
	return said
}

// surnamesFirst reports whether a list without a head row has surnames, then first names, in two columns.
func surnamesFirst(rows []row) bool {
	for _, r := range rows {
		if len(r.cells) != 2 || strings.TrimSpace(r.cells[1]) == "" || strings.ContainsFunc(r.cells[0]+r.cells[1], unicode.IsDigit) ||
			strings.Contains(strings.TrimSpace(r.cells[0]), " ") || utf8.RuneCountInString(strings.TrimSpace(r.cells[1])) < 2 {
			return false
		}
	}
	return true
}

// visible takes out what can't be seen, and what would turn the direction of the text around it.
func visible(s string) string { return strings.TrimSpace(strings.ReplaceAll(printable(s), "\n", " ")) }
