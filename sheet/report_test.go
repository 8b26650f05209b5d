package sheet

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"math"
	"strings"
	"testing"

	"steelyard/draw"
	"steelyard/font"
	"steelyard/pdf/uacheck"
)

// notes are reports with a piece of each kind; the second is hostile.
func notes() []Report {
	it := footbridge()
	pic := Picture{func(d Drawing) *draw.Picture {
		return &draw.Picture{Width: d.Width, Height: 60, Title: "A bar", Description: "One bar.", Marks: []draw.Mark{
			draw.Line{Points: []draw.Point{{X: 0, Y: 30}, {X: d.Width, Y: 30}}, Style: draw.Style{Stroke: draw.Black, Width: 2}},
			draw.Text{At: draw.Point{X: 5, Y: 20}, Size: d.TextSize, Ink: draw.Black, Runs: []draw.Run{{Text: "seven"}}}}}
	}}
	return []Report{
		{Title: "Feedback for Ilse Hart", Kind: "Lock footbridge", Code: "set 1", Pieces: []Piece{
			Heading{"What was right"}, List{[]string{"Part a is right.", "In part b your line for moments about Q is right."}},
			Heading{"Where to look again"}, Words{Text: "In part b you wrote:"}, Quote{[]string{"R_B x 2.4 = 180 x 1.3 + 45 x 2.9", "= 364.5"}},
			Words{Text: "It looks as if the distance of the load is measured from the end.", Bold: true}, pic,
			Grid{Heads: []string{"Part", "Mean", "Blank", "What it tells"}, Shares: []float64{1, 1, 1, 4}, Rows: [][]string{{"(a)", "2.1 of 3", "0", ""}, {"(b)", "0.4 of 1", "2", "Hard for most"}}},
			Room{3}, Solved{&it},
		}},
		{Title: "Feedback for <em>Eve</em> & \"Bob\"", Pieces: []Piece{
			Heading{"</h2><script>"}, Words{Text: "a < b & c"}, Quote{[]string{"<img src=x onerror=alert(1)>", "\u202e 7 \U0001F600 日本"}},
			List{[]string{"<b>x</b>", ""}}, List{}, Quote{}, Words{}, Picture{func(Drawing) *draw.Picture { return nil }},
			Grid{Heads: []string{"<th>"}, Shares: []float64{1}, Rows: [][]string{{"</table>"}, {strings.Repeat("W", 300)}}}, Grid{Heads: []string{"a", "b"}, Shares: []float64{1, 1}},
		}},
	}
}

func TestReportsAreAccessible(t *testing.T) {
	for _, size := range []float64{11, 18, 24} {
		seen := map[int]string{}
		o := Options{Size: size, onText: func(page int, x, y, at float64, face *font.Face, text string) { seen[page] += text + "\n" }}
		file, err := Reports("Feedback", notes(), o)
		if err != nil {
			t.Fatal(err)
		}
		for _, fault := range uacheck.Check(file) {
			t.Errorf("%g points: %v", size, fault)
		}
		again, err := Reports("Feedback", notes(), Options{Size: size})
		if err != nil || !bytes.Equal(file, again) {
			t.Errorf("%g points: not the same bytes twice (%v)", size, err)
		}
		all := ""
		for _, text := range seen {
			all += text
		}
		for _, want := range []string{"What was right", "•", "364.5", "Hard for most", "What it tells", "<em>Eve</em>", "set 1"} {
			if !strings.Contains(strings.ReplaceAll(all, "\u00a0", " "), want) {
				t.Errorf("%g points: %q isn't printed", size, want)
			}
		}
	}
}

// The page is well-formed, has one first heading, no scripts, and shows what people typed as they typed it.
func TestReportsHTML(t *testing.T) {
	for _, reports := range [][]Report{notes(), notes()[:1], notes()[1:]} {
		page, err := ReportsHTML("Feedback", reports, "")
		if err != nil {
			t.Fatal(err)
		}
		d := xml.NewDecoder(bytes.NewReader(bytes.TrimPrefix(page, []byte("<!DOCTYPE html>"))))
		d.Strict = true
		d.Entity = xml.HTMLEntity
		count := map[string]int{}
		ids := map[string]bool{}
		words := ""
		for {
			token, err := d.Token()
			if errors.Is(err, io.EOF) {
				break
			}
			if err != nil {
				t.Fatalf("%v in\n%s", err, page)
			}
			switch token := token.(type) {
			case xml.StartElement:
				count[token.Name.Local]++
				for _, a := range token.Attr {
					if a.Name.Local == "id" && ids[a.Value] {
						t.Errorf("id %q comes twice", a.Value)
					} else if a.Name.Local == "id" {
						ids[a.Value] = true
					}
				}
			case xml.CharData:
				words += string(token)
			}
		}
		if count["h1"] != 1 || count["script"] != 0 || count["img"] != 0 || count["main"] != 1 {
			t.Errorf("elements %v", count)
		}
		if len(reports) == 2 && !strings.Contains(words, "<img src=x onerror=alert(1)>") {
			t.Error("what a pupil typed isn't shown as typed")
		}
	}
}

func TestReportsRefuse(t *testing.T) {
	for want, r := range map[string]Report{
		"needs a title":                               {},
		"a table of 2 columns has a row of 1":         {Title: "T", Pieces: []Piece{Grid{Heads: []string{"a", "b"}, Shares: []float64{1, 1}, Rows: [][]string{{"x"}}}}},
		"a table of 1 columns has widths for 0":       {Title: "T", Pieces: []Piece{Grid{Heads: []string{"a"}}}},
		"text of NaN points cannot be printed; choos": {Title: "T"},
	} {
		size := 0.0
		if strings.HasPrefix(want, "text") {
			size = math.NaN()
		} else if _, err := ReportsHTML("T", []Report{r}, ""); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("HTML: got %v, want %q", err, want)
		}
		if _, err := Reports("T", []Report{r}, Options{Size: size}); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("got %v, want %q", err, want)
		}
	}
	if _, err := Reports("T", nil, Options{}); err == nil {
		t.Error("no report at all is printed")
	}
}

// A report goes into a page of the web too: a fragment without styles, whose pictures can't be taken for the page's.
func TestReportAsPartOfAPage(t *testing.T) {
	r := Report{Title: "Feedback for A & B", Kind: "Bridges", Pieces: []Piece{
		Heading{"Where to look"}, Words{Text: "Look <here>."}, Room{3},
		Picture{func(d Drawing) *draw.Picture {
			return &draw.Picture{Width: d.Width, Height: 20, Title: "A line"}
		}},
	}}
	got, err := ReportHTML(&r, "r7", 3)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{`<article id="r7">`, "<h3>Feedback for A &amp; B</h3>", "<h4>Where to look</h4>", "&lt;here&gt;", "r7-c1"} {
		if !strings.Contains(got, want) {
			t.Errorf("%s is missing in\n%s", want, got)
		}
	}
	if strings.Contains(got, "style") {
		t.Errorf("it has a style of its own:\n%s", got)
	}
	if _, err := ReportHTML(&Report{}, "r1", 2); err == nil {
		t.Error("a report without a title was written")
	}
}

// In one booklet a pupil who reads large print has it, and the next one has ordinary print again.
func TestASetHasASizeOfItsOwn(t *testing.T) {
	sizes := map[string]float64{}
	o := Options{onText: func(page int, _, _, size float64, _ *font.Face, text string) {
		if strings.HasPrefix(text, "What") {
			sizes[text] = size
		}
	}}
	set := func(word string, size float64) Set {
		return Set{Title: "Bridges", Size: size, Items: []Item{{Title: "Bridge", Parts: []Part{{Name: "a", Text: word, Marks: 1}}}}}
	}
	if _, err := Booklet("Bridges", []Set{set("What1", 0), set("What2", 20), set("What3", 0)}, o); err != nil {
		t.Fatal(err)
	}
	if sizes["What1"] != 11 || sizes["What2"] != 20 || sizes["What3"] != 11 {
		t.Errorf("texts have the sizes %v", sizes)
	}
	if _, err := Booklet("Bridges", []Set{set("What1", 50)}, o); err == nil {
		t.Error("a size that cannot be printed was printed")
	}
}
