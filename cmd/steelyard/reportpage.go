package main

import (
	"fmt"

	"steelyard/class"
	"steelyard/homework"
	"steelyard/report"
	"steelyard/sheet"
)

// report sets the picture of a class out.
func (m *markedClass) report(p class.Picture) (sheet.Report, error) {
	shelf, err := homework.OpenShelf(m.question)
	if err != nil {
		return sheet.Report{}, err
	}
	c := report.Class{Title: m.question.Title, Results: m.results, Picture: p, Shelf: shelf, Follow: typed, More: "steelyard mark lists all of them"}
	return c.Report()
}

// typed are the commands that give a group a question of the bank with numbers of their own.
func typed(name string, pupils int, seed string) []sheet.Piece {
	return []sheet.Piece{sheet.Quote{Lines: []string{fmt.Sprintf("steelyard bank copy %s -o %s.moments", name, name),
		fmt.Sprintf("steelyard vary %s.moments --pupils %d --seed %s -o %s", name, pupils, seed, seed)}}}
}
