package show

import "slices"

// Yours is the ID of the last step of a talk that stops, the pupils'.
const Yours = "yours"

// Stopped is the talk as far as its first arithmetic, for pupils to finish themselves; it ends with a question. A talk
// without arithmetic stops before its first answer.
func (t *Talk) Stopped() *Talk {
	return t.upTo(slices.IndexFunc(t.Steps, func(s Step) bool { return s.Sum }))
}

// StoppedIn is the talk as far as the first arithmetic of a part; the parts before it are whole. Where there is no such
// part it is Stopped.
func (t *Talk) StoppedIn(part string) *Talk {
	n := slices.IndexFunc(t.Steps, func(s Step) bool { return s.Sum && s.Part == part })
	if part == "" || n < 0 {
		return t.Stopped()
	}
	return t.upTo(n)
}

// Sums are the parts with arithmetic, where StoppedIn can stop.
func (t *Talk) Sums() (parts []string) {
	for i := range t.Steps {
		if s := &t.Steps[i]; s.Sum && s.Part != "" && !slices.Contains(parts, s.Part) {
			parts = append(parts, s.Part)
		}
	}
	return parts
}

// upTo is the first n steps, and one for the pupils to go on from.
func (t *Talk) upTo(n int) *Talk {
	if n <= 0 {
		return t
	}
	out := &Talk{Title: t.Title, Safety: t.Safety, Steps: slices.Clone(t.Steps[:n]), scenes: t.scenes, plans: t.plans}
	last := out.Steps[n-1]
	last.ID, last.Title, last.New = Yours, "Now you", 0
	last.Ask = "What comes next? Finish it, with the unit, and say which way the force points."
	switch {
	case last.Part != t.Steps[n].Part: // the part begins with its arithmetic
		last.Part, last.Lines = t.Steps[n].Part, nil
		last.Ask = "How would you go on with part (" + last.Part + ")? Write down what you would do first, and why."
	case last.Kind == Arrangement || last.Kind == Points: // nothing has been written yet
		last.Ask = "How would you go on? Write down what you would do first, and why."
	}
	last.Say = "Now it is your turn. " + last.Ask
	out.Steps = append(out.Steps, last)
	return out
}
