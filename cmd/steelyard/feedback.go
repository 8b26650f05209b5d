package main

import (
	"fmt"

	"steelyard/class"
	"steelyard/question"
	"steelyard/report"
	"steelyard/sheet"
)

// feedback writes a report for each pupil; solutions puts the worked solution after it.
func (m *markedClass) feedback(solutions bool) ([]sheet.Report, error) {
	reports := make([]sheet.Report, len(m.results))
	items := map[*question.Question]*sheet.Item{}
	for i := range m.results {
		r := &m.results[i]
		reports[i] = report.Feedback(m.question.Title, class.NoteOf(r))
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
