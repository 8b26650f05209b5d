package show

import "slices"

// Stopped is the talk as far as its first arithmetic, for pupils to finish themselves; it ends with a question. A talk
// without arithmetic stops before its first answer.
func (t *Talk) Stopped() *Talk {
	n := slices.IndexFunc(t.Steps, func(s Step) bool { return s.Sum })
	if n <= 0 {
		return t
	}
	out := &Talk{Title: t.Title, Safety: t.Safety, Steps: slices.Clone(t.Steps[:n]), scenes: t.scenes}
	last := out.Steps[n-1]
	last.ID, last.Title, last.New = "yours", "Now you", 0
	last.Ask = "What comes next? Finish it, with the unit, and say which way the force points."
	if last.Kind == Arrangement || last.Kind == Points { // nothing has been written yet
		last.Ask = "How would you go on? Write down what you would do first, and why."
	}
	last.Say = "Now it is your turn. " + last.Ask
	out.Steps = append(out.Steps, last)
	return out
}
