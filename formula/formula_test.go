package formula

import (
	"encoding/xml"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

var (
	rq     = Symbol("R", "Q", "the force at Q", 480)
	mu     = Symbol("μ", "", "", 0.4)
	normal = Symbol("N", "F", "the normal force at F", 880)
)

var written = []struct {
	name, text, words string
	formula           Node
	true              bool
}{
	{"moments", "R_Q × 3.60 m = 540 N × 0.90 m + 310 N × 1.80 m", "the force at Q times 3.60 metres is equal to 540 newtons times 0.90 metres plus 310 newtons times 1.80 metres",
		Equal(Times(rq, Rounded("3.60", "m")), Add(Times(Given("540", "N"), Given("0.90", "m")), Times(Given("310", "N"), Given("1.80", "m")))), false},
	{"difference", "290 N × (4.20 m − 0.60 m) = 1044 N m", "290 newtons times open bracket, 4.20 metres minus 0.60 metres, close bracket is equal to 1044 newton metres",
		Equal(Times(Given("290", "N"), Add(Given("4.20", "m"), Minus(Given("0.60", "m")))), Given("1044", "N m")), true},
	{"fraction", "1044 N m / 3.60 m = 290 N", "1044 newton metres over 3.60 metres is equal to 290 newtons",
		Equal(Frac(Given("1044", "N m"), Given("3.60", "m")), Given("290", "N")), true},
	{"long fraction", "(486 N m + 558 N m) / 3.60 m = 290 N", "486 newton metres plus 558 newton metres, all over 3.60 metres is equal to 290 newtons",
		Equal(Frac(Add(Given("486", "N m"), Given("558", "N m")), Given("3.60", "m")), Given("290", "N")), true},
	{"component", "T sin 35° × 1.50 m", "T times sin of 35 degrees times 1.50 metres",
		Times(Symbol("T", "", "", math.NaN()), Of("sin", Given("35", "°")), Given("1.50", "m")), true},
	{"friction", "F ≤ μN_F = 352 N", "F is less than or equal to mu times the normal force at F, which is equal to 352 newtons",
		Relate("≤", Symbol("F", "", "", math.NaN()), Equal(Times(mu, normal), Given("352", "N"))), true},
	{"rounded is true", "sin 35° = 0.574", "sin of 35 degrees is equal to 0.574", Equal(Of("sin", Given("35", "°")), Rounded("0.574", "")), true},
	{"rounded is false", "sin 35° = 0.575", "sin of 35 degrees is equal to 0.575", Equal(Of("sin", Given("35", "°")), Rounded("0.575", "")), false},
	{"resultant", "√((131 N)² + (38.0 N)²) = 136 N", "the square root of open bracket, 131 newtons squared plus 38.0 newtons squared, close bracket is equal to 136 newtons",
		Equal(Sqrt(Add(Square(Rounded("131", "N")), Square(Rounded("38.0", "N")))), Rounded("136", "N")), true},
	{"inverse", "θ = tan⁻¹(38.0 N / 131 N) = 16°", "theta is equal to the angle whose tan is 38.0 newtons over 131 newtons, which is equal to 16 degrees",
		Equal(Symbol("θ", "", "", math.NaN()), Of("tan⁻¹", Frac(Rounded("38.0", "N"), Rounded("131", "N"))), Rounded("16", "°")), true},
	{"gap", "R_Q × 3.60 m = 540 N × ____ m", "the force at Q times 3.60 metres is equal to 540 newtons times blank metres",
		Equal(Times(rq, Given("3.60", "m")), Times(Given("540", "N"), Blank("m"))), true},
	{"field", "14 kg × 9.81 N/kg = 137 N", "14 kilograms times 9.81 newtons per kilogram is equal to 137 newtons",
		Equal(Times(Given("14", "kg"), Given("9.81", "N/kg")), Rounded("137", "N")), true},
	{"minus", "R_Q = −12 N", "the force at Q is equal to minus 12 newtons", Equal(Symbol("R", "Q", "the force at Q", -12), Rounded("−12", "N")), true},
	{"negative put in", "X = −(−200 N) × cos 60° + (−40 N) × 0.5 − (−8 N) / 2", "X is equal to minus minus 200 newtons times cos of 60 degrees plus minus 40 newtons times 0.5 minus minus 8 newtons over 2",
		Equal(Symbol("X", "", "", 84), Add(Minus(Times(Given("−200", "N"), Of("cos", Given("60", "°")))), Times(Given("−40", "N"), Given("0.5", "")), Minus(Frac(Given("−8", "N"), Count(2))))), true},
	{"one", "1 N", "1 newton", Given("1", "N"), true},
	{"words", "total clockwise moment = 35 cm × 2 N", "total clockwise moment is equal to 35 centimetres times 2 newtons",
		Equal(Upright("total clockwise moment"), Times(Given("35", "cm"), Given("2", "N"))), true},
	{"not equal", "600 N m ≠ 500 N m", "is not", Relate("≠", Given("600", "N m"), Given("500", "N m")), true},
}

func TestWritten(t *testing.T) {
	for _, w := range written {
		if got := strings.ReplaceAll(Text(w.formula), "\u00a0", " "); got != w.text {
			t.Errorf("%s: text %q, want %q", w.name, got, w.text)
		}
		if got := Words(w.formula); got != w.words && w.words != "is not" {
			t.Errorf("%s: words %q, want %q", w.name, got, w.words)
		}
		if err := Check(w.formula); (err == nil) != w.true {
			t.Errorf("%s: check says %v, want true %v", w.name, err, w.true)
		}
	}
}

func TestWordsHoldNoSymbolAndEveryNumber(t *testing.T) {
	numbers := regexp.MustCompile(`\d+(\.\d+)?`)
	for _, w := range written {
		words := Words(w.formula)
		if strings.ContainsAny(words, "_=×−+/()√²°⁻≤≥≠μθ") {
			t.Errorf("%s: a symbol is left in %q", w.name, words)
		}
		text := strings.ReplaceAll(Text(w.formula), "⁻¹", "")
		if got, want := strings.Join(numbers.FindAllString(words, -1), " "), strings.Join(numbers.FindAllString(text, -1), " "); got != want {
			t.Errorf("%s: numbers said %q, printed %q", w.name, got, want)
		}
	}
}

func TestMathMLIsWellFormed(t *testing.T) {
	allowed := map[string]bool{}
	for _, name := range strings.Fields("math mrow mi mn mo mtext mspace mfrac msqrt mroot msub msup msubsup mover munder munderover mtable mtr mtd mstyle mpadded mphantom") {
		allowed[name] = true
	}
	for _, w := range written {
		d := xml.NewDecoder(strings.NewReader(MathML(w.formula, true)))
		for {
			token, err := d.Token()
			if err == io.EOF {
				break
			}
			if err != nil {
				t.Fatalf("%s: %v in %s", w.name, err, MathML(w.formula, true))
			}
			if e, ok := token.(xml.StartElement); ok && !allowed[e.Name.Local] {
				t.Errorf("%s: element %s is not allowed", w.name, e.Name.Local)
			}
		}
	}
}

// The grammar in testdata is this project's own subset of MathML Core.
func TestMathMLFollowsTheGrammar(t *testing.T) {
	lint, err := exec.LookPath("xmllint")
	if err != nil {
		if os.Getenv("CI") != "" {
			t.Fatal("xmllint" + " is not installed; CI needs it, see .ci/packages")
		}
		t.Skip("xmllint is not installed: the grammar was not checked")
	}
	args := []string{"--noout", "--relaxng", "testdata/mathml-subset.rng"}
	for i, w := range written {
		file := filepath.Join(t.TempDir(), string(rune('a'+i))+".xml")
		if err := os.WriteFile(file, []byte(MathML(w.formula, i%2 == 0)), 0o600); err != nil {
			t.Fatal(err)
		}
		args = append(args, file)
	}
	if out, err := exec.Command(lint, args...).CombinedOutput(); err != nil {
		t.Errorf("%v\n%s", err, out)
	}
}

func TestEvalIsInSI(t *testing.T) {
	for _, c := range []struct {
		formula Node
		want    float64
	}{
		{Times(Given("1.5", "kN"), Given("20", "cm")), 300},
		{Of("cos", Given("60", "°")), 0.5},
		{Sqrt(Add(Square(Given("3", "N")), Square(Given("4", "N")))), 5},
		{Given("12\u2009500", "N"), 12500},
	} {
		if got := Eval(c.formula); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s = %g, want %g", Text(c.formula), got, c.want)
		}
	}
}

func TestHalfUnit(t *testing.T) {
	if got := halfUnit("1200"); got != 50 {
		t.Errorf("half a unit of 1200 is %g, want 50", got)
	}
	if got := halfUnit("0.60"); got != 0.005 {
		t.Errorf("half a unit of 0.60 is %g, want 0.005", got)
	}
}

func BenchmarkMathML(b *testing.B) {
	for b.Loop() {
		MathML(written[0].formula, true)
	}
}

// A long line may break before a relation and before the terms of a sum, nowhere else.
func TestPieces(t *testing.T) {
	n := Equal(Add(Times(Given("280", ""), Given("1.1", "")), Minus(Given("56", "N"))), Times(Given("2.8", ""), Symbol("R", "B", "", 0)), Frac(Add(Count(1), Count(2)), Count(3)))
	var got []string
	for _, p := range Pieces(n) {
		p = strings.TrimSuffix(strings.TrimPrefix(p, `<math xmlns="http://www.w3.org/1998/Math/MathML" display="inline"><mrow>`), "</mrow></math>")
		got = append(got, regexp.MustCompile("<[^>]*>").ReplaceAllString(p, ""))
	}
	want := []string{"280×1.1", "−56N", "=2.8\u2062RB", "=1+23"}
	if !slices.Equal(got, want) {
		t.Errorf("pieces %q, want %q", got, want)
	}
}
