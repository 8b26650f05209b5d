package draw

import (
	"bytes"
	"encoding/xml"
	"flag"
	"image/png"
	"io"
	"math"
	"os"
	"strings"
	"testing"

	"steelyard/font"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// sample has a mark of each kind, in each style that writers treat apart.
func sample() *Picture {
	pen := Style{Stroke: Black, Width: 1.5}
	return &Picture{
		ID: "one", Width: 120, Height: 80, Title: `A <bar> & "P"`, Description: "Everything at once.",
		Marks: []Mark{
			Line{Points: []Point{{10, 10}, {60, 10}, {60, 30}, {10, 30}}, Closed: true, Style: Style{Stroke: Black, Width: 2, Fill: Shade}},
			Line{Points: []Point{{10, 40}, {110, 40}}, Style: Style{Stroke: Grey, Width: 1, Dash: []float64{4, 2}}},
			Group{ID: "force-P", Class: "force", Title: "force at P", Marks: []Mark{
				Arc{Centre: Point{90, 20}, Radius: 8, To: 2 * math.Pi, Style: Style{Fill: Deep}},
				Arc{Centre: Point{90, 20}, Radius: 12, From: math.Pi / 4, To: 7 * math.Pi / 4, Style: pen},
				Text{At: Point{60, 60}, Anchor: Centre, Size: 10, Ink: Black, Runs: []Run{{Text: "R", Italic: true}, {Text: "P", Sub: true}, {Text: " = 480 N"}}},
				Text{At: Point{110, 75}, Anchor: Finish, Size: 8, Ink: Second, Halo: true, Runs: []Run{{Text: "a<b", Bold: true}}},
			}},
		},
	}
}

func TestSVGGolden(t *testing.T) {
	const path = "testdata/sample.svg"
	got := SVG(sample())
	if *update {
		if err := os.WriteFile(path, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if want, err := os.ReadFile(path); err != nil || !bytes.Equal(got, want) {
		t.Errorf("%s has changed (%v); if you meant it, run go test -update and look at the picture", path, err)
	}
}

func TestSVGIsXML(t *testing.T) {
	svg := SVG(sample())
	d := xml.NewDecoder(bytes.NewReader(svg))
	ids := map[string]bool{}
	for {
		token, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatalf("%v in\n%s", err, svg)
		}
		if start, ok := token.(xml.StartElement); ok {
			for _, a := range start.Attr {
				if a.Name.Local == "id" {
					if ids[a.Value] || !strings.HasPrefix(a.Value, "one-") {
						t.Errorf("id %q comes twice or lacks the picture's own", a.Value)
					}
					ids[a.Value] = true
				}
			}
		}
	}
	for i, line := range strings.Split(strings.TrimSpace(string(svg)), "\n") {
		if !strings.HasPrefix(line, "<") || !strings.HasSuffix(line, ">") {
			t.Errorf("line %d isn't one element: %s", i+1, line)
		}
	}
}

func TestSVGHostileText(t *testing.T) {
	p := &Picture{Width: 10, Height: 10, Title: "</title><script>\x00\x0b", Marks: []Mark{
		Group{ID: `"><script>`, Marks: []Mark{Text{Size: 5, Ink: Black, Runs: []Run{{Text: "<b>\x01&"}}}}},
		Line{Points: []Point{{math.NaN(), 1}, {math.Inf(1), 1e300}}, Style: Style{Stroke: Black, Width: 1}},
	}}
	svg := string(SVG(p))
	if strings.Contains(svg, "<script") || strings.Contains(svg, "NaN") || strings.Contains(svg, "Inf") {
		t.Errorf("not escaped:\n%s", svg)
	}
	if err := xml.Unmarshal([]byte(svg), new(struct{})); err != nil {
		t.Errorf("%v in\n%s", err, svg)
	}
}

func TestNumbers(t *testing.T) {
	for v, want := range map[float64]string{0: "0", -0.001: "0", 1.5: "1.5", -1.25: "-1.25", 3: "3", 0.07: "0.07", 99.999: "100", -0.5: "-0.5"} {
		var w svg
		if w.n(v); string(w.b) != want {
			t.Errorf("%g is written %s, want %s", v, w.b, want)
		}
	}
}

// TestContrast computes the contrast of each ink with white.
//
// Source: WCAG 2.2, definitions of relative luminance and contrast ratio.
func TestContrast(t *testing.T) {
	for ink, least := range map[Ink]float64{Black: 4.5, Deep: 4.5, Second: 4.5, Grey: 4.5, Faint: 3} {
		if c := 1.05 / (luminance(ink) + 0.05); c < least {
			t.Errorf("ink %d has a contrast of %.2f:1 with white, less than %g:1", ink, c, least)
		}
		if c := (luminance(Shade) + 0.05) / (luminance(ink) + 0.05); ink != Faint && c < 4.5 {
			t.Errorf("ink %d has a contrast of %.2f:1 with a body's fill", ink, c)
		}
	}
	if a, b := luminance(Deep), luminance(Second); (max(a, b)+0.05)/(min(a, b)+0.05) < 1.5 {
		t.Error("given forces and forces found are too alike in black and white")
	}
}

func luminance(i Ink) float64 {
	r, g, b := i.RGB()
	linear := func(v uint8) float64 {
		c := float64(v) / 255
		if c <= 0.04045 {
			return c / 12.92
		}
		return math.Pow((c+0.055)/1.055, 2.4)
	}
	return 0.2126*linear(r) + 0.7152*linear(g) + 0.0722*linear(b)
}

func TestPNG(t *testing.T) {
	b, err := PNG(sample(), 144)
	if err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	if s := img.Bounds().Size(); s.X != 240 || s.Y != 160 {
		t.Errorf("%d by %d pixels, want 240 by 160", s.X, s.Y)
	}
	at := func(x, y float64) [3]uint8 { // in points
		r, g, b, _ := img.At(int(x*2), int(y*2)).RGBA()
		return [3]uint8{uint8(r >> 8), uint8(g >> 8), uint8(b >> 8)}
	}
	for _, c := range []struct {
		what string
		x, y float64
		ink  Ink
	}{
		{"inside the polygon", 30, 20, Shade}, {"its outline", 30, 10, Black}, {"its mitred corner", 9.2, 9.2, Black}, {"outside", 5, 5, Paper},
		{"a dash", 12, 39.9, Grey}, {"the gap after it", 15, 39.9, Paper}, {"the disc", 90, 20, Deep},
		{"the arc, on the left", 78, 20, Black}, {"its gap, on the right", 102, 20, Paper},
	} {
		if r, g, b := c.ink.RGB(); at(c.x, c.y) != [3]uint8{r, g, b} {
			t.Errorf("%s: colour %v, want ink %d", c.what, at(c.x, c.y), c.ink)
		}
	}
	dark := 0
	for x := 30.0; x < 90; x += 0.5 {
		for y := 50.0; y < 64; y += 0.5 {
			if at(x, y)[0] < 128 {
				dark++
			}
		}
	}
	if dark < 50 {
		t.Errorf("the text has %d dark pixels; where is it?", dark)
	}
	again, _ := PNG(sample(), 144)
	if !bytes.Equal(b, again) {
		t.Error("the same picture gives other bytes")
	}
}

func TestPNGRefuses(t *testing.T) {
	for _, dpi := range []float64{0, -1, math.NaN(), math.Inf(1), 1e9} {
		if _, err := PNG(sample(), dpi); err == nil {
			t.Errorf("%g dots to the inch are accepted", dpi)
		}
	}
	if _, err := PNG(&Picture{}, 72); err == nil {
		t.Error("a picture without size is accepted")
	}
}

func TestPieces(t *testing.T) {
	text := Text{At: Point{100, 50}, Anchor: Finish, Size: 10, Runs: []Run{{Text: "R", Italic: true}, {Text: "P", Sub: true}, {Text: " ⊥"}}}
	pieces := text.Pieces()
	if len(pieces) != 4 {
		t.Fatalf("%d pieces, want R, P, a space and a sign from another face", len(pieces))
	}
	if p := pieces[1]; p.Size != 7 || math.Abs(p.At.Y-52.2) > 1e-9 || p.Face != font.Sans {
		t.Errorf("the subscript is set at %v, size %g", p.At, p.Size)
	}
	if pieces[3].Face != font.Signs {
		t.Errorf("⊥ is set in %s", pieces[3].Face.Name())
	}
	last := pieces[3]
	if end := last.At.X + last.Face.Width(last.Text, last.Size); math.Abs(end-100) > 1e-9 {
		t.Errorf("the text ends at %g, not at 100", end)
	}
}

func BenchmarkPNG(b *testing.B) {
	p := sample()
	for b.Loop() {
		if _, err := PNG(p, 150); err != nil {
			b.Fatal(err)
		}
	}
}
