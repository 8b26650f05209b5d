package slip

import (
	"math"
	"strings"
	"testing"

	"steelyard/question"
)

// The arrangements that the slips are worked by hand on. All are invented; their wrong answers were computed
// apart from this program before it was written, to three figures.
var bases = map[string]string{
	"A": `question "Stage lighting bar"
body bar: uniform, length 6.00 m, weight 210 N
support P: rest, on bar at 1.40 m
support Q: rest, on bar at 4.40 m
load J: weight 100 N, on bar at 0.20 m
load K: weight 120 N, on bar at 2.10 m
part a: find force Q  marks 3
part b: find force P  marks 2
`,
	"A cm": `question "Stage lighting bar in centimetres"
body bar: uniform, length 600 cm, weight 210 N
support P: rest, on bar at 140 cm
support Q: rest, on bar at 440 cm
load J: weight 100 N, on bar at 20 cm
load K: weight 120 N, on bar at 210 cm
part a: find force Q  marks 3
`,
	"A kN": `question "Heavy lighting bar"
body bar: uniform, length 6.00 m, weight 2.10 kN
support P: rest, on bar at 1.40 m
support Q: rest, on bar at 4.40 m
load J: weight 1.00 kN, on bar at 0.20 m
load K: weight 1.20 kN, on bar at 2.10 m
part a: find force Q  marks 3
`,
	"A off centre": `question "Bar that is not uniform"
body bar: length 6.00 m, weight 210 N, centre of mass at 2.60 m
support P: rest, on bar at 1.40 m
support Q: rest, on bar at 4.40 m
part a: find force Q  marks 3
`,
	"A strap": `question "Bar held down"
body bar: uniform, length 6.00 m, weight 210 N
support P: strap, on bar at 0.20 m
support Q: rest, on bar at 1.40 m
part a: find force P  marks 3
part b: find force Q  marks 2
`,
	"B": `question "Boat trestle plank"
g 9.81 N/kg
body plank: uniform, length 3.60 m, mass 24.0 kg
support T: pivot, on plank at 1.50 m
load K: mass unknown, hung from plank at 0.50 m
part a: find mass K    marks 3
part b: find weight K  marks 1
`,
	"C": `question "Market stall sign"
body arm: uniform, length 1.50 m, weight 40 N
support H: hinge, on arm at left end
cable T: on arm at right end, pulls 35 deg above left
load S: weight 90 N, hung from arm at 1.20 m
part a: find tension T           marks 3
part b: find horizontal force H  marks 1
part c: find vertical force H    marks 1
part d: find force H             marks 2
`,
	"D": `question "Boathouse ladder"
body ladder: uniform, length 5.00 m, weight 180 N, angle 65 deg
support F: floor, on ladder at foot, coefficient 0.40
support W: wall, on ladder at top, smooth
load K: weight 700 N, on ladder at 3.50 m
part a: find force W              marks 3
part b: find normal force F       marks 1
part c: find friction F           marks 1
part d: find least coefficient F  marks 2
`,
	"E": `question "Lock footbridge"
body bridge: uniform, length 4.00 m, weight 260 N
support P: rest, on bridge at 0.60 m
support Q: rest, on bridge at 3.00 m
load K: weight 650 N, on bridge at 1.00 m
part a: find furthest K towards right  marks 4
`,
	"F": `question "Sluice wheel"
body wheel: light, length 0.60 m
support P: pivot, on wheel at middle
force E: 45 N down, on wheel at left end
force G: 45 N up, on wheel at right end
couple C: unknown clockwise, on wheel
part a: find couple C  marks 2
`,
	"F given": `question "A couple on a board"
body board: uniform, length 2.00 m, weight 80 N
support P: hinge, on board at left end
support Q: rest, on board at 1.60 m
couple C: 24 N m anticlockwise, on board at 0.50 m
part a: find force Q  marks 3
`,
	"H": `question "Jetty deck"
body deck: uniform, length 5.00 m, weight 400 N
support P: rest, on deck at left end
support Q: rest, on deck at right end
load S: 125 N/m, on deck from 1.20 m to 3.20 m
part a: find force Q  marks 3
part b: find force P  marks 1
`,
	"M": `question "Mass and weight mixed"
g 9.81 N/kg
body bar: uniform, length 4.00 m, mass 20 kg
support P: rest, on bar at 0.50 m
support Q: rest, on bar at 3.00 m
load K: weight 300 N, on bar at 1.00 m
load L: mass 12 kg, on bar at 2.50 m
part a: find force Q  marks 3
`,
	"X": `question "Where is its centre of mass?"
body oar: length 4.00 m, weight 60 N, centre of mass unknown
support P: rest, on oar at 0.50 m
support Q: force meter, on oar at 3.50 m, reading 24 N
part a: find centre of mass oar  marks 3
`,
}

// worked are the cases. In each, W stands for the body's weight and the working gives the changed line.
var worked = []struct {
	slip, of, base string
	want           []float64 // by slot; NaN: not looked at
	// The working, and where the value was computed or printed before.
	working string
}{
	{"all-from-the-end", "", "A", []float64{205}, "Q × 4.40 = 210 × 3.00 + 120 × 2.10 + 100 × 0.20 = 902"},
	{"all-from-the-end", "", "B", []float64{86.4}, "m × 0.50 = 24.0 × 1.80"},
	{"one-from-the-end", "bar", "A", []float64{198}, "Q × 3.00 + 100 × 1.20 = 210 × 3.00 + 120 × 0.70 = 714; Q = 594/3.00"},
	{"one-from-the-end", "K", "A", []float64{156}, "Q × 3.00 + 120 = 336 + 120 × 2.10 = 588; Q = 468/3.00"},
	{"one-from-the-end", "plank", "B", []float64{43.2}, "m × 1.00 = 24.0 × 1.80"},
	{"midway-between-supports", "bar", "A", []float64{93.0}, "weight at 2.90: Q × 3.00 + 120 = 210 × 1.50 + 84 = 399; Q = 279/3.00"},
	{"midway-between-supports", "bridge", "E", []float64{3.48}, "weight at 1.80: 260 × 1.20 = 650 d, d = 0.48 m beyond 3.00 m"},
	{"arm-to-other-support", "bar", "A", []float64{86.0}, "210 × 1.40 in place of 210 × 1.60: (294 + 84 − 120)/3.00"},
	{"arm-to-other-support", "K", "A", []float64{164}, "120 × 2.30 in place of 120 × 0.70: (336 + 276 − 120)/3.00"},
	{"gap-to-neighbour", "K", "A", []float64{108}, "K to the middle is 0.90 m: (336 + 108 − 120)/3.00"},
	{"gap-to-neighbour", "plank", "B", []float64{31.2}, "bag to the middle is 1.30 m: 24.0 × 1.30/1.00"},
	{"length-for-span", "", "A", []float64{50.0}, "300/6.00"},
	{"mark-for-span", "", "A", []float64{68.2}, "300/4.40"},
	{"weight-at-far-end", "", "A", []float64{310}, "(210 × 4.60 + 84 − 120)/3.00"},
	{"weight-at-far-end", "", "C", []float64{195}, "(40 × 1.50 + 90 × 1.20)/(1.50 sin 35°)"},
	{"weight-at-far-end", "", "D", []float64{312}, "(180 × 5.00 + 700 × 3.50) cos 65°/(5.00 sin 65°)"},
	{"uniform-after-all", "", "A off centre", []float64{112}, "210 × 1.60/3.00; right: 210 × 1.20/3.00 = 84"},
	{"middle-anyway", "", "X", []float64{2.00}, "4.00/2; right: 0.50 + 24 × 3.00/60 = 1.70"},
	{"counted-from-other-end", "K", "A", []float64{172}, "K at 3.90: (336 + 120 × 2.50 − 120)/3.00"},
	{"counted-from-other-end", "K", "D", []float64{140}, "person 1.50 up: (450 + 1050) cos 65°/(5.00 sin 65°)"},
	{"slant-lengths", "", "C", []float64{92.0}, "(30 + 108)/1.50"},
	{"slant-lengths", "", "D", []float64{580}, "(450 + 2450)/5.00"},
	{"one-slant-length", "K", "D", []float64{582.6}, "N × 5.00 sin 65° = 450 cos 65° + 2450: 2640.2/4.5315 = 582.6"},
	{"diameter-for-radius", "", "F", []float64{54.0}, "2 × 45 × 0.60"},
	{"weight-left-out-of-moments", "bar", "A", []float64{-12.0, 442}, "(84 − 120)/3.00; P = 430 + 12"},
	{"weight-left-out", "bar", "A", []float64{-12.0, 232}, "(84 − 120)/3.00; P = 220 + 12"},
	{"weight-left-out-of-moments", "arm", "C", []float64{126}, "108/(1.50 sin 35°)"},
	{"weight-left-out-of-moments", "ladder", "D", []float64{228}, "2450 cos 65°/(5.00 sin 65°)"},
	{"weight-left-out-of-moments", "bridge", "E", []float64{3.00}, "nothing turns the other way, so it stands over Q"},
	{"load-left-out-of-moments", "J", "A", []float64{140}, "(336 + 84)/3.00"},
	{"load-left-out", "K", "A", []float64{72.0, 238}, "(336 − 120)/3.00; P = 310 − 72"},
	{"pivot-force-given-moment", "", "A", []float64{-189}, "Q × 3.00 + P × 1.40 = 300 with P = 430 − Q: 1.60 Q = −302"},
	{"other-push-forgotten-end", "", "A", []float64{205}, "Q × 4.40 = 630 + 252 + 20 = 902"},
	{"other-push-forgotten-middle", "", "A", []float64{-277}, "Q × 1.40 + 280 + 108 = 0"},
	{"two-pivots", "J", "A", []float64{0}, "J about Q: Q × 3.00 + 100 × 4.20 = 420"},
	{"half-the-weight-each-side", "", "A", []float64{44.0}, "105 × 2.30 − 105 × 0.70 = 168: (168 + 84 − 120)/3.00"},
	{"half-the-weight-each-side", "", "B", []float64{3.60}, "12 × 1.05 − 12 × 0.75 = 3.60"},
	{"long-side-carries-weight", "", "A", []float64{149}, "(210 × 2.30 + 84 − 120)/3.00"},
	{"long-side-carries-weight", "", "B", []float64{25.2}, "24.0 × 1.05/1.00"},
	{"spread-at-far-edge", "S", "H", []float64{360}, "(400 × 2.50 + 250 × 3.20)/5.00"},
	{"per-metre-as-force", "S", "H", []float64{255}, "(1000 + 125 × 2.20)/5.00"},
	{"spread-from-the-pivot", "S", "H", []float64{328}, "(1000 + 400 × 1.60)/5.00"},
	{"couple-of-one-force", "", "F", []float64{13.5}, "45 × 0.30"},
	{"couple-halved", "C", "F given", []float64{42.5}, "1.60 Q = 80 − 12"},
	{"couple-doubled", "C", "F given", []float64{20}, "1.60 Q = 80 − 48"},
	{"couple-given-arm", "C", "F given", []float64{42.5}, "1.60 Q = 80 − 24 × 0.50"},
	{"turned-the-wrong-way", "J", "A", []float64{180}, "(336 + 84 + 120)/3.00"},
	{"all-turn-one-way", "", "A", []float64{180}, "(336 + 84 + 120)/3.00"},
	{"minus-swept-away", "", "A strap", []float64{280, 70}, "P = −210 × 1.60/1.20 = −280, taken as 280; Q = 210 − 280 = −70, taken as 70"},
	{"equal-shares", "", "A", []float64{215, 215}, "430/2"},
	{"nearest-takes-all", "", "A", []float64{105, 325}, "105 + 0; P = 105 + 100 + 120"},
	{"halves-for-the-loads", "", "A", []float64{222, 208}, "210 × 1.60/3.00 + 220/2"},
	{"half-for-the-weight", "", "A", []float64{93}, "105 + (84 − 120)/3.00"},
	{"pan-matches-pan", "", "B", []float64{24.0}, "m = 24.0"},
	{"direct-proportion", "", "B", []float64{80.0}, "m/1.00 = 24.0/0.30"},
	{"force-plus-distance", "", "B", []float64{23.3}, "m + 1.00 = 24.0 + 0.30"},
	{"mass-as-force", "", "B", []float64{math.NaN(), 7.20}, "7.20 N"},
	{"mass-as-force", "", "M", []float64{81.6}, "Q × 2.50 = 20 × 1.50 + 300 × 0.50 + 12 × 2.00 = 204"},
	{"one-mass-as-force", "L", "M", []float64{187}, "Q × 2.50 = 294.3 + 150 + 24 = 468.3"},
	{"times-g-again", "bar", "A", []float64{1087}, "(336 × 9.81 + 84 − 120)/3.00"},
	{"another-g", "", "B", []float64{7.20, 72.0}, "7.20 × 10"},
	{"length-not-converted", "bar", "A cm", []float64{1.12e4}, "(210 × 160 + 84 − 120)/3.00"},
	{"length-not-converted", "K", "A cm", []float64{2872}, "(336 + 120 × 70 − 120)/3.00 = 8616/3.00"},
	{"kilo-lost", "K", "A kN", []float64{720.28}, "(3360 + 1.20 × 0.70 − 1200)/3.00"},
	{"radians", "", "C", []float64{-215}, "138/(1.50 × sin 35 rad) = 138/(1.50 × −0.4282)"},
	{"sine-for-cosine", "", "C", []float64{112}, "138/(1.50 cos 35°)"},
	{"sine-for-cosine", "", "D", []float64{1244}, "2900 sin 65°/(5.00 cos 65°)"},
	{"whole-force-turns", "T", "C", []float64{92.0}, "138/1.50"},
	{"cable-out-of-balance", "", "C", []float64{160, 131, 130}, "V = 130"},
	{"whole-tension-in-balance", "", "C", []float64{160, 160, -30.4}, "V = 130 − 160.4"},
	{"hinge-only-up", "", "C", []float64{160, 131, 38.0, 38.0}, "38.0 for 137"},
	{"components-added", "", "C", []float64{160, 131, 38.0, 169}, "131 + 38"},
	{"friction-at-its-limit", "", "D", []float64{270, 880, 352}, "0.40 × 880"},
	{"normal-is-the-weight", "", "D", []float64{270, 180, 270}, "180"},
	{"upside-down", "", "D", []float64{270, 880, 270, 3.25}, "880/270"},
	{"both-still-push", "", "E", []float64{1.00}, "P keeps (260 × 1.00 + 650 × 2.00)/2.40 = 650: 650 d = 260 − 650 × 2.40 = −1300"},
	{"wrong-edge", "", "E", []float64{0.04}, "260 × 1.40 = 650 d about P: 0.60 − 0.56"},
	{"from-the-pivot", "", "E", []float64{0.40}, "0.40 beyond Q"},
	{"added-not-subtracted", "", "A", []float64{100, 530}, "430 + 100"},
	{"added-not-subtracted", "", "C", []float64{160, 131, 222}, "130 + 92"},
	{"missing-from-balance", "bar", "A", []float64{100, 120}, "220 − 100"},
	{"missing-from-balance", "J", "A", []float64{100, 230}, "330 − 100"},
	{"other-supports-number", "", "A", []float64{330, 100}, "exchanged"},
	{"stopped-at-the-moment", "", "A", []float64{300}, "100 × 3.00"},
	{"multiplied-not-divided", "", "A", []float64{900}, "100 × 9.00"},
	{"rounded-too-soon", "", "C", []float64{153}, "138/(1.50 × 0.6)"},
}

func parse(t testing.TB, text string) *question.Question {
	t.Helper()
	q, err := question.Parse("worked.moments", text)
	if err != nil {
		t.Fatal(err)
	}
	return q
}

func TestEverySlipByHand(t *testing.T) {
	tested := map[string]bool{}
	for _, w := range worked {
		tested[w.slip] = true
		p, _, err := Make(parse(t, bases[w.base]))
		if err != nil {
			t.Fatal(w.base, err)
		}
		found := false
		for i := range p.Cases {
			c := &p.Cases[i]
			if c.Slip.Name != w.slip || w.of != "" && !strings.HasSuffix(c.Of, " "+w.of) {
				continue
			}
			found = true
			o, err := p.Outcome(c)
			if err != nil {
				t.Fatal(err)
			}
			for k, v := range w.want {
				// Three figures: half a unit of the third.
				if math.IsNaN(v) {
					continue
				}
				unit := 1e-3
				if v != 0 {
					unit = 0.5 * math.Pow(10, math.Floor(math.Log10(math.Abs(v)))-2)
				}
				if !(math.Abs(o.Values[k]-v) <= unit*1.001) {
					t.Errorf("%s (%s) on %s: (%s) is %.5g, by hand %.5g: %s", w.slip, w.of, w.base, p.Slots[k].Part, o.Values[k], v, w.working)
				}
			}
			if len(o.Lines) == 0 {
				t.Errorf("%s on %s has no wrong line", w.slip, w.base)
			}
			for _, l := range o.Lines {
				t.Logf("%s on %s, part (%s): %s", w.slip, w.base, l.Part, l.Plain())
			}
		}
		if !found {
			t.Errorf("%s (%s) can't be made on %s", w.slip, w.of, w.base)
		}
	}
	for _, s := range Catalogue() {
		if !s.InWords() && !tested[s.Name] {
			t.Errorf("%s has no case worked by hand", s.Name)
		}
	}
}

func TestCatalogueIsWhole(t *testing.T) {
	seen := map[string]bool{}
	for _, s := range Catalogue() {
		if seen[s.Name] {
			t.Errorf("%s stands twice", s.Name)
		}
		seen[s.Name] = true
		for what, text := range map[string]string{"title": s.Title, "change": s.Change, "evidence": s.Evidence, "question": s.Ask, "source": s.Source, "where": s.Where} {
			if text == "" {
				t.Errorf("%s has no %s", s.Name, what)
			}
		}
		if !strings.Contains(s.Ask, "?") && s.Name != "pair-misdescribed" {
			t.Errorf("%s asks nothing", s.Name)
		}
		for _, scene := range []string{"the cable", "the arm", "this force acted"} { // a ladder has no cable, and a pupil reads no pointing finger
			if strings.Contains(strings.ToLower(s.Ask), scene) {
				t.Errorf("%s asks about %q, which may not be there: %s", s.Name, scene, s.Ask)
			}
		}
	}
	if len(seen) < 40 {
		t.Errorf("only %d slips", len(seen))
	}
}
