package main

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"strings"

	"steelyard/homework"
	"steelyard/sheet"
)

// columns are the answers to all parts, in the order of the question.
func (p *pack) columns() []homework.Column {
	class := make([]homework.Answered, len(p.pupils))
	for i := range class {
		v := &p.result.Pupils[i]
		class[i] = homework.Answered{Name: p.pupils[i].Name, Answers: v.Answers, Shown: v.Shown}
	}
	return homework.Columns(p.result.Plan, class)
}

// key is the table of everyone's answers.
func (p *pack) key() sheet.Key {
	names := make([]string, len(p.pupils))
	for i := range names {
		names[i] = p.pupils[i].Name
	}
	note := fmt.Sprintf("Everyone's answers. The scheme after this page has the numbers of %s; the method is the same for all.", names[0])
	return homework.KeyOf(note, names, p.columns())
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
		head = append(head, c.Name)
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
			row = append(row, c.Cells[i])
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
