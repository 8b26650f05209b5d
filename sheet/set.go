package sheet

import (
	"errors"
	"fmt"
	"time"

	"steelyard/draw"
	"steelyard/font"
	"steelyard/solution"
)

// A Set is what is printed together: questions under one title.
type Set struct {
	Title string
	Pupil string // whose sheet it is, printed on the line for the name; "" leaves the line to be filled in
	Code  string // which set of numbers, such as "numbers 017"; printed in the foot, may be empty
	Items []Item
	Size  float64 // of its text, points, where it differs from the options, as for a pupil who reads large print; else 0
}

// An Item is one question as it is printed.
type Item struct {
	Title    string
	Wording  []string // paragraphs
	Safety   string   // caution for teaching use; "" takes the solution's
	Parts    []Part
	Picture  func(Drawing) *draw.Picture                // what the pupil is given; nil if there is none
	View     func(solution.View, Drawing) *draw.Picture // a picture of a solution's step; nil if there are none
	Solution *solution.Solution                         // for schemes and solutions
}

// A Part is one part of a question as it is printed.
type Part struct {
	Name   string // "a"
	Text   string
	Marks  int
	Label  string // what stands before the answer's line: "force at P"; may be empty
	Unit   string // what stands after it: "N"
	Prose  bool   // answered in words: lines only, and no line for the answer
	Lines  int    // lines to work on; 0 goes by the marks
	Answer string // for a scheme where the solution has no lines with marks: "480 N upwards"
}

// Marks is the number of marks of all parts.
func (it *Item) Marks() int {
	total := 0
	for _, p := range it.Parts {
		total += p.Marks
	}
	return total
}

func (it *Item) safety() string {
	if it.Safety == "" && it.Solution != nil {
		return it.Solution.Safety
	}
	return it.Safety
}

// A Drawing says how a picture has to be drawn to fit its page.
type Drawing struct {
	Width    float64 // points, that the picture should fill and not exceed
	TextSize float64 // points, of its labels
	Upright  bool    // symbols upright, as in large print
}

// A Paper is a size of paper.
type Paper uint8

const (
	A4     Paper = iota // 210 mm by 297 mm
	Letter              // 8.5 in by 11 in
)

func (p Paper) size() (width, height float64) {
	if p == Letter {
		return 612, 792
	}
	return 595.28, 841.89
}

// Options say how a set is printed. The zero Options print 11 point text on A4 in English.
type Options struct {
	Paper     Paper
	Size      float64 // of the text, points, 9 to 36; 0 is 11. From 16 on it is large print
	Language  string  // "" is en-GB
	Author    string
	Created   time.Time // not written if zero
	Notice    string    // in the foot of each page; "" is the usual one
	HideNames bool      // no lines for name, class and date
	TwoSided  bool      // in a booklet, each set starts on the front of a sheet

	onText func(page int, x, y, size float64, face *font.Face, text string) // for tests
}

// Notice stands in the foot of each page unless the options give another.
const Notice = "Results are for teaching, never for building."

func (o Options) withDefaults() (Options, error) {
	if o.Size == 0 {
		o.Size = 11
	}
	if !(o.Size >= 9 && o.Size <= 36) {
		return o, fmt.Errorf("text of %g points cannot be printed; choose 9 to 36, such as 11, 18 or 24", o.Size)
	}
	if o.Language == "" {
		o.Language = "en-GB"
	}
	if o.Notice == "" {
		o.Notice = Notice
	}
	if o.Paper > Letter {
		return o, fmt.Errorf("paper number %d is not known; choose A4 or Letter", o.Paper)
	}
	return o, nil
}

func (s *Set) check() error {
	if s.Title == "" {
		return errors.New("the sheet needs a title")
	}
	if len(s.Items) == 0 {
		return fmt.Errorf("sheet %q has no question", s.Title)
	}
	return nil
}
