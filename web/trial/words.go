package trial

import (
	"fmt"
	"html"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"steelyard/draw"
	"steelyard/statics"
	"steelyard/trial"
)

// doing names a change in an address.
func doing(c *trial.Change) string { return string(c.Deed) + "|" + c.Thing }

// subscript is how a symbol such as R with P below it is written where there are only letters.
var subscript = regexp.MustCompile(`\b([A-Z])_(\w+)`)

// symbols is a sentence with its symbols as they are drawn.
func symbols(text string) string {
	return subscript.ReplaceAllString(html.EscapeString(text), "<i>$1</i><sub>$2</sub>")
}

func lower(t string) string {
	r := []rune(t)
	return strings.ToLower(string(r[:1])) + string(r[1:])
}

func pressed(yes bool) string { return strconv.FormatBool(yes) }

func keyOf(x *aspect) string {
	if x == nil {
		return ""
	}
	return x.Place.Key
}

func num(v float64) string { return strconv.FormatFloat(math.Round(v*1000)/1000, 'f', -1, 64) }

func drawn(p *draw.Picture) string { return string(draw.SVG(p)) }

func shownStep(m float64) string { return strconv.FormatFloat(m, 'f', 2, 64) + " m" }

// onBody tells points of the same name apart where there are several bodies.
func onBody(s *sight, p trial.Place) string {
	if len(s.Answers.Layout.Bodies) > 1 && strings.HasSuffix(p.Name, "end") {
		return " of " + p.Body
	}
	return ""
}

func orNone(count string) string {
	if count == "" {
		return "0"
	}
	return count
}

func (s *sight) ghostCount() int {
	if s.Scene == nil {
		return 0
	}
	return len(s.Scene.Ghosts)
}

func written(s *sight) string { return trial.Written(s.Value, s.Number.Unit) }

func unitName(s *sight) string {
	if s.Number.Unit.Symbol == "" {
		return "numbers"
	}
	return s.Number.Unit.Symbol
}

// guessAsked is what the class guesses: a place has a way to go, other numbers a value.
func guessAsked(s *sight) string {
	if strings.HasPrefix(s.Number.Words, "the place of ") {
		return "How far can it go before something gives"
	}
	return "At what value does something give"
}

func inUnits(s *sight) string {
	if s.Number.Unit.Symbol == "" {
		return ""
	}
	return "in " + s.Number.Unit.Symbol
}

// moves says how it moves, or nothing.
func moves(s *sight) string {
	if s.Outcome == nil || s.Outcome.Rests {
		return ""
	}
	return s.Outcome.Does
}

// verdict holds a guess against what is so.
func verdict(s *sight) string {
	if s.Curve == nil {
		return ""
	}
	if len(s.Curve.Limits) == 0 {
		if slices.Contains(s.Curve.State, statics.NoEquilibrium) {
			return ""
		}
		return "It stays at rest all the way."
	}
	var at []string
	for _, l := range s.Curve.Limits {
		if w := trial.Written(l.At, s.Number.Unit); !slices.Contains(at, w) {
			at = append(at, w)
		}
	}
	return fmt.Sprintf("Something gives at %s.", strings.Join(at, " and at "))
}
