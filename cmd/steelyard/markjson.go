package main

import (
	"bytes"
	"encoding/json"
	"math"

	"steelyard/mark"
	"steelyard/slip"
)

type jsonPupil struct {
	Pupil    string        `json:"pupil"`
	Name     string        `json:"name"`
	Marks    int           `json:"marks"`
	Of       int           `json:"of"`
	Suggests string        `json:"suggests"`
	Suspects []jsonSuspect `json:"suspects"`
	Parts    []mark.Part   `json:"parts"`
}

type jsonSuspect struct {
	Name        string   `json:"name"`
	Of          string   `json:"of,omitempty"`
	Title       string   `json:"title"`
	Ask         string   `json:"ask"`
	Probability number   `json:"probability"`
	Evidence    []string `json:"evidence"`
}

type jsonMarked struct {
	Question string      `json:"question"`
	Policy   []string    `json:"policy"`
	Pupils   []jsonPupil `json:"pupils"`
}

// json writes the marking of all pupils.
func (m *markedClass) json() ([]byte, error) {
	out := jsonMarked{Question: m.question.Title, Policy: m.policy.InWords(), Pupils: []jsonPupil{}}
	for i := range m.results {
		r := &m.results[i]
		marks, of := r.Marks()
		out.Pupils = append(out.Pupils, jsonPupil{r.Code, r.Name, marks, of, suggests(r), suspectsJSON(r.Suspects), r.Parts})
	}
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	err := e.Encode(out)
	return b.Bytes(), err
}

// suspectsJSON lists the slips that a pupil's work suggests over all parts, from one in twenty on.
func suspectsJSON(list []mark.Suspect) []jsonSuspect {
	out := []jsonSuspect{}
	for _, s := range list {
		row := slip.Named(s.Name)
		if row == nil || s.Probability < 0.05 {
			continue
		}
		out = append(out, jsonSuspect{s.Name, s.Of, row.Title, row.Ask, number(math.Round(1e4*s.Probability) / 1e4), append([]string{}, s.Evidence...)})
	}
	return out
}
