package figure

import (
	"strings"
	"testing"

	"steelyard/answer"
	"steelyard/draw"
)

// TestWordsAsTheyLie: the words say the same as the picture, however a body lies and whatever it is called.
func TestWordsAsTheyLie(t *testing.T) {
	for _, c := range []struct {
		name, src string
		want, not []string
	}{
		{"falling to the right", "body g: uniform, length 4.00 m, weight 500 N, angle -20 deg, \"gangway\"\nsupport H: hinge, on g at left end\nsupport R: floor, on g at foot, smooth\nload K: weight 200 N, on g at 1.00 m\npart a: find force R\n",
			[]string{"from its upper end", "H is a hinge, at the upper end", "R is a level floor under the body, at the lower end", "20 degrees below the horizontal, falling to the right", "1.00 metres from the upper end"}, []string{"minus"}},
		{"called by a letter", "body k: block 0.80 m by 0.50 m, uniform, weight 500 N\nsupport F: slope 25 deg, on k, coefficient 0.30\nforce E: 300 N along k, on k at (0.80 m, 0.25 m)\npart a: find friction F\n",
			[]string{"The body k is", "that rises to the right", "along the body k towards its upper end"}, []string{"The k "}},
		{"labelled", "body k: block 0.80 m by 0.50 m, uniform, weight 500 N, \"crate\"\nsupport F: slope 25 deg, on k, coefficient 0.30\nforce E: 300 N along k, on k at (0.80 m, 0.25 m)\npart a: find friction F\n",
			[]string{"along the crate"}, []string{"the k "}},
		{"placed", "body g: uniform, length 2.00 m, weight 80 N, angle 40 deg, placed at (1.00 m, 0.50 m), \"arm\"\nsupport H: hinge, on g at left end\ncable T: on g at right end, to (0 m, 3.00 m)\npart a: find tension T\n",
			[]string{"2.50 metres above and 1.00 metres to the left of"}, nil},
	} {
		l := lay(t, "question \"Q\"\n"+c.src)
		p := Draw(l, Options{})
		for _, want := range c.want {
			if !strings.Contains(p.Description, want) {
				t.Errorf("%s: no %q in:\n%s", c.name, want, p.Description)
			}
		}
		for _, not := range c.not {
			if strings.Contains(p.Description, not) {
				t.Errorf("%s: %q in:\n%s", c.name, not, p.Description)
			}
		}
	}
}

// TestLimitAsAnswered: a least load is written in a force diagram as its answer is, rounded up.
func TestLimitAsAnswered(t *testing.T) {
	l := lay(t, "question \"Q\"\nbody k: block 0.80 m by 0.50 m, uniform, weight 500 N, \"crate\"\nsupport F: slope 25 deg, on k, coefficient 0.30\nforce E: unknown along k, on k at (0.80 m, 0.25 m)\npart a: find least E\n")
	a, err := answer.Solve(l.Question)
	if err != nil {
		t.Fatal(err)
	}
	shown, _, _ := strings.Cut(a.Results[0].Shown, " N")
	if p := Draw(a.Layout, Options{View: Forces, Forces: a.Forces}); !strings.Contains(p.Description, shown+" N") {
		t.Errorf("the least E is %s, but the picture says:\n%s", a.Results[0].Shown, p.Description)
	}
}

// TestHolesHaveNoDensity: what is cut out of a sheet is not written with a density.
func TestHolesHaveNoDensity(t *testing.T) {
	l := lay(t, "question \"Q\"\nbody p: frame, \"plate\"\npiece s of p: rectangle 0.60 m by 0.40 m at (0 m, 0 m), density 12 kg/m²\npiece w of p: disc radius 0.10 m at (0.45 m, 0.20 m), density 12 kg/m², hole\ncable P: on p at (0 m, 0.40 m), pulls up\ncable Q: on p at (0.60 m, 0.40 m), pulls up\npart a: find mass p\n")
	if n := strings.Count(string(draw.SVG(Draw(l, Options{}))), "kg/m²</"); n != 1 {
		t.Errorf("the density is written %d times beside the pieces, want once", n)
	}
}
