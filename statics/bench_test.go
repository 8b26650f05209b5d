package statics

import (
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize/convex/lp"
)

// The two-support beam against a general dense solve of its three equations, in the same run.
func BenchmarkBeam(b *testing.B) {
	s := board(1.5)
	s.Joints[0].Kind = Hinge // three unknowns
	b.Run("solve", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if sol, err := Solve(&s); err != nil || sol.State != Unique {
				b.Fatal(sol, err)
			}
		}
	})
	b.Run("general", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			a := mat.NewDense(3, 3, []float64{1, 0, 0, 0, 1, 1, 0, 0.6, 4.2})
			var x mat.VecDense
			if err := x.SolveVec(a, mat.NewVecDense(3, []float64{0, 850, 310*2.4 + 540*1.5})); err != nil {
				b.Fatal(err)
			}
		}
	})
}

// twelve is two beams, one above the other, in smooth rests that push from below and cables that
// hold them slantwise: twelve unknowns that are never negative, in six equations.
func twelve() System {
	s := System{Bodies: 2, Loads: []Load{{On: 0, At: Vec{2.9, 0}, Force: Vec{7, -100}}, {On: 1, At: Vec{3.3, 1.2}, Force: Vec{11, -250}}}}
	normals := []Vec{{0, 1}, {0.6, 0.8}, {-0.6, 0.8}, {0.28, 0.96}, {-0.8, 0.6}, {0.8, -0.6}}
	for i := range 12 {
		s.Joints = append(s.Joints, Joint{Kind: Pull, On: i % 2, By: Ground, At: Vec{0.3 + 0.47*float64(i), float64(i%2) + 0.01*float64(i)}, Normal: normals[(i/2)%6]})
	}
	s.Joints[3].By = 0
	return s
}

// Telling the state of an arrangement of twelve unknowns against a general linear program solver.
func BenchmarkTwelve(b *testing.B) {
	s := twelve()
	b.Run("classify", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if st, err := Classify(&s); err != nil || st != NotFixed {
				b.Fatal(st, err)
			}
		}
	})
	p := reference(&s)
	a, cost := mat.NewDense(len(p.a), p.cols, nil), make([]float64, p.cols)
	for i, row := range p.a {
		a.SetRow(i, row)
	}
	b.Run("general", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, _, err := lp.Simplex(cost, a, p.b, 0, nil); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("spans", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if sol, err := Solve(&s); err != nil || sol.State != NotFixed {
				b.Fatal(sol.State, err)
			}
		}
	})
}

// The exact path: at the limit, on three rests, tipped, and as far as a load can go.
func BenchmarkExact(b *testing.B) {
	limit, tipped, far, three := board(4.2+310*1.8/540), board(6), board(0), board(1.5)
	three.Joints = append(three.Joints, rest(0, Ground, 3, 0, 0))
	far.Unknowns = []Unknown{{On: 0, Couple: -540, Least: 0, Greatest: 9}}
	b.Run("limit", func(b *testing.B) {
		for b.Loop() {
			if sol, err := Solve(&limit); err != nil || sol.State != Limit {
				b.Fatal(sol, err)
			}
		}
	})
	b.Run("three rests", func(b *testing.B) {
		for b.Loop() {
			if sol, err := Solve(&three); err != nil || sol.State != NotFixed {
				b.Fatal(sol, err)
			}
		}
	})
	b.Run("motion", func(b *testing.B) {
		for b.Loop() {
			if sol, err := Solve(&tipped); err != nil || sol.Motion == nil {
				b.Fatal(sol, err)
			}
		}
	})
	b.Run("range", func(b *testing.B) {
		for b.Loop() {
			if x, err := Range(&far, 0); err != nil || !x.Possible {
				b.Fatal(x, err)
			}
		}
	})
}
