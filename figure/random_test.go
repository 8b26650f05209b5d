package figure

import (
	"fmt"
	"math/rand/v2"
	"strings"

	"steelyard/answer"
	"steelyard/question"
	"steelyard/statics"
)

// pivotFor picks a point of a body to take moments about: where its first support acts, else its left end.
func pivotFor(l *answer.Layout, body int) (statics.Vec, string) {
	for i := range l.Supports {
		if u := &l.Supports[i]; u.On == body {
			return u.At, u.Name
		}
	}
	return l.Bodies[body].Origin, "O"
}

// randomQuestion makes an arrangement of any kind from a seed, as notation, and parses it.
func randomQuestion(seed uint64) *question.Question {
	r := rand.New(rand.NewPCG(seed, 7))
	q, err := question.Parse(fmt.Sprintf("random-%d", seed), randomSource(r))
	if err != nil {
		panic(err) // the generator writes right notation
	}
	return q
}

var names = []string{"A", "B", "C", "D", "E", "P", "Q", "R", "S", "T", "foreman", "north-trestle", "the-very-long-named-crate-of-apples"}

// A maker writes a random question file.
type maker struct {
	r    *rand.Rand
	b    strings.Builder
	free []string
}

func (m *maker) name() string {
	i := m.r.IntN(len(m.free))
	n := m.free[i]
	m.free = append(m.free[:i:i], m.free[i+1:]...)
	return n
}

func (m *maker) line(format string, a ...any) { fmt.Fprintf(&m.b, format+"\n", a...) }

func (m *maker) between(lo, hi float64) float64 { return lo + (hi-lo)*m.r.Float64() }

func randomSource(r *rand.Rand) string {
	m := &maker{r: r, free: append([]string(nil), names...)}
	m.line(`question "Random"`)
	switch r.IntN(8) {
	case 0, 1, 2, 3:
		m.beam()
	case 4:
		m.rule()
	case 5:
		m.arm()
	case 6:
		m.ladder()
	case 7:
		m.others()
	}
	m.line("part a: find force %s", m.asked())
	return m.b.String()
}

// asked is the first support written.
func (m *maker) asked() string {
	for _, l := range strings.Split(m.b.String(), "\n") {
		for _, k := range []string{"support ", "cable "} {
			if rest, ok := strings.CutPrefix(l, k); ok {
				return rest[:strings.Index(rest, ":")]
			}
		}
	}
	return "?"
}

func (m *maker) beam() {
	length := m.between(0.8, 12)
	at := func() string { return fmt.Sprintf("%.2f m", m.between(0, length)) }
	zero := ""
	if m.r.IntN(6) == 0 {
		zero = ", zero at right end"
	}
	m.line("body plank: uniform, length %.2f m, weight %.0f N%s", length+0.01, m.between(10, 2000), zero)
	kinds := []string{"rest", "rest", "rest", "pivot", "hinge", "roller", "strap", "spring", "force meter"}
	for range 1 + m.r.IntN(3) {
		m.line("support %s: %s, on plank at %s", m.name(), kinds[m.r.IntN(len(kinds))], at())
	}
	for range m.r.IntN(5) {
		switch m.r.IntN(7) {
		case 0, 1:
			m.line("load %s: weight %.0f N, on plank at %s", m.name(), m.between(1, 5000), at())
		case 2:
			m.line("load %s: mass %.1f kg, hung from plank at %s", m.name(), m.between(1, 90), at())
		case 3:
			m.line("force %s: %.0f N %s, on plank at %s", m.name(), m.between(1, 900), []string{"up", "down", "left", "right"}[m.r.IntN(4)], at())
		case 4:
			m.line("force %s: %.0f N %.0f deg above left, on plank at %s", m.name(), m.between(1, 900), m.between(5, 85), at())
		case 5:
			a, b := m.between(0, length/2), m.between(length/2, length)
			m.line("load %s: %.0f N/m, on plank from %.2f m to %.2f m", m.name(), m.between(10, 400), a, b)
		case 6:
			m.line("couple %s: %.1f N m %s, on plank at %s", m.name(), m.between(1, 90), []string{"clockwise", "anticlockwise"}[m.r.IntN(2)], at())
		}
	}
}

func (m *maker) rule() {
	m.line("body rule: uniform, length 100 cm, mass %.0f g, marks every 1 cm", m.between(80, 200))
	m.line("support %s: pivot, on rule at %.0f cm", m.name(), m.between(10, 90))
	for range 1 + m.r.IntN(3) {
		m.line("load %s: mass %.0f g, hung from rule at %.1f cm", m.name(), m.between(20, 500), m.between(1, 99))
	}
}

func (m *maker) arm() {
	length := m.between(0.6, 4)
	m.line("body arm: uniform, length %.2f m, weight %.0f N", length, m.between(10, 400))
	m.line("support %s: hinge, on arm at left end", m.name())
	if m.r.IntN(2) == 0 {
		m.line("cable %s: on arm at %.2f m, pulls %.0f deg above left", m.name(), m.between(0.4, 1)*length, m.between(20, 70))
	} else {
		m.line("cable %s: on arm at right end, to (0 m, %.2f m)", m.name(), m.between(0.3, 1.2)*length)
	}
	for range m.r.IntN(3) {
		m.line("load %s: weight %.0f N, hung from arm at %.2f m", m.name(), m.between(10, 400), m.between(0.2, 1)*length)
	}
}

func (m *maker) ladder() {
	length := m.between(2, 8)
	m.line("body ladder: uniform, length %.1f m, weight %.0f N, angle %.0f deg", length+0.1, m.between(80, 300), m.between(40, 78))
	m.line("support %s: floor, on ladder at foot, coefficient %.2f", m.name(), m.between(0.1, 0.9))
	m.line("support %s: wall, on ladder at top, smooth", m.name())
	for range m.r.IntN(3) {
		m.line("load %s: weight %.0f N, on ladder at %.2f m", m.name(), m.between(200, 900), m.between(0, length))
	}
}

func (m *maker) others() {
	switch m.r.IntN(3) {
	case 0:
		m.line("body crate: block %.2f m by %.2f m, uniform, weight %.0f N", m.between(0.3, 1.5), m.between(0.3, 2), m.between(50, 900))
		m.line("support %s: slope %.0f deg, on crate, coefficient %.2f", m.name(), m.between(5, 40), m.between(0.1, 0.9))
	case 1:
		m.line("body sign: frame")
		m.line("piece plate of sign: rectangle %.2f m by %.2f m at (0 m, 0 m), density 12 kg/m²", m.between(0.2, 0.9), m.between(0.1, 0.6))
		m.line("piece arm of sign: rod from (0 m, 0 m) to (%.2f m, %.2f m), mass 2.4 kg", m.between(0.3, 1), m.between(-0.5, 0.5))
		m.line("support %s: pivot, on sign at (0 m, 0 m)", m.name())
	case 2:
		length := m.between(2, 6)
		m.line("body lower: uniform, length %.2f m, weight 100 N", length)
		m.line("body upper: uniform, length %.2f m, weight 60 N", length*m.between(0.5, 0.9))
		m.line("support %s: rest, on lower at left end", m.name())
		m.line("support %s: rest, on lower at right end", m.name())
		m.line("support %s: rest, on upper at left end, by lower at %.2f m", m.name(), length*m.between(0.1, 0.4))
		m.line("cable %s: on upper at right end, pulls up", m.name())
	}
}
