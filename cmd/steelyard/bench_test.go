package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"gonum.org/v1/gonum/mat"

	"steelyard/answer"
	"steelyard/draw"
	"steelyard/figure"
	"steelyard/question"
	"steelyard/solution"
)

// From the text of a question to its forces, all routes of its solution and its picture. The target
// is 1 ms on one core.
func BenchmarkSpine(b *testing.B) {
	text, err := os.ReadFile("../../docs/pictures/bridge.moments")
	if err != nil {
		b.Fatal(err)
	}
	src := string(text)
	b.ReportAllocs()
	for b.Loop() {
		q, err := question.Parse("bridge.moments", src)
		if err != nil {
			b.Fatal(err)
		}
		a, err := answer.Solve(q)
		if err != nil {
			b.Fatal(err)
		}
		if _, err := solution.Solve(a); err != nil {
			b.Fatal(err)
		}
		draw.SVG(figure.Draw(a.Layout, figure.Options{}))
	}
}

func BenchmarkSpineStages(b *testing.B) {
	text, err := os.ReadFile("../../docs/pictures/bridge.moments")
	if err != nil {
		b.Fatal(err)
	}
	src := string(text)
	q, err := question.Parse("bridge.moments", src)
	if err != nil {
		b.Fatal(err)
	}
	a, err := answer.Solve(q)
	if err != nil {
		b.Fatal(err)
	}
	b.Run("parse", func(b *testing.B) {
		for b.Loop() {
			_, _ = question.Parse("bridge.moments", src)
		}
	})
	b.Run("answer", func(b *testing.B) {
		for b.Loop() {
			_, _ = answer.Solve(q)
		}
	})
	b.Run("solution", func(b *testing.B) {
		for b.Loop() {
			_, _ = solution.Solve(a)
		}
	})
	b.Run("figure", func(b *testing.B) {
		for b.Loop() {
			draw.SVG(figure.Draw(a.Layout, figure.Options{}))
		}
	})
	// The reference: a general-purpose dense solve of a system of the same size.
	b.Run("gonum-3x3", func(b *testing.B) {
		m := mat.NewDense(3, 3, []float64{1, 0, 0, 0, 1, 1, 0, 0.6, 3.9})
		rhs := mat.NewVecDense(3, []float64{0, 850, 1554})
		var x mat.VecDense
		for b.Loop() {
			if err := x.SolveVec(m, rhs); err != nil {
				b.Fatal(err)
			}
		}
	})
}

// The whole process, from start to end: target 30 ms. The reference is the shell's true.
func BenchmarkProcess(b *testing.B) {
	program := filepath.Join(b.TempDir(), "steelyard")
	if out, err := exec.Command("go", "build", "-trimpath", "-ldflags", "-s -w", "-o", program, ".").CombinedOutput(); err != nil {
		b.Fatalf("%v\n%s", err, out)
	}
	info, err := os.Stat(program)
	if err != nil {
		b.Fatal(err)
	}
	b.Run("solve", func(b *testing.B) {
		b.ReportMetric(float64(info.Size())/1e6, "MB")
		for b.Loop() {
			if err := exec.Command(program, "solve", "../../docs/pictures/bridge.moments").Run(); err != nil {
				b.Fatal(err)
			}
		}
		b.ReportMetric(float64(info.Size())/1e6, "MB")
	})
	b.Run("true", func(b *testing.B) {
		for b.Loop() {
			if err := exec.Command("true").Run(); err != nil {
				b.Fatal(err)
			}
		}
	})
}
