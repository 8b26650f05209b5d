package statics

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// Feasible or not: the verdicts on the arrangements that the first general solver refused, and on a
// hundred others, against GLPK's command, many in one file.
func TestGLPK(t *testing.T) {
	glpsol, err := exec.LookPath("glpsol")
	if err != nil {
		if os.Getenv("CI") != "" {
			t.Fatal("glpsol" + " is not installed; CI needs it, see .ci/packages")
		}
		t.Skip("glpsol is not installed (Debian package glpk-utils): verdicts are not held against GLPK")
	}
	r := rand.New(rand.NewPCG(1, 2)) // as in TestAgainstGeneralSolver
	var batch []glpkCase
	refused, others := 0, 0
	for k := range 10000 {
		s, kind := arrangement(r)
		p := reference(&s)
		_, _, err := p.least(nil)
		if !errors.Is(err, errRefused) {
			if others > 100 {
				continue
			}
			others++
		} else {
			refused++
		}
		state, err := Classify(&s)
		if err != nil {
			t.Fatal(err)
		}
		batch = append(batch, glpkCase{k, kind, state, s, p})
	}
	wrong := 0
	for len(batch) > 0 {
		n := min(25, len(batch))
		residues := glpk(t, glpsol, batch[:n])
		for i, c := range batch[:n] {
			possible := residues[i] < 1e-7
			if possible != (c.state != NoEquilibrium) && !(possible && c.p.slipsFree()) {
				wrong++
				t.Errorf("arrangement %d (%s): state %d, but GLPK leaves %g\n%+v", c.k, c.kind, c.state, residues[i], c.s)
			}
		}
		batch = batch[n:]
	}
	t.Logf("%d that the first solver refused, %d others, %d differ", refused, others, wrong)
	if refused < 100 {
		t.Errorf("only %d refused ones: too few to tell anything", refused)
	}
}

type glpkCase struct {
	k     int
	kind  string
	state State
	s     System
	p     *program
}

// glpk returns for each case how much of its equations must be left unfulfilled, relative to the
// largest load.
func glpk(t *testing.T, glpsol string, cases []glpkCase) []float64 {
	t.Helper()
	dir := t.TempDir()
	model, out := filepath.Join(dir, "batch.lp"), filepath.Join(dir, "batch.txt")
	var text bytes.Buffer
	var owner []int // of each column as GLPK numbers them: by first appearance, which is the objective
	text.WriteString("Minimize\n rest:")
	for i, c := range cases {
		for row := range c.p.a {
			fmt.Fprintf(&text, " + p%d_%d + n%d_%d\n", i, row, i, row)
			owner = append(owner, i, i)
		}
	}
	text.WriteString("Subject To\n")
	for i, c := range cases {
		for row, a := range c.p.a {
			fmt.Fprintf(&text, " r%d_%d: p%d_%d - n%d_%d", i, row, i, row, i, row)
			for k, v := range a {
				if v != 0 {
					fmt.Fprintf(&text, " %+.17g x%d_%d\n", v, i, k)
				}
			}
			fmt.Fprintf(&text, " = %.17g\n", c.p.b[row]/math.Max(c.p.size, 1e-300))
		}
	}
	text.WriteString("End\n")
	if err := os.WriteFile(model, text.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	args := []string{"--lp", model, "-w", out}
	if len(cases) == 1 {
		args = append(args, "--exact")
	}
	log, err := exec.Command(glpsol, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("glpsol: %v\n%s", err, log)
	}
	f, err := os.Open(out)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	sums := make([]float64, len(cases))
	lines := bufio.NewScanner(f)
	optimal := false
	for lines.Scan() { // "j column status value dual"
		w := strings.Fields(lines.Text())
		if len(w) > 5 && w[0] == "s" { // "s bas rows columns primal dual value"
			optimal = w[4] == "f" && w[5] == "f"
		}
		if len(w) < 4 || w[0] != "j" {
			continue
		}
		col, _ := strconv.Atoi(w[1])
		if col > len(owner) {
			break
		}
		v, err := strconv.ParseFloat(w[3], 64)
		if err != nil {
			t.Fatalf("glpsol wrote %q", lines.Text())
		}
		sums[owner[col-1]] += v
	}
	if half := len(cases) / 2; !optimal && half > 0 { // it stumbled over one of them
		return append(glpk(t, glpsol, cases[:half]), glpk(t, glpsol, cases[half:])...)
	}
	if !optimal {
		t.Fatalf("GLPK finds no optimum for arrangement %d", cases[0].k)
	}
	return sums
}
