package hint

import (
	"strings"

	"steelyard/mark"
	"steelyard/script"
	"steelyard/slip"
	"steelyard/solution"
)

// Ladder is the ladder for a part. What the pupil has for it so far is marked as m; the zero Part is nothing yet. The
// error says that there is no such part.
func Ladder(k *mark.Key, part string, m *mark.Part) ([]solution.Hint, error) {
	hints, err := solution.HintsFrom(k.Answers, k.Solution, part, begun(m.Lines))
	if err != nil {
		return nil, err
	}
	ask := suspected(m)
	if ask == "" {
		return hints, nil
	}
	list := []solution.Hint{{Rung: 1, Say: []solution.Piece{{Text: ask}}}}
	for _, h := range hints {
		h.Rung++
		list = append(list, h)
	}
	return list, nil
}

// Working is the ladder for a part with lines of working as a pupil has typed them.
func Working(k *mark.Key, part, working string) ([]solution.Hint, error) {
	m := mark.Part{}
	if k.Part(part) >= 0 && strings.TrimSpace(working) != "" {
		m = k.Mark([]mark.Hand{{Part: part, Working: working}})[0]
	}
	return Ladder(k, part, &m)
}

// begun is what the last line that is an equation of equilibrium means. A line with a slip counts too: the point that
// it was meant about is as good as before. Moments go before a balance, since they are what the ladder is about. Words
// such as "moments about Q" count where no line has got that far.
func begun(lines []mark.Judged) string {
	balance := ""
	for i := len(lines) - 1; i >= 0; i-- {
		switch l := &lines[i]; {
		case l.Verdict == mark.NotRead:
		case l.Line.Kind == script.Statement && l.Line.About != "":
			return "moments about " + l.Line.About
		case l.Verdict == mark.Statement:
		case strings.HasPrefix(l.Means, "moments about "):
			return l.Means
		case balance == "" && strings.Contains(l.Means, "balance") && !strings.Contains(l.Means, "the two together"):
			balance = l.Means
		}
	}
	return balance
}

// suspected is the question of the slip that the work suggests; "" where nothing is clear enough to ask about.
func suspected(m *mark.Part) string {
	for i := range m.Lines {
		if s := slip.Named(m.Lines[i].Slip); s != nil && m.Lines[i].Verdict == mark.Wrong {
			return asking(s)
		}
	}
	if wrong := m.Answer.Verdict == mark.AnswerWrong; wrong && len(m.Slips) > 0 && m.Slips[0].Probability >= mark.Enough {
		if s := slip.Named(m.Slips[0].Name); s != nil {
			return asking(s)
		}
	}
	return ""
}

// asking is a slip's question, if it is one.
func asking(s *slip.Slip) string {
	if strings.HasSuffix(s.Ask, "?") {
		return s.Ask
	}
	return ""
}
