package homework

import (
	"fmt"
	"strconv"
	"strings"

	"steelyard/answer"
	"steelyard/quantity"
	"steelyard/question"
	"steelyard/sheet"
	"steelyard/slip"
)

// An Answered is one pupil's answers, for the table of everyone's.
type Answered struct {
	Name    string
	Answers *answer.Answers
	Shown   []string // by slot of the plan
}

// A Column of everyone's answers is what all pupils answer to one part, or to one end of a range.
type Column struct {
	Name  string   // "(a) N", "(b) low m"; "(c)" where the answer is words or more than one number
	Sense string   // "up", "clockwise", if it is everyone's
	Cells []string // one for each pupil
}

// Columns are the answers to all parts, in the order of the question. The plan is that of one of the pupils; there is
// one pupil at least.
func Columns(plan *slip.Plan, pupils []Answered) []Column {
	var out []Column
	for i, r := range pupils[0].Answers.Results {
		worked := false
		for k := range plan.Slots {
			// Of a resultant a number is half of the answer: it acts somewhere.
			if plan.Slots[k].Part == r.Part.Name && r.Part.Ask != question.AskResultant {
				out = append(out, numberColumn(plan, pupils, i, k))
				worked = true
			}
		}
		if !worked {
			out = append(out, wordColumn(pupils, i))
		}
	}
	return out
}

// numberColumn is a column of numbers: result i of each pupil, in slot k of the plan.
func numberColumn(plan *slip.Plan, pupils []Answered, i, k int) Column {
	c := Column{Name: columnName(plan, k)}
	senses := make([]string, len(pupils))
	alike := true
	for n := range pupils {
		p := &pupils[n]
		number := bare(p.Shown[k])
		if size, sense, ok := senseOf(p.Answers.Results[i].Shown); ok && plan.Slots[k].End == "" {
			number, senses[n] = size, sense
		}
		c.Cells = append(c.Cells, number)
		alike = alike && senses[n] == senses[0]
	}
	if alike {
		c.Sense = senses[0]
		return c
	}
	for n, sense := range senses {
		c.Cells[n] = strings.TrimSpace(c.Cells[n] + " " + sense)
	}
	return c
}

// wordColumn is a column of answers that are not one number, such as whether it stays, or a resultant and its place.
func wordColumn(pupils []Answered, i int) Column {
	c := Column{Name: "(" + pupils[0].Answers.Results[i].Part.Name + ")"}
	for n := range pupils {
		shown, _, _ := strings.Cut(quantity.Plain(pupils[n].Answers.Results[i].Shown), " from the ")
		c.Cells = append(c.Cells, shown)
	}
	return c
}

// same reports whether everyone has the same words.
func (c *Column) same() bool {
	for _, cell := range c.Cells {
		if cell != c.Cells[0] || strings.ContainsAny(cell, "0123456789") {
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

// bare is the number at the start of a shown answer; its unit stands at the head of the column.
func bare(shown string) string {
	if f := strings.Fields(quantity.Plain(shown)); len(f) > 0 {
		return strings.TrimSuffix(f[0], "°")
	}
	return shown
}

// KeyOf is a table of everyone's answers, to stand before a scheme with the numbers of one of them.
func KeyOf(note string, names []string, columns []Column) sheet.Key {
	key := sheet.Key{Note: note}
	for _, name := range names {
		key.Rows = append(key.Rows, sheet.KeyRow{Name: name})
	}
	for i := range columns {
		c := &columns[i]
		if c.same() {
			key.Note += fmt.Sprintf(" The same for all: %s %s.", c.Name, c.Cells[0])
			continue
		}
		key.Columns = append(key.Columns, strings.TrimSpace(c.Name+" "+c.Sense))
		for n := range key.Rows {
			key.Rows[n].Answers = append(key.Rows[n].Answers, quantity.Typeset(c.Cells[n]))
		}
	}
	return key
}
