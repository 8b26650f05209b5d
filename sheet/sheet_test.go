package sheet

import (
	"bytes"
	"flag"
	"fmt"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"steelyard/draw"
	"steelyard/font"
	"steelyard/pdf"
	"steelyard/pdf/uacheck"
	"steelyard/solution"
)

var update = flag.Bool("update", false, "write the golden files anew")

// kinds are the kinds of sheet, as documents.
var kinds = map[string]func(Set, Options) (*pdf.Document, error){
	"questions": func(s Set, o Options) (*pdf.Document, error) { return compose(s.Title, "", []Set{s}, o, questions) },
	"scheme": func(s Set, o Options) (*pdf.Document, error) {
		return compose(s.Title, "Mark scheme", []Set{s}, o, scheme)
	},
	"solutions": func(s Set, o Options) (*pdf.Document, error) {
		return compose(s.Title, "Worked solutions", []Set{s}, o, solutions)
	},
}

// A printed line is a run of text on a page.
type printed struct {
	page       int
	x, y, size float64
	face       *font.Face
	text       string
}

// printedText lists what a sheet prints, run by run.
func printedText(t testing.TB, kind string, set Set, o Options) []printed {
	t.Helper()
	var out []printed
	o.onText = func(page int, x, y, size float64, face *font.Face, text string) {
		out = append(out, printed{page, x, y, size, face, text})
	}
	if _, err := kinds[kind](set, o); err != nil {
		t.Fatal(err)
	}
	return out
}

// Golden files: a run a line, with page, place, size, and i or b for a slanted or heavy face.
func TestSheetsAsText(t *testing.T) {
	tests := []struct {
		file, kind string
		o          Options
	}{
		{"questions-a4-11", "questions", Options{}},
		{"questions-letter-11", "questions", Options{Paper: Letter}},
		{"questions-a4-24", "questions", Options{Size: 24}},
		{"scheme-a4-11", "scheme", Options{}},
		{"scheme-a4-18", "scheme", Options{Size: 18}},
		{"solutions-a4-11", "solutions", Options{}},
		{"solutions-letter-24", "solutions", Options{Paper: Letter, Size: 24}},
	}
	for _, c := range tests {
		var b strings.Builder
		for _, r := range printedText(t, c.kind, sampleSet(), c.o) {
			style := ""
			if r.face.Italic() {
				style += "i"
			}
			if r.face.Bold() {
				style += "b"
			}
			fmt.Fprintf(&b, "p%d %.1f,%.1f %.4gpt%s %q\n", r.page, r.x, r.y, r.size, style, r.text)
		}
		path := filepath.Join("testdata", c.file+".txt")
		if *update {
			if err := os.WriteFile(path, []byte(b.String()), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if b.String() != string(want) {
			t.Errorf("%s has changed; if you meant it, run go test -update and look at the sheet", path)
		}
	}
}

func TestSameSheetSameBytes(t *testing.T) {
	for name, make := range samples() {
		a, errA := make(sampleSet())
		b, errB := make(sampleSet())
		if errA != nil || errB != nil || !bytes.Equal(a, b) {
			t.Errorf("%s: the same sheet gave two different files (%v, %v)", name, errA, errB)
		}
	}
}

func TestSheetsKeepTheRules(t *testing.T) {
	for name, make := range samples() {
		b, err := make(sampleSet())
		if err != nil {
			t.Fatal(name, err)
		}
		for _, broken := range uacheck.Check(b) {
			t.Errorf("%s: %s", name, broken)
		}
	}
}

// Nothing is printed outside the margins, and nothing over anything else: in all sizes, on both
// papers. Drawings have their own tests, so they are left out here.
func TestNothingCollidesOrLeavesThePage(t *testing.T) {
	set := sampleSet()
	for i := range set.Items {
		set.Items[i].Picture, set.Items[i].View = nil, nil
	}
	for _, kind := range slices.Sorted(maps.Keys(kinds)) {
		for _, paper := range []Paper{A4, Letter} {
			for _, size := range []float64{9, 11, 14, 16, 18, 24, 30, 36} {
				o := Options{Paper: paper, Size: size}
				checkPlaces(t, fmt.Sprintf("%s %g pt, paper %d", kind, size, paper), kind, set, o)
			}
		}
	}
}

// overlap reports whether the letters of two runs, from baseline to the top of capitals, cover each other.
func overlap(a, b printed, wideA, wideB float64) bool {
	const slack = 0.6 // letters may touch: kerned pieces of a line do
	return a.x+wideA > b.x+slack && b.x+wideB > a.x+slack && a.y > b.y-b.face.CapHeight(b.size)+slack && b.y > a.y-a.face.CapHeight(a.size)+slack
}

// A part's text stands on the page of its first lines, and a question's stem on that of its drawing.
func TestWhatBelongsTogetherStaysTogether(t *testing.T) {
	// So many more paragraphs push the questions down, while each stem still fits on a page.
	for size, most := range map[float64]int{11: 12, 18: 5, 24: 1} {
		for extra := range most {
			set := sampleSet()
			for range extra {
				set.Items[0].Wording = append(set.Items[0].Wording, "The lock is shut for the winter, and nobody else is on the footbridge.")
			}
			lines := printedText(t, "questions", set, Options{Size: size})
			page := map[string]int{}
			for _, r := range lines {
				if r.text == "4.80\u00a0m" { // in the drawing
					page[r.text]++
					key := fmt.Sprint("drawing ", page[r.text])
					page[key] = r.page
				}
				if strings.HasSuffix(r.text, "Lock footbridge") {
					page["stem 1"] = r.page
				}
				if strings.HasSuffix(r.text, "Mooring plank") {
					page["stem 2"] = r.page
				}
			}
			if page["stem 2"] == 0 || page["stem 2"] != page["drawing 2"] {
				t.Errorf("%g pt, %d more: question 2 starts on page %d, its drawing stands on page %d", size, extra, page["stem 2"], page["drawing 2"])
			}
			// Below the heading, in large print, the first question's drawing may go overleaf: else that page is nearly empty.
			if overleaf := page["drawing 1"] - page["stem 1"]; page["stem 1"] != 1 || overleaf > 1 || overleaf > 0 && size < 16 {
				t.Errorf("%g pt, %d more: question 1 starts on page %d, its drawing stands on page %d", size, extra, page["stem 1"], page["drawing 1"])
			}
		}
	}
}

// No line starts with a unit or ends with a bare number, whatever the width.
func TestNumbersKeepTheirUnits(t *testing.T) {
	l := newLook(Options{Size: 11})
	text := "A load of 540 N stands at 1.50 m; the moment is 8 N m, the field 9.81 N/kg, the plank 12.5 kg/m and 20 cm wide, at 30 ° to support P."
	for width := 60.0; width < 400; width += 1.5 {
		for _, line := range l.setText(marked(text), 11, width) {
			first := line.pieces[0].runs[0].text
			last := line.pieces[len(line.pieces)-1]
			end := last.runs[len(last.runs)-1].text
			for _, unit := range []string{"N", "m;", "m", "cm", "N/kg", "kg/m", "m,", "°"} {
				if strings.TrimSpace(strings.SplitN(first, " ", 2)[0]) == unit {
					t.Errorf("width %g: a line starts with %q", width, first)
				}
			}
			if end != "" && end[len(end)-1] >= '0' && end[len(end)-1] <= '9' {
				t.Errorf("width %g: a line ends with %q", width, end)
			}
		}
	}
}

func TestFootNamesPageAndPurpose(t *testing.T) {
	for kind := range kinds {
		lines := printedText(t, kind, sampleSet(), Options{})
		last := lines[len(lines)-1].page
		for page := 1; page <= last; page++ {
			var all string
			for _, r := range lines {
				if r.page == page {
					all += r.text + "\n"
				}
			}
			for _, want := range []string{fmt.Sprintf("page %d of %d", page, last), "Results are for teaching, never for building."} {
				if !strings.Contains(all, want) {
					t.Errorf("%s, page %d: there is no %q", kind, page, want)
				}
			}
		}
	}
}

// Large print is upright and sans serif, and no text of its own is smaller than 16 points.
func TestLargePrint(t *testing.T) {
	set := sampleSet()
	for _, size := range []float64{16, 18, 24} {
		drawn := 0.0
		set.Items[0].Picture = func(d Drawing) *draw.Picture {
			drawn = d.TextSize
			if !d.Upright {
				t.Errorf("%g pt: the drawing's symbols slant", size)
			}
			return plankPicture(d)
		}
		for kind := range kinds {
			for _, r := range printedText(t, kind, set, Options{Size: size}) {
				if r.face.Italic() || r.face.HasSerifs() {
					t.Errorf("%s %g pt: %q is set in %s", kind, size, r.text, r.face.Name())
				}
				if index := newLook(Options{Size: size}).sub * size; r.size < min(16, index)-0.01 {
					t.Errorf("%s %g pt: %q is %g pt", kind, size, r.text, r.size)
				}
			}
		}
		if drawn != size {
			t.Errorf("%g pt: the drawing is asked for %g pt labels", size, drawn)
		}
	}
}

func TestSchemeTotalsAndTheLinesBelow(t *testing.T) {
	set := sampleSet()
	all := func() string {
		var b strings.Builder
		for _, r := range printedText(t, "scheme", set, Options{}) {
			b.WriteString(r.text + "\n")
		}
		return b.String()
	}
	for _, want := range []string{"Total for part (a)", "or, by moments about the middle", "\n 11\n", "accept 289"} {
		if got := all(); !strings.Contains(got, want) {
			t.Errorf("the scheme has no %q:\n%s", want, got)
		}
	}
	set.Items[0].Parts[0].Marks = 4 // the lines carry 3
	if got := all(); !strings.Contains(got, "the lines above carry 3") {
		t.Errorf("marks that don't add up go unsaid:\n%s", got)
	}
}

// Text that is read out runs on from line to line with spaces between its words.
func TestTextReadsOn(t *testing.T) {
	var b strings.Builder
	for _, r := range printedText(t, "questions", sampleSet(), Options{}) {
		b.WriteString(r.text)
	}
	got := strings.ReplaceAll(b.String(), nobreak, " ")
	for _, want := range []string{"Q at 4.20 m from its left end. It serves", "name the law that you used. [1]", "1  Lock footbridge 7 marks", "Name Class Date Marks / 11"} {
		if !strings.Contains(got, want) {
			t.Errorf("there is no %q in %q", want, got)
		}
	}
}

// In a booklet each set counts its own pages and, printed on two sides, starts on a front.
func TestBooklet(t *testing.T) {
	short := sampleSet()
	short.Items = short.Items[1:]
	short.Code = "Numbers 018"
	var seen []string
	o := Options{TwoSided: true, onText: func(page int, _, _, _ float64, _ *font.Face, text string) {
		if strings.HasPrefix(text, "page ") || strings.HasPrefix(text, "This side") || strings.Contains(text, "Numbers") {
			seen = append(seen, fmt.Sprintf("%d: %s", page, text))
		}
	}}
	b, err := Booklet("Moments, all sets", []Set{short, sampleSet(), short}, o)
	if err != nil {
		t.Fatal(err)
	}
	want := []string{
		"1: Numbers 018. Results are for teaching, never for building.", "1: page 1 of 1", "2: This side is left empty.",
		"3: Numbers 017. Results are for teaching, never for building.", "3: page 1 of 2",
		"4: Numbers 017. Results are for teaching, never for building.", "4: page 2 of 2",
		"5: Numbers 018. Results are for teaching, never for building.", "5: page 1 of 1",
	}
	if !slices.Equal(seen, want) {
		t.Errorf("printed %q", seen)
	}
	for _, broken := range uacheck.Check(b) {
		t.Error(broken)
	}
	if _, err := Booklet("None", nil, Options{}); err == nil || !strings.Contains(err.Error(), "no sheet") {
		t.Errorf("a booklet of nothing: %v", err)
	}
}

func TestSafetyIsPrinted(t *testing.T) {
	for _, kind := range []string{"scheme", "solutions"} {
		found := false
		for _, r := range printedText(t, kind, sampleSet(), Options{}) {
			found = found || strings.Contains(r.text, "If you try this with a real plank")
		}
		if !found {
			t.Errorf("%s: the solution's caution is missing", kind)
		}
	}
}

func TestRefusals(t *testing.T) {
	good := sampleSet()
	tests := []struct {
		want string
		set  Set
		o    Options
	}{
		{"choose 9 to 36", good, Options{Size: 4}},
		{"choose A4 or Letter", good, Options{Paper: 7}},
		{"needs a title", Set{Items: good.Items}, Options{}},
		{"has no question", Set{Title: "Empty"}, Options{}},
	}
	for _, c := range tests {
		for kind, make := range kinds {
			if _, err := make(c.set, c.o); err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("%s: want %q, have %v", kind, c.want, err)
			}
		}
	}
}

// Odd input is printed, not fatal: no text, no parts, signs that no face has, one endless word.
func TestOddInput(t *testing.T) {
	items := []Item{
		{},
		{Title: "Odd", Wording: []string{"", strings.Repeat("x", 3000), "a\nb\tc \x01 \U0010FFFF <b>&amp;"}, Parts: []Part{{}, {Name: "b", Marks: 40, Unit: "N m"}}},
		{Title: strings.Repeat("long title ", 30), Parts: []Part{{Name: "a", Text: "x", Prose: true}}, Solution: &solution.Solution{}},
		{Picture: func(Drawing) *draw.Picture { return nil }, Parts: []Part{{Name: "a", Label: strings.Repeat("label ", 60)}}},
		{Picture: func(d Drawing) *draw.Picture { return &draw.Picture{Width: 5000, Height: 9000} }},
	}
	for kind, make := range kinds {
		for _, size := range []float64{11, 24} {
			d, err := make(Set{Title: "Odd things", Items: items}, Options{Size: size, Language: "cy", Created: time.Unix(0, 0)})
			if err != nil {
				t.Errorf("%s %g pt: %v", kind, size, err)
				continue
			}
			b, err := d.Bytes()
			if err != nil {
				t.Errorf("%s %g pt: %v", kind, size, err)
			}
			for _, broken := range uacheck.Check(b) {
				t.Errorf("%s %g pt: %s", kind, size, broken)
			}
		}
	}
}

// tool runs a program on a sheet, if it is there.
func tool(t *testing.T, make func(Set) ([]byte, error), program string, args ...string) string {
	t.Helper()
	if _, err := exec.LookPath(program); err != nil {
		if os.Getenv("CI") != "" {
			t.Fatal(program + " is not installed; CI needs it, see .ci/packages")
		}
		t.Skipf("%s is not installed, so this check did not run", program)
	}
	b, err := make(sampleSet())
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "sheet.pdf")
	if err := os.WriteFile(path, b, 0o600); err != nil {
		t.Fatal(err)
	}
	args = slices.Clone(args)
	args[slices.Index(args, "FILE")] = path
	out, err := exec.Command(program, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s: %v\n%s", program, err, out)
	}
	return string(out)
}

func TestOtherProgramsReadTheSheets(t *testing.T) {
	for name, make := range samples() {
		t.Run(name+"/qpdf", func(t *testing.T) {
			if out := tool(t, make, "qpdf", "--check", "FILE"); !strings.Contains(out, "No syntax or stream encoding errors") {
				t.Error(out)
			}
		})
		if !strings.HasSuffix(name, "a4-11") {
			continue
		}
		t.Run(name+"/pdfinfo", func(t *testing.T) {
			out := tool(t, make, "pdfinfo", "-struct-text", "FILE")
			for _, want := range []string{"H1 (block)", "H2 (block)", "Sect"} {
				if !strings.Contains(out, want) {
					t.Errorf("there is no %s in\n%s", want, out)
				}
			}
		})
		t.Run(name+"/pdffonts", func(t *testing.T) {
			for _, line := range strings.Split(strings.TrimSpace(tool(t, make, "pdffonts", "FILE")), "\n")[2:] {
				if fields := strings.Fields(line); strings.Join(fields[len(fields)-5:len(fields)-2], " ") != "yes yes yes" {
					t.Errorf("not embedded, subset and readable: %s", line)
				}
			}
		})
	}
	t.Run("pdftotext", func(t *testing.T) {
		out := tool(t, samples()["questions-a4-11"], "pdftotext", "-layout", "FILE", "-")
		for _, want := range []string{"Find the force of the sill Q on the plank.", "[3]", "force of Q on the plank", "page 2 of 2"} {
			if !strings.Contains(out, want) {
				t.Errorf("there is no %q in\n%s", want, out)
			}
		}
	})
}

func BenchmarkTwoPageSheet(b *testing.B) {
	set := sampleSet()
	for b.Loop() {
		if _, err := Questions(set, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkSolutions(b *testing.B) {
	set := sampleSet()
	for b.Loop() {
		if _, err := Solutions(set, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkThreeHundredSheets makes sheets with numbers of their own, as for a year group, and says
// how many a second.
func BenchmarkThreeHundredSheets(b *testing.B) {
	pages := 0
	for b.Loop() {
		for n := range 300 {
			set := sampleSet()
			set.Code = fmt.Sprintf("Numbers %03d", n)
			set.Items[0].Wording[1] = fmt.Sprintf("A lock keeper K of weight %d N stands 1.%02d m from the left end. Take g = 9.81 N/kg.", 480+n, n%100)
			d, err := kinds["questions"](set, Options{})
			if err != nil {
				b.Fatal(err)
			}
			if _, err := d.Bytes(); err != nil {
				b.Fatal(err)
			}
			pages += len(d.Pages())
		}
	}
	b.ReportMetric(float64(300*b.N)/b.Elapsed().Seconds(), "sheets/s")
	b.ReportMetric(float64(pages)/float64(300*b.N), "pages/sheet")
}
