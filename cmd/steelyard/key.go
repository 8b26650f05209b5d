package main

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"strconv"
	"strings"

	"steelyard/answer"
	"steelyard/quantity"
	"steelyard/question"
	"steelyard/sheet"
	"steelyard/slip"
)

// A column of the key is what all pupils answer to one part, or to one end of a range.
type column struct {
	name  string   // "(a) N", "(b) low m"; "(c)" where the answer is words or more than one number
	sense string   // "up", "clockwise", if it is everyone's
	cells []string // one for each pupil
}

// columns are the answers to all parts, in the order of the question.
func (p *pack) columns() []column {
	var out []column
	plan := p.result.Plan
	for i, r := range p.result.Pupils[0].Answers.Results {
		worked := false
		for k := range plan.Slots {
			// Of a resultant a number is half of the answer: it acts somewhere.
			if plan.Slots[k].Part == r.Part.Name && r.Part.Ask != question.AskResultant {
				out = append(out, p.numbers(i, k))
				worked = true
			}
		}
		if !worked {
			out = append(out, p.words(i))
		}
	}
	return out
}

// numbers is a column of numbers: result i of each pupil, in slot k of the plan.
func (p *pack) numbers(i, k int) column {
	c := column{name: columnName(p.result.Plan, k)}
	senses := make([]string, len(p.result.Pupils))
	alike := true
	for n := range p.result.Pupils {
		v := &p.result.Pupils[n]
		number := bare(v.Shown[k])
		if size, sense, ok := senseOf(v.Answers.Results[i].Shown); ok && p.result.Plan.Slots[k].End == "" {
			number, senses[n] = size, sense
		}
		c.cells = append(c.cells, number)
		alike = alike && senses[n] == senses[0]
	}
	if alike {
		c.sense = senses[0]
		return c
	}
	for n, sense := range senses {
		c.cells[n] = strings.TrimSpace(c.cells[n] + " " + sense)
	}
	return c
}

// words is a column of answers that are not one number, such as whether it stays, or a resultant and its place.
func (p *pack) words(i int) column {
	c := column{name: "(" + p.result.Pupils[0].Answers.Results[i].Part.Name + ")"}
	for n := range p.result.Pupils {
		shown, _, _ := strings.Cut(quantity.Plain(p.result.Pupils[n].Answers.Results[i].Shown), " from the ")
		c.cells = append(c.cells, shown)
	}
	return c
}

// same reports whether everyone has the same words.
func (c *column) same() bool {
	for _, cell := range c.cells {
		if cell != c.cells[0] || strings.ContainsAny(cell, "0123456789") {
			return false
		}
	}
	return true
}

// columnName names an answer and its unit: "(a) N".
func columnName(plan *slip.Plan, slot int) string {
	s := &plan.Slots[slot]
	u, ok := quantity.UnitNamed(s.Unit)
	if !ok || s.Unit == "1" {
		u = quantity.Unit{}
	}
	u = answer.UnitFor(plan.Question, u.Dimension)
	return strings.Join(strings.Fields("("+s.Part+") "+s.End+" "+u.Symbol), " ")
}

// senseOf takes "99.5 N m clockwise" apart into size and sense. It is not ok where no plain sense follows the unit.
func senseOf(shown string) (size, sense string, ok bool) {
	words := strings.Fields(quantity.Plain(shown))
	if len(words) < 3 {
		return "", "", false
	}
	size, sense = words[0], words[len(words)-1]
	if _, err := strconv.ParseFloat(size, 64); err != nil || strings.HasPrefix(size, "-") {
		return "", "", false
	}
	unit := strings.Join(words[1:len(words)-1], " ")
	if before, to := strings.CutSuffix(unit, " to the"); to {
		unit, sense = before, "to the "+sense
	}
	_, ok = quantity.UnitNamed(unit)
	return size, sense, ok
}

// key is the table of everyone's answers.
func (p *pack) key() sheet.Key {
	key := sheet.Key{Note: fmt.Sprintf("Everyone's answers. The scheme after this page has the numbers of %s; the method is the same for all.", p.pupils[0].Name)}
	for i := range p.result.Pupils {
		key.Rows = append(key.Rows, sheet.KeyRow{Name: p.pupils[i].Name})
	}
	for _, c := range p.columns() {
		if c.same() {
			key.Note += fmt.Sprintf(" The same for all: %s %s.", c.name, c.cells[0])
			continue
		}
		key.Columns = append(key.Columns, strings.TrimSpace(c.name+" "+c.sense))
		for i := range key.Rows {
			key.Rows[i].Answers = append(key.Rows[i].Answers, quantity.Typeset(c.cells[i]))
		}
	}
	return key
}

// bare is the number at the start of a shown answer; its unit stands at the head of the column.
func bare(shown string) string {
	if f := strings.Fields(quantity.Plain(shown)); len(f) > 0 {
		return strings.TrimSuffix(f[0], "°")
	}
	return shown
}

// table is the key as CSV: a line for each pupil, the numbers given and the answers.
func (p *pack) table() ([]byte, error) {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.UseCRLF = true
	columns := p.columns()
	head := []string{"code", "name"}
	for _, n := range p.result.Pupils[0].Numbers {
		head = append(head, n.Thing+"."+n.Attribute)
	}
	for _, c := range columns {
		head = append(head, c.name)
	}
	if err := w.Write(append(head, "certificate")); err != nil {
		return nil, err
	}
	for i := range p.result.Pupils {
		v := &p.result.Pupils[i]
		row := []string{text(p.pupils[i].Code), text(p.pupils[i].Name)}
		for _, n := range v.Numbers {
			row = append(row, n.Text)
		}
		for _, c := range columns {
			row = append(row, c.cells[i])
		}
		if err := w.Write(append(row, v.Certificate.Hash())); err != nil {
			return nil, err
		}
	}
	w.Flush()
	return b.Bytes(), w.Error()
}

// text guards a cell that people typed against being taken for a formula by a spreadsheet.
func text(cell string) string {
	if cell != "" && strings.ContainsRune("=+-@\t\r", rune(cell[0])) {
		return "'" + cell
	}
	return cell
}
