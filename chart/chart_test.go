package chart

import (
	"bytes"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"steelyard/draw"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// samples are the charts of a small class, of a large one, and of next to nothing.
func samples(o Options) map[string]*draw.Picture {
	var steps []Step
	var rows []Row
	for i := range 9 {
		steps = append(steps, Step{fmt.Sprintf("Pupil %02d", i+1), float64(i) / 9, float64((i*5)%10) / 9})
		rows = append(rows, Row{fmt.Sprintf("Pupil %02d", i+1), []float64{float64(i) / 8, 0.95 * float64(i%3) / 2, 0.65 * float64(i%2)}})
	}
	long := []string{"Measured every distance from the end", "Each support takes half", "Left the weight out everywhere"}
	var many []int
	for i := range 300 {
		many = append(many, (i*i+7*i)%61)
	}
	return map[string]*draw.Picture{
		"spread":       Spread([]int{9, 9, 8, 7, 7, 7, 6, 5, 5, 4, 2, 0}, 9, o),
		"spread-wide":  Spread(many, 60, o),
		"spread-none":  Spread(nil, 5, o),
		"parts":        Parts([]Bar{{"(a)", 0.83, 0.41}, {"(b)", 0.5, 0.72}, {"(c)", 1, math.NaN()}, {"(d)", 0.12, -0.18}, {"(e)", 0, 0}}, o),
		"matrix":       Matrix([]string{"A", "B", "C"}, long, rows, o),
		"matrix-none":  Matrix(nil, nil, nil, o),
		"change":       Change(steps, o),
		"change-alone": Change([]Step{{"Ilse Hart-of-a-very-long-name-indeed, the second of two", 0, 1}}, o),
	}
}

func TestGolden(t *testing.T) {
	for name, pic := range samples(Options{ID: "c", Width: 440, TextSize: 10}) {
		path := filepath.Join("testdata", name+".svg")
		got := draw.SVG(pic)
		if *update {
			if err := os.WriteFile(path, got, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		if want, err := os.ReadFile(path); err != nil || !bytes.Equal(got, want) {
			t.Errorf("%s has changed (%v); if you meant it, run go test -update and look at the picture", path, err)
		}
		if folder := os.Getenv("STEELYARD_CHARTS"); folder != "" {
			b, err := draw.PNG(pic, 110)
			if err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(filepath.Join(folder, name+".png"), b, 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
}

// No text leaves its picture or runs into another, at any width and size; all charts are described.
func TestTextsKeepApart(t *testing.T) {
	for _, o := range []Options{{Width: 440}, {Width: 300, TextSize: 8.5}, {Width: 480, TextSize: 18}, {Width: 480, TextSize: 24}, {}} {
		for name, pic := range samples(o) {
			if pic.Title == "" || pic.Description == "" || strings.Contains(pic.Description, "NaN") {
				t.Errorf("%s: title %q, description %q", name, pic.Title, pic.Description)
			}
			type box struct {
				left, right, top, bottom float64
				text                     string
			}
			var boxes []box
			for _, m := range pic.Marks {
				text, ok := m.(draw.Text)
				if !ok {
					continue
				}
				w, left := text.Width(), text.At.X
				switch text.Anchor {
				case draw.Centre:
					left -= w / 2
				case draw.Finish:
					left -= w
				}
				b := box{left, left + w, text.At.Y - 0.7*text.Size, text.At.Y + 0.2*text.Size, text.String()}
				if b.left < -0.5 || b.right > pic.Width+0.5 || b.top < 0 || b.bottom > pic.Height {
					t.Errorf("%s at %+v: %q leaves the picture", name, o, b.text)
				}
				for _, c := range boxes {
					if b.left < c.right-0.2 && c.left < b.right-0.2 && b.top < c.bottom && c.top < b.bottom {
						t.Errorf("%s at %+v: %q and %q overlap", name, o, b.text, c.text)
					}
				}
				boxes = append(boxes, b)
			}
		}
	}
}

func TestSpreadCountsEveryPupil(t *testing.T) {
	p := Spread([]int{3, 3, 0, 5, 4}, 5, Options{Width: 400})
	if want := "The middle mark is 3. 1 pupil with 0, 2 pupils with 3, 1 pupil with 4, 1 pupil with 5."; p.Description != want {
		t.Errorf("got %q, want %q", p.Description, want)
	}
}

func TestSure(t *testing.T) {
	for p, want := range map[float64]string{0: "", 0.29: "", 0.3: "possible", 0.6: "likely", 0.9: "fits well", 1: "fits well", math.NaN(): ""} {
		if got := Sure(p); got != want {
			t.Errorf("%g: %q, want %q", p, got, want)
		}
	}
}
