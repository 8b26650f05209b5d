package figure

import (
	"flag"
	"fmt"
	"image"
	"image/color"
	stddraw "image/draw"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"steelyard/answer"
	"steelyard/draw"
	"steelyard/question"
)

var (
	sheetFile = flag.String("contact", "", "write a contact sheet of pictures to this PNG file")
	files     = flag.String("files", "", "question files for the contact sheet, as a pattern; random arrangements without it")
	views     = flag.String("views", "s", "views on the contact sheet: s, f, m")
	width     = flag.Float64("width", 300, "width of each picture, points")
	textSize  = flag.Float64("size", 10, "text size, points")
	dpi       = flag.Float64("dpi", 96, "resolution of the contact sheet")
	first     = flag.Int("first", 0, "seed of the first random arrangement")
	count     = flag.Int("many", 200, "number of random arrangements")
	columns   = flag.Int("columns", 4, "pictures across")
)

// TestContactSheet paints pictures to look at, when asked to.
func TestContactSheet(t *testing.T) {
	if *sheetFile == "" {
		t.Skip("no -contact file given")
	}
	var pictures []*draw.Picture
	for _, c := range contactQuestions(t) {
		l, err := answer.Lay(c)
		if err != nil {
			t.Logf("%s: %v", c.File, err)
			continue
		}
		found := l
		o := Options{Width: *width, TextSize: *textSize, Upright: *textSize >= largePrint}
		if a, err := answer.Solve(c); err == nil {
			found, o.Forces = a.Layout, a.Forces
		} else {
			t.Logf("%s: %v", c.File, err)
		}
		for _, v := range *views {
			switch v {
			case 's':
				pictures = append(pictures, captioned(Draw(l, o), c.File))
			case 'f', 'm':
				for i := range found.Bodies {
					p := o
					p.View, p.Body = Forces, found.Bodies[i].Name
					if v == 'm' {
						p.View = Moment
						p.Pivot, p.PivotName = pivotFor(found, i)
					}
					pictures = append(pictures, captioned(Draw(found, p), c.File))
				}
			}
		}
	}
	if err := sheetOf(pictures, *sheetFile); err != nil {
		t.Fatal(err)
	}
}

func captioned(p *draw.Picture, name string) *draw.Picture {
	p.Marks = append(p.Marks, draw.Text{At: draw.Point{X: 2, Y: p.Height + 8}, Size: 7, Ink: draw.Grey, Runs: []draw.Run{{Text: filepath.Base(name)}}})
	p.Height += 10
	return p
}

func contactQuestions(t *testing.T) []*question.Question {
	var out []*question.Question
	if *files == "" {
		for i := range *count {
			out = append(out, randomQuestion(uint64(*first+i)))
		}
		return out
	}
	names, err := filepath.Glob(*files)
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		src, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		q, err := question.Parse(name, string(src))
		if err != nil {
			t.Logf("%s: %v", name, strings.SplitN(err.Error(), "\n", 2)[0])
			continue
		}
		out = append(out, q)
	}
	return out
}

// sheetOf tiles pictures on one image.
func sheetOf(pictures []*draw.Picture, name string) error {
	var rows []*image.RGBA
	total, wide := 0, 0
	for i := 0; i < len(pictures); i += *columns {
		row := pictures[i:min(i+*columns, len(pictures))]
		var tiles []*image.RGBA
		w, h := 0, 0
		for _, p := range row {
			img, err := draw.Raster(p, *dpi)
			if err != nil {
				return fmt.Errorf("%s: %w", p.Title, err)
			}
			tiles = append(tiles, img)
			w, h = w+img.Rect.Dx()+6, max(h, img.Rect.Dy())
		}
		out := image.NewRGBA(image.Rect(0, 0, w, h+6))
		x := 0
		for _, img := range tiles {
			stddraw.Draw(out, img.Rect.Add(image.Pt(x, 0)), img, image.Point{}, stddraw.Src)
			x += img.Rect.Dx() + 6
		}
		rows = append(rows, out)
		total, wide = total+h+6, max(wide, w)
	}
	all := image.NewRGBA(image.Rect(0, 0, wide, total))
	stddraw.Draw(all, all.Rect, image.NewUniform(color.Gray{0xb0}), image.Point{}, stddraw.Src)
	y := 0
	for _, r := range rows {
		stddraw.Draw(all, r.Rect.Add(image.Pt(0, y)), r, image.Point{}, stddraw.Over)
		y += r.Rect.Dy()
	}
	f, err := os.Create(name)
	if err != nil {
		return err
	}
	defer f.Close()
	return png.Encode(f, all)
}
