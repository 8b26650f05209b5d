package slides

import (
	"bytes"
	"fmt"
	"strings"

	"steelyard/draw"
	"steelyard/show"
)

// A document's pictures: their width and the size of their labels, in points; and how fine the PNGs are.
const (
	printWidth = 400.0
	printText  = 10.0
	dpi        = 300.0
)

// An entry is a step as a document has it: under its own heading only what is new.
type entry struct {
	title   string
	picture *image
	say     string
	ask     string
	lines   []row
}

// An image is a picture as a vector and, for programs without SVG, as points.
type image struct {
	n             int // counted from 1
	width, height float64
	title, alt    string
	svg, png      []byte
}

// A handout is a talk as a document has it.
type handout struct {
	title   string
	entries []entry
	images  []*image
	caution string
}

// newHandout makes a document of a talk. A picture that is the one of the step before is not shown again.
func newHandout(t *show.Talk) (*handout, error) {
	h := &handout{title: talkTitle(t), caution: t.Safety}
	var last []byte
	for i, v := range deck(t, printWidth, printText) {
		s := &t.Steps[i]
		e := entry{title: v.title, say: s.Say, ask: s.Ask}
		if i == 0 {
			e.title = s.Title
		}
		if s.ID == "yours" {
			e.ask = "" // it is what is said
		}
		for _, r := range v.lines {
			if r.fresh {
				e.lines = append(e.lines, r)
			}
		}
		v.picture = trimmed(v.picture)
		bare := *v.picture
		bare.Title, bare.Description = "", ""
		if same := draw.SVG(&bare); !bytes.Equal(same, last) {
			last = same
			if err := h.picture(&e, &v); err != nil {
				return nil, err
			}
		}
		h.entries = append(h.entries, e)
	}
	return h, nil
}

func (h *handout) picture(e *entry, v *slide) error {
	png, err := draw.PNG(v.picture, dpi)
	if err != nil {
		return fmt.Errorf("drawing %q: %w", v.title, err)
	}
	e.picture = &image{n: len(h.images) + 1, width: v.picture.Width, height: v.picture.Height, title: strings.TrimSpace(v.picture.Title), alt: v.alt, svg: draw.SVG(v.picture), png: png}
	h.images = append(h.images, e.picture)
	return nil
}

// shrink is how much a picture is scaled to stay within a page of A4.
func (m *image) shrink() float64 { return min(1, 480/m.width, 420/m.height) }

// trimmed is a picture no taller than what is drawn. Its labels have no paper-coloured edge, which some office programs
// paint over the letters.
func trimmed(p *draw.Picture) *draw.Picture {
	at := extent(p.Marks)
	if at.height() < 0 {
		return p
	}
	const edge = 4
	out := *p
	out.ID, out.Height = "", at.height()+2*edge
	out.Marks = placed(p.Marks, 1, 0, edge-at.top)
	return &out
}
