package report

import (
	"fmt"
	"strings"

	"steelyard/class"
	"steelyard/sheet"
)

// Feedback sets a note out. What was right comes first, marks last: a mark alone tends to be the only thing read.
func Feedback(title string, n class.Note) sheet.Report {
	r := sheet.Report{Title: "Feedback for " + n.Name, Kind: title}
	put := func(p ...sheet.Piece) { r.Pieces = append(r.Pieces, p...) }
	put(sheet.Heading{Text: "What was right"}, sheet.List{Items: n.Good})
	if o := n.Off; o != nil {
		put(sheet.Heading{Text: "Where to look again"}, sheet.Words{Text: fmt.Sprintf("In part %s you wrote:", o.Part)},
			sheet.Quote{Lines: []string{o.Quoted}}, sheet.Words{Text: o.Words})
	}
	if n.Think != "" {
		put(sheet.Heading{Text: "A question to think about"}, sheet.Words{Text: n.Think})
	}
	put(sheet.Heading{Text: "What to try next"}, sheet.Words{Text: n.Next})
	if len(n.Decided) > 0 {
		put(sheet.Heading{Text: "Decided by your teacher"}, sheet.List{Items: n.Decided})
	}
	if len(n.Waiting) > 0 {
		put(sheet.Words{Text: "Your teacher will still look at part " + strings.Join(n.Waiting, ", ") + "; the marks may go up."})
	}
	var marks []string
	for _, p := range n.Parts {
		marks = append(marks, fmt.Sprintf("part %s: %d of %d", p.Name, p.Marks, p.Of))
	}
	put(sheet.Heading{Text: "Marks"}, sheet.Words{Text: fmt.Sprintf("%s. Together %d of %d.", Upper(strings.Join(marks, ", ")), n.Marks, n.Of)})
	if n.Think != "" && len(n.Decided) < 3 { // else the page is full
		put(sheet.Heading{Text: "Your reply"}, sheet.Room{Lines: 5})
	}
	return r
}
