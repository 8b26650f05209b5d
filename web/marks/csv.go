package marks

import (
	"bytes"
	"encoding/csv"
	"strconv"

	"steelyard/class"
)

// csv is the mark book as a table for a spreadsheet: a line for each pupil with a column for each part, under a line of
// what each is worth. Who has handed nothing in has a line too, without marks; those who have left come last. The
// column "status" tells them apart, and "waits" is how many parts still wait for a teacher.
//
// It begins with a byte-order mark, which spreadsheets go by to read names as UTF-8; cells that people typed can't be
// taken for formulas.
func (b *book) csv() ([]byte, error) {
	out := bytes.NewBufferString("\ufeff")
	w := csv.NewWriter(out)
	w.UseCRLF = true
	head := []string{"pupil", "name", "status", "handed in"}
	most := []string{"", "out of", "", ""}
	for _, c := range b.Columns {
		head, most = append(head, c.name()), append(most, strconv.Itoa(c.Of))
	}
	rows := [][]string{append(head, "total", "waits"), append(most, strconv.Itoa(b.of()), "")}
	for i := range b.Rows {
		r := &b.Rows[i]
		line := []string{class.Guard(r.Pupil.ID), class.Guard(r.Name), b.status(r), ""}
		if r.HandIn != nil {
			line[3] = r.HandIn.At.In(b.Now.Location()).Format("2006-01-02 15:04")
		}
		for _, c := range r.Cells {
			mark := ""
			if n, ok := c.marks(); ok && r.HandIn != nil {
				mark = strconv.Itoa(n)
			}
			line = append(line, mark)
		}
		total, waits := "", ""
		if r.marked() {
			total, waits = strconv.Itoa(r.total()), strconv.Itoa(r.asks())
		}
		rows = append(rows, append(line, total, waits))
	}
	if err := w.WriteAll(rows); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}

// status says in a word or two how a pupil's work stands.
func (b *book) status(r *row) string {
	switch {
	case r.Apart:
		return "has left"
	case r.HandIn == nil && r.Drafts:
		return "begun, not handed in"
	case r.HandIn == nil:
		return "not handed in"
	case !r.marked():
		return "not marked yet"
	case late(b, r):
		return "handed in late"
	}
	return "handed in"
}
