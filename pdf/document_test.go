package pdf_test

import (
	"bytes"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"steelyard/font"
	"steelyard/pdf"
	"steelyard/pdf/uacheck"
)

func mustBytes(t testing.TB, d *pdf.Document) []byte {
	t.Helper()
	b, err := d.Bytes()
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func TestSampleKeepsTheRules(t *testing.T) {
	for _, broken := range uacheck.Check(mustBytes(t, sample())) {
		t.Error(broken)
	}
}

func TestSameCallsSameBytes(t *testing.T) {
	if !bytes.Equal(mustBytes(t, sample()), mustBytes(t, sample())) {
		t.Error("the same calls gave two different files")
	}
	d := sample()
	if !bytes.Equal(mustBytes(t, d), mustBytes(t, d)) {
		t.Error("writing a document twice gave two different files")
	}
	if bytes.Contains(mustBytes(t, sample()), []byte("Date")) {
		t.Error("a date is written that nobody gave")
	}
}

func TestDateIsWrittenIfGiven(t *testing.T) {
	d := pdf.New(pdf.Info{Title: "Dated", Language: "en-GB", Created: time.Date(2031, 5, 6, 7, 8, 9, 0, time.UTC)})
	d.AddPage(100, 100)
	b := mustBytes(t, d)
	for _, want := range []string{"/CreationDate(D:20310506070809Z)", "<xmp:CreateDate>2031-05-06T07:08:09Z<"} {
		if !bytes.Contains(b, []byte(want)) {
			t.Errorf("there is no %s", want)
		}
	}
}

func TestFaultsAreReported(t *testing.T) {
	type act func(d *pdf.Document, p *pdf.Page)
	tests := []struct {
		want string
		do   act
	}{
		{"outside any tag", func(d *pdf.Document, p *pdf.Page) { p.Line(0, 0, 1, 1) }},
		{"outside any tag", func(d *pdf.Document, p *pdf.Page) { p.Text(font.Serif, 10, 5, 5, "x") }},
		{"outside any tag", func(d *pdf.Document, p *pdf.Page) {
			p.Begin(d.Root().Child(pdf.P))
			p.End()
			p.Text(font.Serif, 10, 5, 5, "x")
		}},
		{"inside another tag", func(d *pdf.Document, p *pdf.Page) { p.Artifact(""); p.Begin(d.Root().Child(pdf.P)) }},
		{"never closed", func(d *pdf.Document, p *pdf.Page) { p.Begin(d.Root().Child(pdf.P)) }},
		{"never began", func(d *pdf.Document, p *pdf.Page) { p.End() }},
		{"without its restore", func(d *pdf.Document, p *pdf.Page) { p.Save() }},
		{"without its save", func(d *pdf.Document, p *pdf.Page) { p.Restore() }},
		{"no place on a page", func(d *pdf.Document, p *pdf.Page) { p.Artifact(""); p.Line(math.NaN(), 0, 1, 1); p.End() }},
		{"no words", func(d *pdf.Document, p *pdf.Page) { d.Root().Child(pdf.Figure) }},
		{"row or its column", func(d *pdf.Document, p *pdf.Page) {
			d.Root().Child(pdf.Table).Child(pdf.TR).Child(pdf.TH)
		}},
	}
	for _, c := range tests {
		d := pdf.New(pdf.Info{Title: "Faulty", Language: "en"})
		c.do(d, d.AddPage(100, 100))
		if _, err := d.Bytes(); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("want a fault that says %q, have %v", c.want, err)
		}
	}
	for want, info := range map[string]pdf.Info{"title": {Language: "en"}, "language": {Title: "x"}} {
		d := pdf.New(info)
		d.AddPage(10, 10)
		if _, err := d.Bytes(); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("want a fault about the %s, have %v", want, err)
		}
	}
	if _, err := pdf.New(pdf.Info{Title: "x", Language: "en"}).Bytes(); err == nil {
		t.Error("a file without pages was written")
	}
}

// tool runs a program on the sample file, if it is there.
func tool(t *testing.T, program string, args ...string) string {
	t.Helper()
	if _, err := exec.LookPath(program); err != nil {
		if os.Getenv("CI") != "" {
			t.Fatal(program + " is not installed; CI needs it, see .ci/packages")
		}
		t.Skipf("%s is not installed, so this check did not run", program)
	}
	path := filepath.Join(t.TempDir(), "sample.pdf")
	if err := os.WriteFile(path, mustBytes(t, sample()), 0o600); err != nil {
		t.Fatal(err)
	}
	for i, a := range args {
		if a == "FILE" {
			args[i] = path
		}
	}
	out, err := exec.Command(program, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s: %v\n%s", program, err, out)
	}
	return string(out)
}

func TestQpdfFindsNothingWrong(t *testing.T) {
	if out := tool(t, "qpdf", "--check", "FILE"); !strings.Contains(out, "No syntax or stream encoding errors") {
		t.Error(out)
	}
}

func TestPopplerReadsTheStructure(t *testing.T) {
	out := tool(t, "pdfinfo", "-struct-text", "FILE")
	for _, want := range []string{"Document", "H1 (block)", "\"Quay gangway\"", "Figure", "LBody", "TH", "Formula", "overleaf"} {
		if !strings.Contains(out, want) {
			t.Errorf("there is no %s in\n%s", want, out)
		}
	}
	if out := tool(t, "pdfinfo", "FILE"); !strings.Contains(out, "Tagged:          yes") || strings.Contains(out, "Error") {
		t.Error(out)
	}
}

func TestPopplerFindsFontsEmbedded(t *testing.T) {
	lines := strings.Split(strings.TrimSpace(tool(t, "pdffonts", "FILE")), "\n")[2:]
	if len(lines) != 6 {
		t.Errorf("want 6 fonts, have\n%s", strings.Join(lines, "\n"))
	}
	for _, line := range lines {
		if fields := strings.Fields(line); len(fields) < 7 || strings.Join(fields[len(fields)-5:len(fields)-2], " ") != "yes yes yes" {
			t.Errorf("not embedded, subset and readable: %s", line)
		}
	}
}

func TestTextCanBeTakenOut(t *testing.T) {
	out := tool(t, "pdftotext", "-layout", "FILE", "-")
	for _, want := range []string{"weight 260 N rests", "AVATAR ⊥ ∴", "Find the force of trestle Q on the plank."} {
		if !strings.Contains(out, want) {
			t.Errorf("there is no %q in\n%s", want, out)
		}
	}
}

// The width that Text returns is the one that package font measures.
func TestTextWidthIsReturned(t *testing.T) {
	d := pdf.New(pdf.Info{Title: "x", Language: "en"})
	p := d.AddPage(100, 100)
	p.Artifact("")
	defer p.End()
	for _, text := range []string{"", "AVATAR", "½ ⊥ x"} {
		if got, want := p.Text(font.Serif, 11, 0, 0, text), font.Serif.Width(text, 11); math.Abs(got-want) > 1e-9 {
			t.Errorf("%q: %g, measured %g", text, got, want)
		}
	}
}

func BenchmarkSample(b *testing.B) {
	for b.Loop() {
		if _, err := sample().Bytes(); err != nil {
			b.Fatal(err)
		}
	}
}
