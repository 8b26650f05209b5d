package main

import (
	"fmt"
	"strings"

	"steelyard/class"
	"steelyard/question"
	"steelyard/sheet"
)

// feedback writes a report for each pupil; solutions puts the worked solution after it.
func (m *markedClass) feedback(solutions bool) ([]sheet.Report, error) {
	reports := make([]sheet.Report, len(m.results))
	items := map[*question.Question]*sheet.Item{}
	for i := range m.results {
		r := &m.results[i]
		reports[i] = feedbackOf(m.question.Title, class.NoteOf(r))
		if !solutions {
			continue
		}
		q := m.own[i]
		if items[q] == nil {
			it, err := item(q)
			if err != nil {
				return nil, fmt.Errorf("solving the question of %s: %w", r.Name, err)
			}
			items[q] = &it
		}
		reports[i].Pieces = append(reports[i].Pieces, sheet.Heading{Text: "Worked solution"}, sheet.Solved{Item: items[q]})
	}
	return reports, nil
}

// feedbackOf sets a note out. What was right comes first, marks last: a mark alone tends to be the only thing read.
func feedbackOf(title string, n class.Note) sheet.Report {
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
	put(sheet.Heading{Text: "Marks"}, sheet.Words{Text: fmt.Sprintf("%s. Together %d of %d.", upper(strings.Join(marks, ", ")), n.Marks, n.Of)})
	if n.Think != "" && len(n.Decided) < 3 { // else the page is full
		put(sheet.Heading{Text: "Your reply"}, sheet.Room{Lines: 5})
	}
	return r
}

func upper(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
