package workbench

import "strconv"

// An Edit is a change asked for by pointing at something: what a page sends.
type Edit struct {
	Do    string  `json:"do"`    // "move", "step", "set", "add", "remove", "rename"
	Thing string  `json:"thing"` // what it is done to; of "add", the body that something is added to
	What  string  `json:"what"`  // which of its numbers or words; of "add", what is added
	To    string  `json:"to"`    // as typed: of "set" and "rename"; of "add" a part, what it asks for
	X     float64 `json:"x"`     // of "move": metres, see Move; of "step": steps
	Y     float64 `json:"y"`
	Fine  bool    `json:"fine"`
	Exact bool    `json:"exact"` // of "move": not onto a grid
	Here  bool    `json:"here"`  // of "add": at X
}

// Apply makes an edit.
func Apply(text string, e Edit) (Change, error) {
	switch e.Do {
	case "move":
		s := Stepped
		switch {
		case e.Exact:
			s = Exactly
		case e.Fine:
			s = Finely
		}
		return Move(text, e.Thing, e.What, e.X, e.Y, s)
	case "step":
		if !(e.X >= -1e4 && e.X <= 1e4 && e.Y >= -1e4 && e.Y <= 1e4) {
			return Change{}, refuse("that is too many steps", "")
		}
		return Step(text, e.Thing, e.What, int(e.X), int(e.Y), e.Fine)
	case "set":
		return Set(text, e.Thing, e.What, e.To)
	case "add":
		a := Addition{Kind: e.What, Body: e.Thing, Ask: e.To}
		if e.Here {
			a.At = &e.X
		}
		return Add(text, a)
	case "remove":
		return Remove(text, e.Thing)
	case "rename":
		return Rename(text, e.Thing, e.To)
	}
	return Change{}, refuse(strconv.Quote(e.Do)+" is nothing that can be done here", "")
}
