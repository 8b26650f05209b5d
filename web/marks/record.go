package marks

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"steelyard/homework"
	"steelyard/mark"
	"steelyard/report"
	"steelyard/slip"
)

// A record is what the marker said of one part, as docs/mark.schema.json has it.
type record struct {
	Lines []struct {
		Text    string `json:"text"`
		Verdict string `json:"verdict"`
		Means   string `json:"means"`
		Slip    string `json:"slip"`
		Off     string `json:"off"`
	} `json:"lines"`
	Answer struct {
		Text    string `json:"text"`
		Verdict string `json:"verdict"`
		Note    string `json:"note"`
	} `json:"answer"`
	Slips []suspect `json:"slips"`
	Why   []string  `json:"why"`
}

type suspect struct {
	Name        string   `json:"name"`
	Of          string   `json:"of"`
	Probability float64  `json:"probability"`
	Evidence    []string `json:"evidence"`
}

func recordOf(m *homework.Marking) (r record, err error) {
	if err = json.Unmarshal([]byte(m.Record), &r); err != nil {
		err = fmt.Errorf("reading the marking of item %d part %s of hand-in %s: %w", m.Item, m.Part, m.HandIn, err)
	}
	return r, err
}

// likely are the slips worth showing to a teacher: those of the catalogue that are possible at least, the likeliest first.
func (r *record) likely() (list []suspect) {
	for _, s := range r.Slips {
		if slip.Named(s.Name) != nil && s.Probability >= 0.3 && len(list) < 3 {
			list = append(list, s)
		}
	}
	return list
}

func (s suspect) title() string {
	if s.Of == "" {
		return slip.Named(s.Name).Title
	}
	return slip.Named(s.Name).Title + " (" + s.Of + ")"
}

// sure writes a probability in per cent; none is shown as certain.
func (s suspect) sure() string {
	return report.HowSure(s.Probability)
}

// ask is a question for the pupil that would show whether it is so.
func (s suspect) ask() string { return slip.Named(s.Name).Ask }

// otherWhy are the reasons without the one why the marker asks, for where that has been said.
func (r *record) otherWhy() []string {
	asked := r.whyAsked()
	return slices.DeleteFunc(slices.Clone(r.Why), func(w string) bool { return asked != "" && strings.Contains(w, asked) })
}

// whyAsked is the reason why the marker wants a person.
func (r *record) whyAsked() string { return homework.WhyAsked(&mark.Part{Why: r.Why}) }

// lineVerdict and answerVerdict say a verdict in words, with the class that it is shown by.
func lineVerdict(v string) (words, look string) {
	switch v {
	case "right":
		return "✓ right", "right"
	case "carried":
		return "✓ follows from an earlier line", "carried"
	case "wrong":
		return "✗ not right", "wrong"
	case "statement":
		return "words", "off"
	}
	return "? not read", "doubt"
}

func answerVerdict(v string) (words, look string) {
	switch v {
	case "right":
		return "✓ right", "right"
	case "carried":
		return "✓ follows from an earlier answer", "carried"
	case "wrong":
		return "✗ not right", "wrong"
	case "unit":
		return "✗ unit", "wrong"
	case "figures":
		return "✗ figures", "wrong"
	case "none":
		return "no answer", "off"
	}
	return "? not read", "doubt"
}
