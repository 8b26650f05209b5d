package film

import (
	"fmt"
	"image"
	pixels "image/draw"
	"slices"
	"strings"

	"steelyard/draw"
	"steelyard/figure"
	"steelyard/font"
	"steelyard/sheet"
	"steelyard/show"
)

// Size of a frame, in pixels, and dots to the inch, so that a frame is 960 by 540 points.
const (
	Width  = 1920
	Height = 1080
	dpi    = 144
)

// Where things stand in a frame, in points. The lowest eighth stays free, where players put captions.
const (
	margin    = 36.0
	top       = 74.0
	bottom    = 472.0
	titleSize = 26.0
	workSize  = 20.0
)

// A layout is where the pictures and the working of a film stand: the same in all its frames.
type layout struct {
	beside  bool // working at the right of the picture, else below it
	options figure.Options
	scale   float64     // of the picture
	picture image.Point // its top left corner, in pixels
	x, y, w float64     // of the working
}

// newLayout puts a picture that is wide above its working, and others beside it.
func newLayout(t *show.Talk) layout {
	const gap = 18
	below := layout{options: figure.Options{Width: 800, TextSize: 17}}
	p := t.Picture(0, below.options)
	most := 0
	for i := range t.Steps {
		most = max(most, len(t.Steps[i].Lines))
	}
	room := bottom - top - gap - float64(min(most, 4))*1.5*workSize
	below.scale = min(1, (960-2*margin)/p.Width, room/p.Height)
	beside := layout{beside: true, options: figure.Options{Width: 540, TextSize: 15}}
	q := t.Picture(0, beside.options)
	beside.scale = min(560/q.Width, (bottom-top)/q.Height)
	if below.scale*below.options.TextSize >= beside.scale*beside.options.TextSize || most == 0 {
		below.picture = image.Pt(int(960-below.scale*p.Width), int(2*top))
		below.x, below.w = margin+60, 960-2*margin-60
		below.y = top + below.scale*p.Height + gap
		return below
	}
	y := top + (bottom-top-beside.scale*q.Height)/4
	beside.picture = image.Pt(int(2*margin), int(2*y))
	beside.x = margin + beside.scale*q.Width + 24
	beside.y, beside.w = y+6, 960-margin-beside.x
	return beside
}

// A painter paints the frames of a film.
type painter struct {
	talk   *show.Talk
	layout layout
}

func (f *Film) painter() painter { return painter{f.Talk, newLayout(f.Talk)} }

// Frame is what is seen at a step, counted from 0: its title, its picture and its working.
func (f *Film) Frame(step int) (*image.RGBA, error) { return f.painter().frame(step) }

func (p painter) frame(step int) (*image.RGBA, error) {
	s := &p.talk.Steps[step]
	return p.titled(step, chapterTitle(s.Part, s.Title), fmt.Sprintf("%d of %d", step+1, len(p.talk.Steps)))
}

// titled is a step under a title of one's choice, with a remark at its right.
func (p painter) titled(step int, title, remark string) (*image.RGBA, error) {
	s := &p.talk.Steps[step]
	page := draw.Picture{Width: 960, Height: 540}
	page.Marks = p.heading(title, remark)
	page.Marks = append(page.Marks, p.working(s)...)
	frame, err := draw.Raster(&page, dpi)
	if err != nil {
		return nil, fmt.Errorf("drawing step %s: %w", s.ID, err)
	}
	picture, err := draw.Raster(p.talk.Picture(step, p.layout.options), dpi*p.layout.scale)
	if err != nil {
		return nil, fmt.Errorf("drawing step %s: %w", s.ID, err)
	}
	pixels.Draw(frame, picture.Bounds().Add(p.layout.picture), picture, image.Point{}, pixels.Src)
	return frame, nil
}

// heading is a title, smaller where it is long, on two lines at its smallest, and a remark.
func (p painter) heading(title, remark string) []draw.Mark {
	const room, least = 790, 15
	size := titleSize
	if w := font.SansBold.Width(title, size); w > room {
		size = max(least, size*room/w)
	}
	lines, y := fitted(title, size, room), 46.0
	if len(lines) > 1 {
		y = 34
	}
	marks := []draw.Mark{
		draw.Text{At: draw.Point{X: 960 - margin, Y: 46}, Anchor: draw.Finish, Size: 15, Ink: draw.Grey, Runs: []draw.Run{{Text: remark}}},
		draw.Line{Points: []draw.Point{{X: margin, Y: 60}, {X: 960 - margin, Y: 60}}, Style: draw.Style{Stroke: draw.Faint, Width: 0.75}},
	}
	for i, line := range lines {
		marks = append(marks, draw.Text{At: draw.Point{X: margin, Y: y + float64(i)*18}, Size: size, Ink: draw.Black, Runs: []draw.Run{{Text: line, Bold: true}}})
	}
	return marks
}

// fitted breaks a title into one line or two; what has no room in two is left out.
func fitted(title string, size, room float64) []string {
	fits := func(s string) bool { return font.SansBold.Width(s, size) <= room }
	if fits(title) {
		return []string{title}
	}
	first, rest := "", []rune(title)
	for words := strings.Fields(title); len(words) > 0 && fits(strings.TrimSpace(first+" "+words[0])); words = words[1:] {
		first, rest = strings.TrimSpace(first+" "+words[0]), []rune(strings.Join(words[1:], " "))
	}
	if fits(string(rest)) {
		return slices.DeleteFunc([]string{first, string(rest)}, func(s string) bool { return s == "" })
	}
	for len(rest) > 0 && !fits(string(rest)+"…") {
		rest = rest[:len(rest)-1]
	}
	return slices.DeleteFunc([]string{first, string(rest) + "…"}, func(s string) bool { return s == "" })
}

// working sets the lines of a step from the first on; where there is no room for all, from a later one on. What is new
// has a bar at its left.
func (p painter) working(s *show.Step) []draw.Mark {
	first := len(s.Lines) - s.New
	for from := 0; ; from++ {
		marks, y := p.lines(s, from, first)
		if y <= bottom || from >= len(s.Lines)-1 {
			return marks
		}
	}
}

func (p painter) lines(s *show.Step, from, first int) (marks []draw.Mark, y float64) {
	y = p.layout.y
	for i := from; i < len(s.Lines); i++ {
		l := &s.Lines[i]
		ink, start := draw.Grey, y
		if i >= first {
			ink = draw.Black
		}
		for _, line := range sheet.Display(l.Formula, workSize, p.layout.w, ink) {
			base := y + max(line.Up, 0.75*workSize) + 2
			marks = append(marks, shifted(line.Marks, p.layout.x, base)...)
			y = base + max(line.Down, 0.25*workSize) + 4
		}
		if l.Note != "" {
			marks = append(marks, draw.Text{At: draw.Point{X: p.layout.x, Y: y + 12}, Size: 14, Ink: draw.Grey, Runs: []draw.Run{{Text: l.Note}}})
			y += 18
		}
		if i >= first {
			marks = append(marks, draw.Line{Points: []draw.Point{{X: p.layout.x - 10, Y: start}, {X: p.layout.x - 10, Y: y - 2}},
				Style: draw.Style{Stroke: draw.Deep, Width: 3}})
		}
		y += 8
	}
	return marks, y
}

// shifted are lines and texts moved.
func shifted(marks []draw.Mark, x, y float64) []draw.Mark {
	out := make([]draw.Mark, 0, len(marks))
	for _, m := range marks {
		switch m := m.(type) {
		case draw.Text:
			m.At = draw.Point{X: m.At.X + x, Y: m.At.Y + y}
			out = append(out, m)
		case draw.Line:
			points := make([]draw.Point, len(m.Points))
			for i, q := range m.Points {
				points[i] = draw.Point{X: q.X + x, Y: q.Y + y}
			}
			m.Points = points
			out = append(out, m)
		}
	}
	return out
}
