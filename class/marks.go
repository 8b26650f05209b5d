package class

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"steelyard/slip"
)

var marksHead = []string{"pupil", "name", "part", "marks", "of", "marker", "decided by teacher", "suggests", "how sure", "ask teacher", "why"}

// MarksCSV writes marks as a table for a spreadsheet: a line for each pupil and part. "marks" are those that
// count, "marker" those that the marker gave. Cells that people typed can't be taken for formulas.
func MarksCSV(results []Result) ([]byte, error) {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.UseCRLF = true
	if err := w.Write(marksHead); err != nil {
		return nil, err
	}
	for i := range results {
		r := &results[i]
		for k := range r.Parts {
			p := &r.Parts[k]
			decided, asks, suggests, sure := "", "", "", ""
			if p.Override != nil {
				decided = p.Override.Reason
			}
			if Asked(p) {
				asks = "yes"
			}
			for _, s := range p.Slips {
				if s.Probability >= worthNaming && slip.Named(s.Name) != nil {
					suggests, sure = s.Name, fmt.Sprintf("%.2f", min(s.Probability, 0.99)) // none is certain
					break
				}
			}
			row := []string{Guard(r.Code), Guard(r.Name), Guard(p.Part), strconv.Itoa(p.Score()), strconv.Itoa(p.Of), strconv.Itoa(p.Marks),
				Guard(decided), suggests, sure, asks, Guard(strings.Join(p.Why, "; "))}
			if err := w.Write(row); err != nil {
				return nil, err
			}
		}
	}
	w.Flush()
	return b.Bytes(), w.Error()
}

// IsMarks reports whether a table is one that [MarksCSV] wrote, by its first line.
func IsMarks(r io.Reader) bool {
	rows, err := rowsOf(r, "")
	return err == nil && len(rows) > 0 && slices.Contains(rows[0].cells, "marks") && slices.Contains(rows[0].cells, "of")
}

// ReadMarks reads back what [MarksCSV] wrote: what is known of a class from last time. Other columns may have
// been added and lines sorted.
func ReadMarks(r io.Reader, what string) (*Earlier, error) {
	rows, err := rowsOf(r, what)
	if err != nil {
		return nil, err
	}
	if len(rows) == 0 {
		return nil, fmt.Errorf("%s: nothing stands in it", what)
	}
	h, err := head(rows[0], what, [][]string{{"pupil"}, {"marks"}, {"of"}, {"suggests"}, {"how sure"}}, "pupil", "marks", "of")
	if err != nil {
		return nil, err
	}
	type sum struct{ marks, of int }
	sums := map[string]sum{}
	e := &Earlier{map[string]float64{}, map[string][]string{}}
	var faults Faults
	for _, r := range rows[1:] {
		if r.blank() {
			continue
		}
		if len(faults) == mostFaults {
			break
		}
		pupil := unguard(h.cell(r, "pupil"))
		marks, err := strconv.Atoi(h.cell(r, "marks"))
		of, err2 := strconv.Atoi(h.cell(r, "of"))
		if err != nil || err2 != nil || marks < 0 || marks > of || of > 1000 || pupil == "" {
			faults.add(what, r.line, "%q out of %q for %q are no marks of a pupil", clip(h.cell(r, "marks"), 20), clip(h.cell(r, "of"), 20), clip(pupil, 30))
			continue
		}
		sums[pupil] = sum{sums[pupil].marks + marks, sums[pupil].of + of}
		name := h.cell(r, "suggests")
		if sure, err := strconv.ParseFloat(strings.Replace(h.cell(r, "how sure"), ",", ".", 1), 64); err == nil && sure >= worthActing &&
			slip.Named(name) != nil && !slices.Contains(e.Slips[pupil], name) {
			e.Slips[pupil] = append(e.Slips[pupil], name)
		}
	}
	if len(faults) > 0 {
		return nil, faults
	}
	for pupil, s := range sums {
		if s.of > 0 {
			e.Share[pupil] = float64(s.marks) / float64(s.of)
		}
	}
	if len(e.Share) == 0 {
		return nil, fmt.Errorf("%s: no pupil's marks stand in it", what)
	}
	return e, nil
}
