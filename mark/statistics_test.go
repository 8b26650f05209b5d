package mark

import (
	"math"
	"testing"
)

func within(a, b, tol float64) bool { return math.Abs(a-b) <= tol }

// Worked by hand: six pupils, two parts of 1 and 3 marks.
//
//	pupil  a  b  total
//	1      1  3  4
//	2      1  2  3
//	3      1  3  4
//	4      0  1  1
//	5      0  0  0
//	6      1  1  2
//
// Facility of a: 4/6; of b: 10/18. Thirds of two pupils: 1 and 3 above, 5 and 4 below: a 2/2 − 0/2 = 1,
// b 6/6 − 1/6 = 5/6. Correlation of a with b: means 2/3 and 5/3; products of the deviations sum to
// Σab − n·ā·b̄ = 9 − 6·(2/3)·(5/3) = 7/3; squares 4/3 and 24 − 50/3 = 22/3; r = (7/3)/√(88/9) = 7/√88. The
// point-biserial formula (M₁ − M₀)/s·√(pq) with M₁ = 9/4, M₀ = 1/2, s² = (22/3)/6 gives the same.
func TestItemsByHand(t *testing.T) {
	marks := [][2]int{{1, 3}, {1, 2}, {1, 3}, {0, 1}, {0, 0}, {1, 1}}
	var pupils [][]Part
	for _, m := range marks {
		pupils = append(pupils, []Part{{Part: "a", Marks: m[0], Of: 1}, {Part: "b", Marks: m[1], Of: 3}})
	}
	items := Items(pupils)
	a, b := items[0], items[1]
	if !within(a.Facility, 4.0/6, 1e-12) || !within(b.Facility, 10.0/18, 1e-12) || !within(b.Mean, 10.0/6, 1e-12) {
		t.Errorf("facilities %v, %v", a.Facility, b.Facility)
	}
	if !within(a.Discriminates, 1, 1e-12) || !within(b.Discriminates, 5.0/6, 1e-12) {
		t.Errorf("discriminations %v, %v", a.Discriminates, b.Discriminates)
	}
	r := 7 / math.Sqrt(88)
	biserial := (9.0/4 - 1.0/2) / math.Sqrt(22.0/18) * math.Sqrt(4.0/6*2.0/6)
	if !within(a.Correlation, r, 1e-12) || !within(biserial, r, 1e-12) {
		t.Errorf("correlation %v, want %v (%v)", a.Correlation, r, biserial)
	}
	if a.Full.Count != 4 || b.Full.Count != 2 || a.N != 6 {
		t.Errorf("counts %+v %+v", a.Full, b.Full)
	}
	decided := pupils
	decided[4][0].Override = &Override{Mark: 1}
	if got := Items(decided)[0].Facility; !within(got, 5.0/6, 1e-12) {
		t.Errorf("the teacher's mark doesn't count: %v", got)
	}
	if got := Items(nil); len(got) != 0 {
		t.Errorf("of nobody: %v", got)
	}
	if got := Items(pupils[:1])[0]; !math.IsNaN(got.Discriminates) || !within(got.Facility, 1, 1e-12) {
		t.Errorf("of one pupil: %+v", got)
	}
}

// Wilson's interval for 10 of 10 begins at n/(n + z²), for 0 of 10 it ends at z²/(n + z²); for 5 of 10 it is
// 0.5 ± z/(2·√(n + z²)): exact consequences of the formula. 95 % of 81 of 263 is 0.2553 to 0.3662 in
// R. G. Newcombe, Statistics in Medicine 17 (1998) 857-872, from memory.
func TestWilson(t *testing.T) {
	const z2 = 1.959963984540054 * 1.959963984540054
	all, none, half := NewRate(10, 10), NewRate(0, 10), NewRate(5, 10)
	if !within(all.Low, 10/(10+z2), 1e-12) || all.High != 1 || none.Low != 0 || !within(none.High, z2/(10+z2), 1e-12) {
		t.Errorf("all %v, none %v", all, none)
	}
	if d := math.Sqrt(z2) / (2 * math.Sqrt(10+z2)); !within(half.High, 0.5+d, 1e-12) || !within(half.Low, 0.5-d, 1e-12) {
		t.Errorf("half %v", half)
	}
	if r := NewRate(81, 263); !within(r.Low, 0.2553, 5e-5) || !within(r.High, 0.3662, 5e-5) {
		t.Errorf("81 of 263: %v", r)
	}
	if r := NewRate(0, 0); !math.IsNaN(r.Value) || r.Low != 0 || r.High != 1 {
		t.Errorf("of none: %v", r)
	}
}

func TestTallies(t *testing.T) {
	list := Tallies([][]Suspect{
		{{Name: "wrong-edge", Probability: 0.9}, {Name: NoSlip, Probability: 0.1}},
		{{Name: "wrong-edge", Probability: 0.5}, {Name: "radians", Probability: 0.5}},
		nil,
	})
	if len(list) != 2 || list[0].Name != "wrong-edge" || len(list[0].Pupils) != 1 || !within(list[0].Expected, 1.4, 1e-12) || len(list[1].Pupils) != 0 || list[0].Rate.Of != 3 {
		t.Errorf("%+v", list)
	}
}
