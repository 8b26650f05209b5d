package sheet

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"steelyard/formula"
)

func at11() setter { return setter{look: newLook(Options{Size: 11}), size: 11} }

// find returns the run with a text.
func find(t *testing.T, b box, text string) run {
	t.Helper()
	for _, r := range b.runs {
		if r.text == text {
			return r
		}
	}
	t.Fatalf("there is no %q", text)
	return run{}
}

func symbol(text, sub string) formula.Node { return formula.Symbol(text, sub, "", math.NaN()) }

// A fraction is stacked: what is above stands wholly above the bar, what is below wholly below it,
// both centred on it; and the bar is on the height of the minus sign's middle.
func TestFractionIsStacked(t *testing.T) {
	s := at11()
	b := s.formula(formula.Frac(formula.Given("972", "N m"), formula.Given("3.60", "m")))
	bar := b.rules[0]
	above, below := find(t, b, "972"), find(t, b, "3.60")
	if above.y >= bar.y1-0.1*s.size || below.y-0.6*s.size <= bar.y1 {
		t.Errorf("the bar at %.2f cuts the numbers at %.2f and %.2f", bar.y1, above.y, below.y)
	}
	m := s.formula(formula.Given("3.60", "m"))
	if middle := below.x + m.width/2; math.Abs(middle-(bar.x1+bar.x2)/2) > 0.01 {
		t.Errorf("the part below is centred on %.2f, the bar on %.2f", middle, (bar.x1+bar.x2)/2)
	}
	if y := -0.255 * s.size; math.Abs(bar.y1-y) > 0.01 {
		t.Errorf("the bar is at %.2f, want %.2f", bar.y1, y)
	}
}

func TestSymbolsSlantAndIndicesDoNot(t *testing.T) {
	b := at11().formula(symbol("R", "Q"))
	r, q := find(t, b, "R"), find(t, b, "Q")
	if !r.face.Italic() || q.face.Italic() || q.y <= 0 || q.size >= r.size || q.x < r.x {
		t.Errorf("R is %+v, its index %+v", r, q)
	}
	unit := find(t, at11().formula(formula.Given("3", "m")), "m")
	if unit.face.Italic() {
		t.Error("the unit slants")
	}
	large := setter{look: newLook(Options{Size: 24}), size: 24}
	if find(t, large.formula(symbol("R", "Q")), "R").face.Italic() {
		t.Error("in large print the symbol slants")
	}
}

// The sign of a root covers what is under it, and brackets grow with what is in them.
func TestRootsAndBracketsCoverTheirContents(t *testing.T) {
	s := at11()
	frac := formula.Frac(formula.Given("3", "N"), formula.Given("4", ""))
	plain := s.formula(frac)
	root := s.formula(formula.Sqrt(frac))
	over := root.rules[3]
	if -over.y1 < plain.up || over.x2-over.x1 < plain.width || root.width <= plain.width {
		t.Errorf("the bar of the root is %+v over a box %.1f wide and %.1f high", over, plain.width, plain.up)
	}
	group := s.formula(formula.Bracket(frac))
	if len(group.curves) != 2 || group.up < plain.up || group.down < plain.down {
		t.Errorf("brackets about a fraction: %d curves, %.1f up and %.1f down", len(group.curves), group.up, group.down)
	}
	if flat := s.formula(formula.Bracket(formula.Given("3", "N"))); len(flat.curves) != 0 {
		t.Error("brackets about a number are drawn by hand")
	}
}

// randomFormula makes formulas of all kinds, deep enough to nest each in each.
func randomFormula(r *rand.Rand, deep int) formula.Node {
	leaf := func() formula.Node {
		switch r.IntN(4) {
		case 0:
			return symbol(string(rune('A'+r.IntN(26))), string(rune('A'+r.IntN(26))))
		case 1:
			return formula.Given(fmt.Sprintf("%d.%02d", r.IntN(900), r.IntN(100)), "m")
		case 2:
			return formula.Given(fmt.Sprint(1+r.IntN(900)), "N m")
		}
		return symbol("μ", "")
	}
	if deep == 0 {
		return leaf()
	}
	next := func() formula.Node { return randomFormula(r, deep-1) }
	switch r.IntN(11) {
	case 0:
		return formula.Add(next(), next(), formula.Minus(next()))
	case 1:
		return formula.Times(next(), next())
	case 2:
		return formula.Frac(next(), next())
	case 3:
		return formula.Minus(next())
	case 4:
		return formula.Square(next())
	case 5:
		return formula.Sqrt(next())
	case 6:
		return formula.Of("tan⁻¹", next())
	case 7:
		return formula.Bracket(next())
	case 8:
		return formula.Of("sin", next())
	case 9:
		return formula.Upright("about P")
	}
	return leaf()
}

// Every piece of a formula lies inside its box, so boxes that don't overlap mean text that doesn't.
func TestPiecesLieInTheirBox(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	s := at11()
	for range 2000 {
		n := formula.Equal(randomFormula(r, 3), randomFormula(r, 2))
		b := s.formula(n)
		for _, p := range b.runs {
			if w := p.face.Width(p.text, p.size); p.x < -0.01 || p.x+w > b.width+0.01 || p.y+0.22*p.size > b.down+0.01 || -p.y+0.72*p.size > b.up+0.01 {
				t.Fatalf("%s: %q at %.2f, %.2f leaves the box %.2f wide, %.2f up, %.2f down", formula.Text(n), p.text, p.x, p.y, b.width, b.up, b.down)
			}
		}
		for _, p := range b.rules {
			if min(p.x1, p.x2) < -0.5 || max(p.x1, p.x2) > b.width+0.5 || -min(p.y1, p.y2) > b.up+1 || max(p.y1, p.y2) > b.down+1 {
				t.Fatalf("%s: the rule %+v leaves the box %.2f wide, %.2f up, %.2f down", formula.Text(n), p, b.width, b.up, b.down)
			}
		}
	}
}

// A displayed formula fits its column, whatever the width, and loses nothing by being broken.
func TestDisplayedFormulasFit(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	s := at11()
	letters := func(boxes ...box) string {
		var b strings.Builder
		for _, x := range boxes {
			for _, p := range x.runs {
				b.WriteString(strings.ReplaceAll(p.text, " ", "")) // a space may become the end of a line
			}
		}
		return b.String()
	}
	for range 500 {
		n := formula.Equal(randomFormula(r, 1), formula.Add(formula.Times(randomFormula(r, 1), randomFormula(r, 0)), randomFormula(r, 1), formula.Minus(randomFormula(r, 1))), randomFormula(r, 1))
		for _, width := range []float64{500, 250, 170} {
			lines := s.lines(n, width)
			for _, l := range lines {
				if l.width > width+0.01 {
					t.Errorf("%s is %.1f wide in a column of %g", formula.Text(n), l.width, width)
				}
			}
			if got, want := letters(lines...), letters(s.formula(n)); got != want {
				t.Fatalf("width %g: %s was broken to %s", width, want, got)
			}
		}
	}
}

func TestSymbolsInWords(t *testing.T) {
	tests := []struct{ text, want string }{
		{"Support P carries 540 N.", "Support P carries 540 N."},
		{"Take g = 9.81 N/kg.", "Take <g> = 9.81 N/kg."},
		{"a mass of 250 g", "a mass of 250 g"},
		{"e.g. a plank", "e.g. a plank"},
		{"the force R_Q at Q", "the force <R>[Q] at Q"},
		{"F ≤ μN holds", "<F> ≤ <μN> holds"},
		{"coefficient μ is 0.35", "coefficient <μ> is 0.35"},
		{"W = 310 N", "<W> = 310 N"},
		{"", ""},
	}
	for _, c := range tests {
		var b strings.Builder
		for _, s := range symbols(c.text) {
			switch {
			case s.italic:
				b.WriteString("<" + s.text + ">")
			case s.sub:
				b.WriteString("[" + s.text + "]")
			default:
				b.WriteString(s.text)
			}
		}
		if b.String() != c.want {
			t.Errorf("%q is read as %q, want %q", c.text, b.String(), c.want)
		}
	}
}

// Lines broken by the least sum of squares are never worse than lines filled one by one, never too
// wide, and hold all the words in order.
func TestLinesAreWellBroken(t *testing.T) {
	l := newLook(Options{Size: 11})
	words := l.words(plain(strings.Repeat("Two bargemen carry a plank of unequal weight along the towpath of a narrow canal. ", 4)), 11)
	rag := func(lines [][]word, width float64) float64 {
		sum := 0.0
		for i, line := range lines {
			w := 0.0
			for j, x := range line {
				if j > 0 {
					w += x.gap
				}
				w += x.width
			}
			if w > width {
				t.Errorf("width %g: a line is %g wide", width, w)
			}
			if i < len(lines)-1 {
				sum += (width - w) * (width - w)
			}
		}
		return sum
	}
	for width := 90.0; width < 500; width += 7 {
		lines := breakLines(words, width)
		var greedy [][]word
		room := -1.0
		n := 0
		for _, w := range words {
			if room -= w.gap + w.width; room < 0 {
				greedy = append(greedy, nil)
				room = width - w.width
			}
			greedy[len(greedy)-1] = append(greedy[len(greedy)-1], w)
		}
		for _, line := range lines {
			n += len(line)
		}
		if n != len(words) {
			t.Errorf("width %g: %d words of %d", width, n, len(words))
		}
		if len(lines) == len(greedy) && len(greedy[len(greedy)-1]) > 1 && rag(lines, width) > rag(greedy, width)*1.01+1 {
			t.Errorf("width %g: ragged by %g, one by one by %g", width, rag(lines, width), rag(greedy, width))
		}
	}
}

// Marking symbols changes no letter of a text: only the underscore before an index goes.
func FuzzSymbols(f *testing.F) {
	for _, seed := range []string{"R_Q = 3 N", "_x", "x_", "μ_F", "g", "a__b", "\u00b5", "F ≤ μN", "1.5 g of sand", "\xff_a"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		var b strings.Builder
		for i, s := range symbols(text) {
			if s.sub && i > 0 {
				b.WriteString("_")
			}
			b.WriteString(s.text)
		}
		if b.String() != text {
			t.Errorf("%q became %q", text, b.String())
		}
	})
}
