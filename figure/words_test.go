package figure

import (
	"strings"
	"testing"

	"steelyard/answer"
	"steelyard/bank/banktest"
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
		{"apart", "body t: uniform, length 2.00 m, weight 50 N, placed at (0 m, 1.00 m), \"upper beam\"\nbody b: uniform, length 2.00 m, weight 30 N, placed at (0 m, 0 m), \"lower beam\"\nsupport A: hinge, on t at left end\nsupport B: hinge, on b at left end\ncable C: on t at right end, to (0 m, 2.50 m)\nlink L: on b at right end, to t at 1.00 m\npart a: find tension L\n",
			[]string{"The left end of the lower beam is 1.00 metres below the left end of the upper beam."}, nil},
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

// TestOnePointOnce: where two cables end at one point, its place is given once.
func TestOnePointOnce(t *testing.T) {
	l := lay(t, "question \"Q\"\nbody p: frame, mass 2.0 kg, \"picture\"\npiece f of p: rectangle 0.50 m by 0.30 m at (0 m, 0 m)\ncable A: on p at (0.10 m, 0.30 m), to (0.25 m, 0.56 m)\ncable B: on p at (0.40 m, 0.30 m), to (0.25 m, 0.56 m)\npart a: find tension A\n")
	if n := strings.Count(string(draw.SVG(Draw(l, Options{}))), "0.56\u00a0m</"); n != 1 {
		t.Errorf("the height of the nail is given %d times, want once", n)
	}
}

// TestUnknownAngleLeansAsItRests: a rod whose angle is asked for leans to the side on which it rests, at another angle.
func TestUnknownAngleLeansAsItRests(t *testing.T) {
	for way, right := range map[string]bool{"right": false, "left": true} {
		l := lay(t, "question \"Q\"\nbody r: uniform, length 1.20 m, weight 20 N, angle unknown, \"rod\"\nsupport H: hinge, on r at top\nforce E: 8.0 N "+way+", on r at foot\npart a: find angle r\n")
		a, err := answer.Solve(l.Question)
		if err != nil {
			t.Fatal(err)
		}
		drawn, guessed := standIn(a.Layout)
		got, want := drawn.Bodies[0].Axis, a.Layout.Bodies[0].Axis
		if !guessed || got.X > 0 != right || want.X > 0 != right || got.Y*want.Y < 0 {
			t.Errorf("pulled %s: the rod rests along %v and is drawn along %v", way, want, got)
		}
		if turn := got.X*want.Y - got.Y*want.X; turn < 0.05 && turn > -0.05 {
			t.Errorf("pulled %s: the sketch gives the angle away", way)
		}
	}
}

// TestAReadingIsWrittenAsGiven: what a force meter shows keeps the figures that the question gives it.
func TestAReadingIsWrittenAsGiven(t *testing.T) {
	l := lay(t, banktest.Text(t, "batten-on-two-meters.moments"))
	a, err := answer.Solve(l.Question)
	if err != nil {
		t.Fatal(err)
	}
	got := map[string]string{}
	for _, f := range forcesOn(a.Layout, Options{Forces: a.Forces}, 0) {
		got[f.thing] = f.text
	}
	if got["Q"] != "5.2\u00a0N" || got["P"] != "3.40\u00a0N" {
		t.Errorf("the forces are written %q", got)
	}
}
