package mark

import (
	"strings"

	"steelyard/script"
)

// readAnswer reads what stands in an answer box.
func readAnswer(text string) script.Answer { return script.ReadAnswer(text) }

// judged reads and judges working for a part; found are the pupil's own earlier values by name.
func (k *Key) judged(x *partKey, working string, found map[string]float64) []Judged {
	if strings.TrimSpace(working) == "" {
		return nil
	}
	lines := script.Read(working)
	if len(lines) == 0 {
		return nil
	}
	return k.Judge(x.Part, lines, found)
}
