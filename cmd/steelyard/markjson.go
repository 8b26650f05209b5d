package main

import (
	"bytes"
	"encoding/json"

	"steelyard/mark"
)

type jsonPupil struct {
	Pupil string      `json:"pupil"`
	Name  string      `json:"name"`
	Marks int         `json:"marks"`
	Of    int         `json:"of"`
	Parts []mark.Part `json:"parts"`
}

type jsonMarked struct {
	Question string      `json:"question"`
	Pupils   []jsonPupil `json:"pupils"`
}

// json writes the marking of all pupils.
func (m *markedClass) json() ([]byte, error) {
	out := jsonMarked{Question: m.question.Title, Pupils: []jsonPupil{}}
	for i := range m.results {
		r := &m.results[i]
		marks, of := r.Marks()
		out.Pupils = append(out.Pupils, jsonPupil{r.Code, r.Name, marks, of, r.Parts})
	}
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	err := e.Encode(out)
	return b.Bytes(), err
}
