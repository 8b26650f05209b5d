package mark

import (
	"encoding/json"
	"math"
	"strconv"
)

// String is a verdict on a line as a word.
func (v Verdict) String() string {
	return [...]string{"not-read", "right", "carried", "wrong", "statement"}[v]
}

// String is a verdict on an answer as a word.
func (v AnswerVerdict) String() string {
	return [...]string{"none", "not-read", "right", "carried", "wrong", "unit", "figures"}[v]
}

// The form of docs/mark.schema.json.
type jsonPart struct {
	Pupil    string        `json:"pupil"`
	Part     string        `json:"part"`
	Marks    int           `json:"marks"`
	Of       int           `json:"of"`
	Lines    []jsonLine    `json:"lines"`
	Answer   jsonAnswer    `json:"answer"`
	Slips    []jsonSuspect `json:"slips"`
	Ask      bool          `json:"ask_teacher"`
	Why      []string      `json:"why"`
	Override *jsonOverride `json:"override,omitempty"`
}

type jsonLine struct {
	Text    string `json:"text"`
	Verdict string `json:"verdict"`
	Means   string `json:"means"`
	Slip    string `json:"slip"`
	Off     string `json:"off,omitempty"`
}

type jsonAnswer struct {
	Text    string   `json:"text"`
	Value   *float64 `json:"value"`
	Unit    string   `json:"unit"`
	Verdict string   `json:"verdict"`
	Note    string   `json:"note,omitempty"`
}

type jsonSuspect struct {
	Name        string   `json:"name"`
	Of          string   `json:"of,omitempty"`
	Probability float64  `json:"probability"`
	Evidence    []string `json:"evidence"`
}

type jsonOverride struct {
	Mark   int    `json:"mark"`
	Reason string `json:"reason"`
}

// MarshalJSON writes a marked part. The value of the answer is as typed, in its unit; null where there is none.
// The marks are the teacher's where the teacher has decided.
func (p Part) MarshalJSON() ([]byte, error) {
	out := jsonPart{Pupil: p.Pupil, Part: p.Part, Marks: p.Score(), Of: p.Of, Lines: []jsonLine{}, Slips: []jsonSuspect{},
		Ask: p.AskTeacher, Why: p.Why}
	if out.Why == nil {
		out.Why = []string{}
	}
	for i := range p.Lines {
		j := &p.Lines[i]
		out.Lines = append(out.Lines, jsonLine{j.Line.Text, j.Verdict.String(), j.Means, j.Slip, j.Off})
	}
	a := &p.Answer
	out.Answer = jsonAnswer{Text: a.Read.Text, Unit: a.Read.Unit.Symbol, Verdict: a.Verdict.String(), Note: a.Note}
	if v := a.Read.Value; a.Read.Read && !math.IsNaN(v) && !math.IsInf(v, 0) {
		out.Answer.Value = &v
	}
	for _, s := range p.Slips {
		e := s.Evidence
		if e == nil {
			e = []string{}
		}
		v, _ := strconv.ParseFloat(strconv.FormatFloat(s.Probability, 'f', 4, 64), 64)
		out.Slips = append(out.Slips, jsonSuspect{s.Name, s.Of, v, e})
	}
	if o := p.Override; o != nil {
		out.Override = &jsonOverride{o.Mark, o.Reason}
	}
	return json.Marshal(out)
}
