package classes

import (
	"slices"
	"strings"

	"steelyard/font"
	"steelyard/homework"
	"steelyard/pdf"
)

// Slips on A4, in points: two columns of four, and one column of two for those who have large print.
const (
	pageWidth, pageHeight = 595.28, 841.89
	slipMargin            = 34.0 // what printers leave white, and more
	slipHead              = 26.0 // the line above the slips
	slipWidth             = (pageWidth - 2*slipMargin) / 2
	slipHeight            = (pageHeight - 2*slipMargin - slipHead) / 4
)

// slips is a file of slips to cut out, one for each pupil, those in large print last. Cutting lines are
// dashed, and no part of the text.
func slips(c homework.Class, host string, made []newCode) ([]byte, error) {
	doc := pdf.New(pdf.Info{Title: "Codes of " + c.Name, Language: "en-GB"})
	first := slices.IndexFunc(made, func(n newCode) bool { return large(n.Pupil) == 1 })
	if first < 0 {
		first = len(made)
	}
	lay := func(list []newCode, across, down int, scale float64) {
		for i, n := range list {
			at := i % (across * down)
			if at == 0 {
				head(doc, c)
			}
			pages := doc.Pages()
			s := ticket{pages[len(pages)-1], slipMargin + float64(at%across)*slipWidth*2/float64(across),
				slipMargin + slipHead + float64(at/across)*slipHeight*4/float64(down), slipWidth * 2 / float64(across), slipHeight * 4 / float64(down), scale}
			s.cut()
			s.write(doc.Root().Child(pdf.Sect), c.Code, address(host), n)
		}
	}
	lay(made[:first], 2, 4, 1)
	lay(made[first:], 1, 2, 1.8)
	return doc.Bytes()
}

// head begins a page, with a line for the teacher.
func head(doc *pdf.Document, c homework.Class) {
	p := doc.AddPage(pageWidth, pageHeight)
	text := "Codes of " + c.Name + ": cut along the lines. They can't be printed again."
	if len(doc.Pages()) == 1 {
		p.Begin(doc.Root().Child(pdf.H1))
	} else {
		p.Artifact("Pagination")
	}
	fitted(p, font.Sans, 10, 6, slipMargin, slipMargin+10, pageWidth-2*slipMargin, text)
	p.End()
}

// A ticket is where one slip to cut out lies on a page, and how large its text is.
type ticket struct {
	page                       *pdf.Page
	x, y, width, height, scale float64
}

// cut draws the dashed line around it.
func (s *ticket) cut() {
	s.page.Artifact("Layout")
	s.page.Stroke(pdf.Grey(0.45))
	s.page.LineWidth(0.6)
	s.page.Dash(5, 4)
	s.page.Rectangle(s.x, s.y, s.width, s.height, pdf.Stroked)
	s.page.Dash()
	s.page.End()
}

// write sets the words: name, address, codes, and what to do with them.
func (s *ticket) write(sect *pdf.Element, class, host string, n newCode) {
	k, left := s.scale, s.x+14*s.scale
	width := s.width - 28*k
	y := s.y + 32*k
	line := func(role pdf.Role, face *font.Face, size, least float64, text string) {
		s.page.Begin(sect.Child(role))
		fitted(s.page, face, size*k, least*k, left, y, width, text)
		s.page.End()
	}
	y = s.name(sect, left, y, width, n.Name)
	y += 24 * k
	line(pdf.P, font.Sans, 12, 8, "Your physics work is at")
	y += 18 * k
	line(pdf.P, font.SansBold, 15, 6, host)
	y += 30 * k
	s.pair(sect, left, y, k, "Class code", class)
	y += 29 * k
	s.pair(sect, left, y, k, "Your own code", n.Personal)
	y += 25 * k
	for _, text := range []string{"Keep this slip, and keep your own code to yourself.", "If you lose it, ask your teacher for a new one."} {
		line(pdf.P, font.Sans, 9.5, 7, text)
		y += 12.5 * k
	}
}

// name sets a name in one line, or in two smaller ones, and returns the last line's baseline.
func (s *ticket) name(sect *pdf.Element, x, y, width float64, name string) float64 {
	k := s.scale
	s.page.Begin(sect.Child(pdf.H2))
	defer s.page.End()
	first, second := name, ""
	for font.SansBold.Width(first, 13*k) > width && strings.Contains(first, " ") {
		at := strings.LastIndexByte(first, ' ')
		first, second = first[:at], strings.TrimSpace(first[at:]+" "+second)
	}
	if second == "" {
		fitted(s.page, font.SansBold, 19*k, 7*k, x, y, width, name)
		return y
	}
	fitted(s.page, font.SansBold, 13*k, 7*k, x, y-8*k, width, first+" ")
	fitted(s.page, font.SansBold, 13*k, 7*k, x, y+7*k, width, second)
	return y + 4*k
}

// pair is a label with a code to type.
func (s *ticket) pair(sect *pdf.Element, x, y, k float64, label, code string) {
	s.page.Begin(sect.Child(pdf.P))
	s.page.Text(font.Sans, 12*k, x, y, label+" ")
	s.page.Text(font.SansBold, 23*k, x+90*k, y, code)
	s.page.End()
}

// fitted sets a line of text in the size that it has room for; what is too long even in the least size is cut.
func fitted(p *pdf.Page, face *font.Face, size, least, x, y, width float64, text string) {
	for size > least && face.Width(text, size) > width {
		size -= 0.5
	}
	if face.Width(text, size) > width {
		r := []rune(text)
		for len(r) > 1 && face.Width(string(r)+"…", size) > width {
			r = r[:len(r)-1]
		}
		text = strings.TrimSpace(string(r)) + "…"
	}
	p.Text(face, size, x, y, text)
}
