package draw

import (
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"steelyard/font"
	"steelyard/pdf"
	"steelyard/pdf/uacheck"
)

func onPage(t *testing.T, p *Picture, seen func(x, y, size float64, text string)) []byte {
	t.Helper()
	d := pdf.New(pdf.Info{Title: "Picture", Language: "en-GB"})
	d.OnText = func(_ int, x, y, size float64, _ *font.Face, text string) {
		if seen != nil {
			seen(x, y, size, text)
		}
	}
	page := d.AddPage(p.Width+40, p.Height+40)
	figure := d.Root().Child(pdf.Figure)
	figure.Alt = p.Title
	page.Begin(figure)
	PDF(page, 20, 20, p)
	page.End()
	b, err := d.Bytes()
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func everyMark() *Picture {
	pen := Style{Stroke: Deep, Width: 1.5, Dash: []float64{4, 2}, Round: true}
	return &Picture{Width: 200, Height: 100, Title: "every kind of mark", Marks: []Mark{
		Line{Points: []Point{{10, 60}, {190, 60}, {190, 70}, {10, 70}}, Closed: true, Style: Style{Stroke: Black, Width: 1, Fill: Shade}},
		Group{ID: "turn", Title: "turns anticlockwise", Marks: []Mark{
			Arc{Centre: Point{100, 60}, Radius: 20, From: -math.Pi, To: -0.5, Style: pen},
			Arc{Centre: Point{100, 60}, Radius: 3, From: 0, To: 2 * math.Pi, Style: Style{Fill: Second}},
		}},
		Line{Points: []Point{{10, 90}, {60, 90}}, Style: Style{}}, // unseen
		Text{At: Point{100, 30}, Anchor: Centre, Size: 10, Ink: Deep, Halo: true,
			Runs: []Run{{Text: "R", Italic: true}, {Text: "Q", Sub: true}, {Text: " = 480\u00a0N"}, {Text: " ↑", Bold: true}}},
	}}
}

func TestPictureOnAPageKeepsTheRules(t *testing.T) {
	for _, broken := range uacheck.Check(onPage(t, everyMark(), nil)) {
		t.Error(broken)
	}
}

// Text on the page starts where the other writers start it: where Pieces says.
func TestTextStandsWhereItsPiecesSay(t *testing.T) {
	p := everyMark()
	want := map[string]Piece{}
	for _, piece := range p.Marks[3].(Text).Pieces() {
		want[piece.Text] = piece
	}
	seen := 0
	onPage(t, p, func(x, y, size float64, text string) {
		w, ok := want[text]
		if !ok || w.At.X != x || w.At.Y != y || w.Size != size {
			t.Errorf("%q is at %g, %g in size %g; its piece is %+v", text, x, y, size, w)
		}
		seen++
	})
	if seen < len(want) {
		t.Errorf("%d pieces of %d are painted", seen, len(want))
	}
}

func TestPictureOnAPageCanBeRead(t *testing.T) {
	if _, err := exec.LookPath("pdftotext"); err != nil {
		if os.Getenv("CI") != "" {
			t.Fatal("pdftotext" + " is not installed; CI needs it, see .ci/packages")
		}
		t.Skip("pdftotext is not installed, so this check did not run")
	}
	path := filepath.Join(t.TempDir(), "picture.pdf")
	if err := os.WriteFile(path, onPage(t, everyMark(), nil), 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command("pdftotext", path, "-").CombinedOutput()
	if err != nil || !strings.Contains(string(out), "480 N") {
		t.Errorf("%v: %s", err, out)
	}
}
