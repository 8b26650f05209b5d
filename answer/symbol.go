package answer

import "steelyard/question"

// Symbol is the letter that stands for the one force along a support's line, and what stands below
// it: T for a tension, S for a thrust, else R, with the support's name. A cable or strut that is called
// by that very letter has nothing below it; a rest called R has, for R is also the place that moments are
// taken about. Normal forces, friction and components of a force go by N, F, X and Y.
//
// Common practice, no source.
func Symbol(s *question.Support) (letter, sub string) {
	switch s.Kind {
	case question.Cable, question.Link:
		letter = "T"
	case question.Strut:
		letter = "S"
	default:
		return "R", s.Name
	}
	return below(letter, s.Name)
}

// LoadSymbol is the letter that stands for a load and what stands below it: W for a weight, F for
// a force, C for a couple.
func LoadSymbol(d *question.Load) (letter, sub string) {
	switch d.Kind {
	case question.Force:
		letter = "F"
	case question.Couple:
		letter = "C"
	default:
		letter = "W"
	}
	return below(letter, d.Name)
}

func below(letter, name string) (string, string) {
	if name == letter {
		return letter, ""
	}
	return letter, name
}
