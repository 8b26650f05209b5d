package slip

import "slices"

// A Frequency says how often a slip is met when a mixed class first sees such an arrangement.
//
// The bands are common practice, no source: common is one script in twenty or more, occasional one to five in
// a hundred, rare less.
type Frequency uint8

const (
	Rare Frequency = iota
	Occasional
	Common
)

// String is the band in a word.
func (f Frequency) String() string { return [...]string{"rare", "occasional", "common"}[f] }

// Weight is the prior weight of a slip before any working is read, relative to a rare one.
func (f Frequency) Weight() float64 { return [...]float64{1, 5, 12}[f] }

// A Slip is one row of the catalogue.
type Slip struct {
	Name      string // a short name for files and tables, such as "equal-shares"
	Title     string // as it would be said in the staff room
	Change    string // what was done
	Evidence  string // what in the working confirms it
	Ask       string // a question for the pupil
	Frequency Frequency
	Source    string // a source, "from memory" or "common practice, no source"
	Where     string // where it can be made

	on     func(p *Plan) []int         // the forces that it can fall on, by number in the main arrangement; nil: none in particular
	line   func(x *sum, of int) bool   // changes a line; reports whether it did
	found  func(x *sum, of int) bool   // changes a value that a line gives
	answer func(z *reply, of int) bool // changes the answer of a part
	method bool                        // takes the place of a whole method, so no second slip goes with it
}

// InWords reports whether a slip shows only in words or in how an answer is written, never in its number.
func (s *Slip) InWords() bool { return s.line == nil && s.found == nil && s.answer == nil }

// Catalogue lists all slips, those about distances first.
func Catalogue() []Slip { return slices.Clone(catalogue) }

// Named returns the slip of that name, or nil.
func Named(name string) *Slip {
	for i := range catalogue {
		if catalogue[i].Name == name {
			s := catalogue[i]
			return &s
		}
	}
	return nil
}
