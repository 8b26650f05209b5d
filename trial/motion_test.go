package trial_test

import (
	"math"
	"strings"
	"testing"

	"steelyard/answer"
	"steelyard/bank/banktest"
	"steelyard/statics"
	"steelyard/trial"
)

func away(t *testing.T, a *answer.Answers, thing string) *trial.Outcome {
	t.Helper()
	o, err := trial.Without(a, trial.Change{Deed: trial.Away, Thing: thing})
	if err != nil {
		t.Fatal(err)
	}
	return o
}

// What statics does not settle is said to be open, and what it does settle is not.
func TestNothingIsClaimedThatStaticsDoesNotSettle(t *testing.T) {
	for _, x := range []struct{ name, text, gone, does, open string }{
		{"a ladder on a floor with little friction", `
body ladder: uniform, length 4.00 m, weight 120 N, angle 65 deg
support F: floor, on ladder at foot, coefficient 0.35
support W: wall, on ladder at top, smooth`, "W", "turns clockwise about F", "Whether F slips as well"},
		{"a ladder on a floor as rough as need be", `
body ladder: uniform, length 4.00 m, weight 120 N, angle 65 deg
support F: floor, on ladder at foot, rough
support W: wall, on ladder at top, smooth`, "W", "turns clockwise about F", "taken to be rough enough"},
		{"a beam on two rests", `
body beam: uniform, length 4.00 m, weight 100 N
support P: rest, on beam at 0.50 m
support Q: rest, on beam at 3.50 m`, "Q", "turns clockwise about P", ""},
		{"a rod that hangs from one cable at its end", `
body rod: uniform, length 2.00 m, weight 40 N
support H: hinge, on rod at left end
cable T: on rod at right end, pulls 40 deg above left`, "H", "turning anticlockwise", "how its mass is spread"},
		{"a lamp on one cord", `
body lamp: frame
cable A: on lamp at (0 m, 0 m), pulls 35 deg above left
cable B: on lamp at (0 m, 0 m), pulls 50 deg above right
piece shade of lamp: point at (0 m, 0 m), mass 5.0 kg`, "A", "swings 40.0° below the horizontal, to the right", ""},
		{"one leg of two that lean on each other", `
body left: uniform, length 3.00 m, weight 80 N, angle 70 deg, "left leg"
body right: uniform, length 3.00 m, weight 40 N, angle 110 deg, "right leg"
support A: floor, on left at foot, coefficient 0.60
support B: floor, on right at foot, coefficient 0.60
support H: hinge, on left at top, by right at top`, "B", "right leg turns clockwise about H", "The left leg leans on what moves"},
	} {
		o := away(t, ask(t, "question \"Any\""+x.text), x.gone)
		open := strings.Join(o.Open, " ")
		if !strings.Contains(plain(o.Does), x.does) || !strings.Contains(open, x.open) || x.open == "" && open != "" {
			t.Errorf("%s: %q, open: %q; want %q and %q", x.name, o.Does, open, x.does, x.open)
		}
	}
}

// A body that nothing holds goes where its loads drive its centre of mass, and turns as they turn about that: Newton's
// second law, worked out here from the loads alone.
func TestAFreeBodyGoesWithTheForces(t *testing.T) {
	a := ask(t, `question "A bar pushed aslant"
body bar: uniform, length 2.00 m, weight 60 N
support H: clamp, on bar at left end
force E: 80 N at 30 deg above right, on bar at 1.50 m`)
	o := away(t, a, "H")
	force := statics.Vec{X: 80 * math.Cos(math.Pi/6), Y: 80*math.Sin(math.Pi/6) - 60}
	v := o.Motion.Velocity[0]
	centre := v.At(statics.Vec{X: 1})
	if across := centre.X*force.Y - centre.Y*force.X; math.Abs(across) > 1e-9 || centre.X <= 0 {
		t.Errorf("the centre goes %v, not along %v", centre, force)
	}
	if v.Turn <= 0 { // 40 N up, 0.50 m to the right of the centre
		t.Errorf("it turns by %g", v.Turn)
	}
	// A uniform bar of 60/g kilograms: a = F/m, α = M/(m L²/12); the ratio is free of m.
	want := 40 * 0.5 / (4.0 / 12) / math.Hypot(force.X, force.Y)
	if got := v.Turn / math.Hypot(centre.X, centre.Y); math.Abs(got-want) > 1e-9 {
		t.Errorf("it turns by %g for each metre, not %g", got, want)
	}
}

// A box that is pushed too hard at its top tips about its far edge; on a steep and rough slope it may tip or slide.
func TestABoxTipsAboutItsEdge(t *testing.T) {
	a := ask(t, `question "A box"
body box: block 0.40 m by 1.00 m, uniform, weight 200 N
support F: floor, on box, rough
force E: 30 N right, on box at (0 m, 0.90 m)`)
	// 200 N × 0.20 m = E × 0.90 m
	for to, want := range map[float64]string{44: "It still stays at rest, with", 45: "turns clockwise about the far corner at F"} {
		o, err := trial.Without(a, trial.Change{Deed: trial.Moved, Thing: "E", Attribute: "size", To: to})
		if err != nil || !strings.Contains(o.Does, want) {
			t.Errorf("pushed with %g N: %+v, %v", to, o.Does, err)
		}
	}
}

// Where equilibrium does not fix a force, and not its sense either, both ends of its range are said.
func TestARangeOfBothSensesIsSaid(t *testing.T) {
	a := ask(t, `question "A ladder on a rough wall"
body ladder: uniform, length 4.00 m, weight 150 N, angle 60 deg
support F: floor, on ladder at foot, coefficient 0.5
support W: wall, on ladder at top, coefficient 0.3
load K: weight 200 N, on ladder at 1.00 m`)
	if said := plain(strings.Join(away(t, a, "K").Say, " ")); !strings.Contains(said, "N down to 11.1 N up") {
		t.Errorf("said: %q", said)
	}
}

// Every body that can't stay by itself moves, whatever the engine's proof leaves out.
func TestNoBodyHangsInTheAir(t *testing.T) {
	o := away(t, banktest.Solved(t, "loom-treadle"), "L")
	if n := len(answer.Moves(o.After.Layout, o.Motion)); n != 2 {
		t.Errorf("without its link %d of two bodies move: %s", n, o.Does)
	}
	// The legs of a trestle lean against each other: without the pin both fall inwards.
	o = away(t, banktest.Solved(t, "boat-trestle"), "H")
	for _, want := range []string{"left leg turns clockwise", "right leg turns anticlockwise"} {
		if !strings.Contains(o.Does, want) {
			t.Errorf("%q is not in %q", want, o.Does)
		}
	}
}

// What does not stay at rest as it is, is said so first.
func TestWhatMovesAlreadyIsSaidFirst(t *testing.T) {
	a := ask(t, `question "A rail on one peg"
body rail: uniform, length 2.00 m, weight 40 N
support P: rest, on rail at 0.60 m
load K: weight 10 N, on rail at 1.80 m`)
	if got := trial.Already(a); !strings.Contains(got, "turns clockwise about P") {
		t.Errorf("as it is: %q", got)
	}
	o := away(t, a, "K")
	if !strings.HasPrefix(o.Say[0], "As it was, it did not stay at rest either: the rail turns clockwise") || o.Needed != "" {
		t.Errorf("%q, %q", o.Say, o.Needed)
	}
	mended, err := trial.Without(a, trial.Change{Deed: trial.Moved, Thing: "P", Attribute: "at", To: 1.16}) // 40 × 0.16 = 10 × 0.64
	if err != nil || !mended.Rests || !strings.HasPrefix(mended.Does, "Now it stays at rest") {
		t.Errorf("with the peg under the centre: %+v, %v", mended, err)
	}
}

// Two rafters on a pin, the right one going down to the right: what moves about a point of the other body says so by
// its name, and numbers of the pin say on which body they act.
func TestTwoBodiesOnAPin(t *testing.T) {
	// Common practice, no source: a trestle on smooth floors tips as a whole about the foot that is left.
	o := away(t, banktest.Solved(t, "boat-trestle"), "A")
	if want := "The left leg turns anticlockwise about B and the right leg turns anticlockwise about B."; plain(o.Does) != want {
		t.Errorf("%q, want %q", o.Does, want)
	}
	if want := "Its moment about B is clockwise"; !strings.Contains(o.Needed, want) {
		t.Errorf("%q is not in %q", want, o.Needed)
	}
	a := ask(t, `question "Rafters"
body left: uniform, length 2.50 m, weight 120 N, angle 36.87 deg
body right: uniform, length 2.50 m, weight 180 N, angle -36.87 deg
support A: hinge, on left at left end
support B: hinge, on right at right end
support C: hinge, on right at left end, by left at right end`)
	if o := away(t, a, "A"); !strings.Contains(o.Does, "The left moves 53.1° below the horizontal, to the left") {
		t.Errorf("what hangs on a pin does not slide: %q", o.Does)
	}
	x, err := trial.NumberOf(a, "right", "angle")
	if err != nil {
		t.Fatal(err)
	}
	if deg := math.Pi / 180; math.Abs(x.Low+85*deg) > 1e-9 || math.Abs(x.High+5*deg) > 1e-9 {
		t.Errorf("the angle goes from %g° to %g°, want −85° to −5°", x.Low/deg, x.High/deg)
	}
	c, err := trial.Vary(a, x, x.Low, x.High, 20)
	if err != nil {
		t.Fatal(err)
	}
	if said := strings.Join(c.Say(), " "); !strings.Contains(said, "upright force at C on right") {
		t.Errorf("on which body C acts is not said: %s", said)
	}
}

// Where a hinge holds a shelf down, a rest on its other side would have to pull, and that is what is said.
func TestWhatWouldHoldBeyondALimit(t *testing.T) {
	a := ask(t, `question "A shelf"
body shelf: uniform, length 2.00 m, weight 60 N
support H: hinge, on shelf at 0 m
support R: rest, on shelf at 0.50 m
load C: weight 80 N, on shelf at 1.60 m`)
	x, err := trial.NumberOf(a, "H", "at")
	if err != nil {
		t.Fatal(err)
	}
	c, err := trial.Vary(a, x, x.Low, x.High, 80)
	if err != nil {
		t.Fatal(err)
	}
	// About H at x: R × (0.50 m − x) = 60 N × (1.00 m − x) + 80 N × (1.60 m − x): R is below nought from 0.50 m to 1.34 m.
	said := plain(strings.Join(c.Say(), " "))
	for _, want := range []string{"Equilibrium ends at 0.500 m: just above that, the push at R would have to be a pull.", "At 1.34 m it stays at rest only just: contact at R is about to be lost."} {
		if !strings.Contains(said, want) {
			t.Errorf("%q is not in %q", want, said)
		}
	}
}
