package slides

import (
	"fmt"
	"strings"

	"steelyard/draw"
	"steelyard/figure"
	"steelyard/formula"
	"steelyard/sheet"
	"steelyard/show"
)

// The size of a slide, and where things stand on it, in points.
const (
	wide, high   = 960.0, 540.0
	margin       = 44.0
	titleTop     = 30.0
	titleHeight  = 56.0
	titleSize    = 32.0
	top          = 100.0 // of picture and working
	room         = 392.0 // below it
	pictureWidth = 500.0
	gutter       = 30.0 // between picture and working, where marks of what is new stand
	workingLeft  = margin + pictureWidth + gutter
	workingWidth = wide - workingLeft - margin
	footSize     = 12.0
	most, least  = 24.0, 17.0 // size of the working
)

// A slide is a step as it is shown.
type slide struct {
	title   string // no other slide has it
	picture *draw.Picture
	drawn   box    // what of it all slides together use, in its own points
	alt     string // the picture in words
	lines   []row
	words   string   // a question to the class, or a caution, that stands on the slide
	notes   []string // the script
}

// A row is a line of working.
type row struct {
	formula formula.Node
	note    string
	fresh   bool // new in this step
	grows   bool // terms are still to come
}

// said is a row in words.
func (r row) said() string {
	out := formula.Words(r.formula)
	if r.fresh {
		out = "New: " + out
	}
	if r.grows {
		out += ", and so on"
	}
	if r.note != "" {
		out += ", " + r.note
	}
	return out
}

// tail is what stands after the formula.
func (r row) tail() string {
	out := ""
	if r.grows {
		out = " …"
	}
	if r.note != "" {
		out += "  " + r.note
	}
	return out
}

// deck makes the slides of a talk, with pictures of a width and with labels of a size.
func deck(t *show.Talk, width, text float64) []slide {
	var out []slide
	seen := map[string]int{}
	for i := range t.Steps {
		s := &t.Steps[i]
		p := t.Picture(i, figure.Options{Width: width, TextSize: text})
		v := slide{title: heading(t, i), picture: p, alt: inWords(p)}
		seen[v.title]++
		if n := seen[v.title]; n > 1 {
			v.title = fmt.Sprintf("%s, %d", v.title, n)
		}
		for k, l := range s.Lines {
			v.lines = append(v.lines, row{l.Formula, l.Note, k >= len(s.Lines)-s.New, l.Grows})
		}
		if s.Say != "" {
			v.notes = append(v.notes, s.Say)
		}
		if s.Ask != "" {
			v.notes = append(v.notes, "Ask: "+s.Ask)
		}
		switch {
		case s.ID == "yours":
			v.words, v.notes = s.Ask, []string{s.Say}
		case i == 0:
			v.words = strings.TrimSpace(strings.TrimPrefix(t.Safety, sheet.Notice)) // the foot says that
		}
		out = append(out, v)
	}
	return out
}

// heading is the title of a step, with the question's on the first and the part's letter on those of a part.
func heading(t *show.Talk, i int) string {
	s := &t.Steps[i]
	letter := "(" + s.Part + ")"
	switch {
	case i == 0:
		return t.Title
	case s.Part == "" || strings.Contains(s.Title, letter):
		return s.Title
	}
	return letter + " " + s.Title
}

// inWords is what stands for a picture where it cannot be seen.
func inWords(p *draw.Picture) string {
	title := strings.TrimSpace(p.Title)
	if title != "" && !strings.HasSuffix(title, ".") {
		title += "."
	}
	if all := strings.TrimSpace(title + " " + p.Description); all != "" {
		return all
	}
	return "Drawing of the arrangement."
}

// onSlides makes the slides of a talk with pictures as large as they can be, part by part. Where height is what is short,
// as with ladders, they are drawn larger and their labels smaller, within reason.
func onSlides(t *show.Talk) []slide {
	const width, text = pictureWidth - 20, 17.0
	out := deck(t, width, text)
	var larger []slide
	for from := 0; from < len(out); {
		to := from + 1
		for to < len(out) && t.Steps[to].Part == t.Steps[from].Part {
			to++
		}
		part := out[from:to]
		crop(part)
		if k := part[0].scale(); k < 0.95*pictureWidth/part[0].drawn.width() {
			if larger == nil {
				larger = deck(t, 1.3*width, text)
			}
			other := larger[from:to]
			if crop(other); other[0].scale()*text >= 12 && other[0].bodies() > 1.05*part[0].bodies() {
				copy(part, other)
			}
		}
		from = to
	}
	return out
}

// crop finds what slides together use of their pictures, so that nothing moves from one to the next.
func crop(list []slide) {
	all := around()
	for i := range list {
		all = around(all, extent(list[i].picture.Marks))
	}
	const edge = 4
	all = box{all.left - edge, all.top - edge, all.right + edge, all.bottom + edge}
	for i := range list {
		if p := list[i].picture; !(all.width() > 2*edge && all.height() > 2*edge) {
			all = box{0, 0, p.Width, p.Height}
		}
		list[i].drawn = all
	}
}

// scale is how much the picture is scaled to stand in its place on a slide.
func (v *slide) scale() float64 {
	return min(1.2, pictureWidth/v.drawn.width(), room/v.drawn.height())
}

// corner is where the picture's own zero comes to stand on the slide.
func (v *slide) corner() (x, y float64) {
	k := v.scale()
	return margin + (pictureWidth-k*v.drawn.width())/2 - k*v.drawn.left, top - k*v.drawn.top
}

// bodies is how large the bodies are on the slide.
func (v *slide) bodies() float64 {
	all := around()
	for _, m := range v.picture.Marks {
		if g, ok := m.(draw.Group); ok && strings.HasPrefix(g.ID, "body") {
			all = around(all, extent(g.Marks))
		}
	}
	return v.scale() * max(all.width(), all.height(), 0)
}

// talkTitle is never empty.
func talkTitle(t *show.Talk) string {
	if strings.TrimSpace(t.Title) == "" {
		return "Bodies in equilibrium"
	}
	return t.Title
}
