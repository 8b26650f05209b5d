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

// fit is how much a picture is scaled to stand in its place on a slide.
func fit(p *draw.Picture) float64 {
	return min(1.2, pictureWidth/p.Width, room/p.Height)
}

// talkTitle is never empty.
func talkTitle(t *show.Talk) string {
	if strings.TrimSpace(t.Title) == "" {
		return "Bodies in equilibrium"
	}
	return t.Title
}
