package marks

import (
	"strings"

	"steelyard/formula"
	"steelyard/script"
)

// asRead writes a line as the marker read it, as MathML; "" where there are only words in it or it could not be read.
func asRead(text string) string {
	lines := script.Read(text)
	if len(lines) != 1 || lines[0].Unread != "" {
		return ""
	}
	n, ok := lines[0].Formula()
	if !ok {
		return ""
	}
	return formula.MathML(n, false)
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
