package class

import (
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"steelyard/mark"
)

// How much one file, one pupil's answer and one pupil's working may hold.
const (
	mostHands      = 100_000
	longestAnswer  = 400    // characters
	longestWorking = 20_000 // characters
	mostFaults     = 100    // after so many the rest isn't looked at
)

// A Handed is what a pupil handed in for one part, and where it stands in its file.
type Handed struct {
	mark.Hand
	Line int
}

var handColumns = [][]string{
	{"pupil", "name", "student", "code", "id", "pupil code", "pupil name", "full name", "username"},
	{"part", "question", "question part", "part of question"},
	{"answer", "final answer", "result", "response"},
	{"working", "workings", "method", "steps", "lines", "working out"},
}

// ReadHands reads answers as spreadsheets write them (see [ReadRoll] for what is put up with). The first line
// names the columns, in any order: pupil, part, and answer or working or both. Working may have several lines
// within quotation marks. The parts are those that the question has; "(a)" and "Part A" are read as "a".
//
// All that is wrong is told together, each with its line.
func ReadHands(r io.Reader, what string, parts []string) ([]Handed, error) {
	rows, err := rowsOf(r, what)
	if err != nil {
		return nil, err
	}
	if len(rows) == 0 {
		return nil, fmt.Errorf("%s: nothing stands in it; its first line names the columns: pupil, part, answer, working", what)
	}
	h, err := head(rows[0], what, handColumns, "pupil", "part")
	if err != nil {
		return nil, err
	}
	if h["answer"] < 0 && h["working"] < 0 {
		return nil, fmt.Errorf("%s, line %d: no column is called \"answer\" or \"working\"; the first line names the columns, here %s",
			what, rows[0].line, listed(rows[0].cells))
	}
	var hands []Handed
	var faults Faults
	first := map[[2]string]int{} // the line of each pupil's part
	for _, r := range rows[1:] {
		if r.blank() {
			continue
		}
		if len(hands) == mostHands {
			return nil, fmt.Errorf("%s, line %d: more than %d answers; is it the right file?", what, r.line, mostHands)
		}
		if len(faults) == mostFaults {
			break
		}
		hand, fault := handOf(h, r, parts)
		if fault != "" {
			faults.add(what, r.line, "%s", fault)
			continue
		}
		key := [2]string{hand.Pupil, hand.Part}
		if line, twice := first[key]; twice {
			faults.add(what, r.line, "%s has part %s a second time, after line %d; keep the one that counts", hand.Pupil, hand.Part, line)
			continue
		}
		first[key] = r.line
		hands = append(hands, Handed{hand, r.line})
	}
	if len(faults) > 0 {
		return nil, faults
	}
	if len(hands) == 0 {
		return nil, fmt.Errorf("%s: no pupil's answers stand in it; write one part to a line", what)
	}
	return hands, nil
}

// handOf reads a row; what is wrong with it is told in words.
func handOf(h heading, r row, parts []string) (hand mark.Hand, fault string) {
	hand.Pupil = strings.Join(strings.Fields(printable(unguard(h.cell(r, "pupil")))), " ")
	hand.Answer = strings.Join(strings.Fields(printable(unguard(h.cell(r, "answer")))), " ")
	hand.Working = strings.Trim(printable(unguard(h.cell(r, "working"))), "\n ")
	named := strings.TrimSpace(printable(h.cell(r, "part")))
	switch {
	case hand.Pupil == "":
		return hand, "whose answer is it? no pupil is named"
	case utf8.RuneCountInString(hand.Pupil) > longest:
		return hand, fmt.Sprintf("a pupil's name of more than %d characters; is a quotation mark missing?", longest)
	case utf8.RuneCountInString(hand.Answer) > longestAnswer:
		return hand, fmt.Sprintf("an answer of more than %d characters; does it belong into the working?", longestAnswer)
	case utf8.RuneCountInString(hand.Working) > longestWorking:
		return hand, fmt.Sprintf("working of more than %d characters; is a quotation mark missing?", longestWorking)
	}
	var ok bool
	if hand.Part, ok = partNamed(named, parts); !ok {
		if named == "" {
			return hand, fmt.Sprintf("%s answers which part? no part is named (the question has %s)", hand.Pupil, strings.Join(parts, ", "))
		}
		return hand, fmt.Sprintf("the question has no part %q (it has %s)", clip(named, 30), strings.Join(parts, ", "))
	}
	return hand, ""
}

// partNamed finds the part that people mean by "(a)", "a)", "A." or "Part a".
func partNamed(typed string, parts []string) (string, bool) {
	for _, form := range []string{typed, bareName(typed)} {
		if slices.Contains(parts, form) {
			return form, true
		}
		i := slices.IndexFunc(parts, func(p string) bool { return strings.EqualFold(p, form) })
		if i >= 0 && form != "" {
			return parts[i], true
		}
	}
	return "", false
}

func bareName(typed string) string {
	s := strings.ToLower(typed)
	for _, word := range []string{"question", "part"} {
		s = strings.TrimSpace(strings.TrimPrefix(s, word))
	}
	return strings.Trim(s, "().: ")
}

// unguard takes off the apostrophe that [Guard] puts before a cell.
func unguard(cell string) string {
	if len(cell) > 1 && cell[0] == '\'' && strings.ContainsRune(formulaStart, rune(cell[1])) {
		return cell[1:]
	}
	return cell
}

// formulaStart are the characters that make a spreadsheet take a cell for a formula.
const formulaStart = "=+-@\t\r\n|"

// Guard puts an apostrophe before a cell that people typed and a spreadsheet would take for a formula.
func Guard(cell string) string {
	start := strings.TrimLeft(cell, " \u00a0\u3000")
	switch {
	case start == "":
		return cell
	case strings.ContainsRune(formulaStart+"＝＋－＠", []rune(start)[0]), strings.ContainsRune(formulaStart, rune(cell[0])):
		return "'" + cell
	}
	return cell
}

var overrideColumns = [][]string{
	handColumns[0],
	handColumns[1],
	{"mark", "marks", "score"},
	{"reason", "why", "comment", "note"},
}

// ReadOverrides reads a teacher's decisions: the first line names the columns pupil, part, mark and reason, in
// any order. A mark is a whole number up to what the part is worth; a reason is needed, since a decision is
// shown to the pupil. All that is wrong is told together, each with its line.
func ReadOverrides(r io.Reader, what string, parts []string, worth map[string]int) ([]mark.Override, error) {
	rows, err := rowsOf(r, what)
	if err != nil {
		return nil, err
	}
	if len(rows) == 0 {
		return nil, fmt.Errorf("%s: nothing stands in it; its first line names the columns: pupil, part, mark, reason", what)
	}
	h, err := head(rows[0], what, overrideColumns, "pupil", "part", "mark", "reason")
	if err != nil {
		return nil, err
	}
	var out []mark.Override
	var faults Faults
	first := map[[2]string]int{}
	for _, r := range rows[1:] {
		if r.blank() {
			continue
		}
		if len(faults) == mostFaults {
			break
		}
		hand, fault := handOf(h.only("pupil", "part"), r, parts)
		if fault != "" {
			faults.add(what, r.line, "%s", fault)
			continue
		}
		given := strings.TrimSpace(h.cell(r, "mark"))
		n, err := strconv.Atoi(given)
		switch {
		case err != nil || n < 0:
			faults.add(what, r.line, "%q is no mark; write a whole number from 0 to %d", clip(given, 30), worth[hand.Part])
			continue
		case n > worth[hand.Part]:
			faults.add(what, r.line, "%d is more than part %s is worth, %d", n, hand.Part, worth[hand.Part])
			continue
		}
		reason := strings.Join(strings.Fields(printable(unguard(h.cell(r, "reason")))), " ")
		if reason == "" {
			faults.add(what, r.line, "a decision needs a reason; write it in the column \"reason\"")
			continue
		}
		key := [2]string{hand.Pupil, hand.Part}
		if line, twice := first[key]; twice {
			faults.add(what, r.line, "%s has a decision on part %s already, in line %d", hand.Pupil, hand.Part, line)
			continue
		}
		first[key] = r.line
		out = append(out, mark.Override{Pupil: hand.Pupil, Part: hand.Part, Mark: n, Reason: clip(reason, longestAnswer)})
	}
	if len(faults) > 0 {
		return nil, faults
	}
	return out, nil
}

// only is the heading with the named columns alone.
func (h heading) only(names ...string) heading {
	out := heading{"pupil": -1, "part": -1, "answer": -1, "working": -1}
	for _, n := range names {
		out[n] = h[n]
	}
	return out
}

// Faults are what is wrong with a table, each with its line.
type Faults []string

func (f *Faults) add(what string, line int, format string, args ...any) {
	*f = append(*f, fmt.Sprintf("%s, line %d: ", what, line)+fmt.Sprintf(format, args...))
}

// Error lists the first twenty faults, one to a line.
func (f Faults) Error() string {
	if len(f) > 20 {
		return strings.Join(f[:20], "\n") + "\nand more"
	}
	return strings.Join(f, "\n")
}

// Complete puts hands in order: pupils as they first come, each with every part in the question's order; a part
// that was not handed in is an empty hand. Results are pupils' lists.
func Complete(hands []Handed, parts []string) [][]mark.Hand {
	order := map[string]int{}
	place := map[string]int{}
	for i, p := range parts {
		place[p] = i
	}
	var out [][]mark.Hand
	for _, h := range hands {
		i, known := order[h.Pupil]
		if !known {
			i = len(out)
			order[h.Pupil] = i
			all := make([]mark.Hand, len(parts))
			for k, p := range parts {
				all[k] = mark.Hand{Pupil: h.Pupil, Part: p}
			}
			out = append(out, all)
		}
		out[i][place[h.Part]] = h.Hand
	}
	return out
}

// Decide puts a teacher's decisions to the parts that they are about. A decision about a pupil who handed
// nothing in is a fault.
func Decide(parts []mark.Part, decisions []mark.Override) error {
	at := map[[2]string]int{}
	for i := range parts {
		at[[2]string{parts[i].Pupil, parts[i].Part}] = i
	}
	var faults Faults
	for i := range decisions {
		d := &decisions[i]
		k, ok := at[[2]string{d.Pupil, d.Part}]
		if !ok {
			faults = append(faults, fmt.Sprintf("the decision on %s, part %s: no such pupil handed anything in", d.Pupil, d.Part))
			continue
		}
		parts[k].Override = d
	}
	if len(faults) > 0 {
		return faults
	}
	return nil
}
