package marks

import (
	"strings"

	"steelyard/formula"
	"steelyard/script"
)

// asRead is a line as the marker read it: in words, and as MathML in pieces between which the line may break. Both are
// empty where there are only words in it or it could not be read.
func asRead(text string) (words string, pieces []string) {
	lines := script.Read(text)
	if len(lines) != 1 || lines[0].Unread != "" {
		return "", nil
	}
	n, ok := lines[0].Formula()
	if !ok {
		return "", nil
	}
	return formula.Words(n), formula.Pieces(n)
}

// workingLines are the lines of working that have something in them.
func workingLines(working string) (list []string) {
	for l := range strings.Lines(working) {
		if l = strings.TrimSpace(l); l != "" {
			list = append(list, l)
		}
	}
	return list
}
