package pupil

import (
	"context"
	"fmt"
	"net/http"
	"strconv"
	"strings"

	"steelyard/formula"
	"steelyard/hint"
	"steelyard/mark"
	"steelyard/slip"
	"steelyard/solution"
	"steelyard/web/page"
)

// A judged is what the marker makes of a part in practice.
type judged struct{ mark.Part }

// judge marks the parts of one question of a practice set as they stand; of other sets nothing is said while they are
// worked on.
func (r room) judge(w *work, item int) error {
	if !w.Set.Practice || !w.Shows(w.Set.Show.Feedback) {
		return nil
	}
	q := &w.Questions[item]
	key, err := r.Marker.Key(&w.Set, item, w.Set.TextFor(item, w.Pupil.ID, w.Numbers))
	if err != nil {
		return fmt.Errorf("making the key of question %d of set %s: %w", q.N, w.Set.ID, err)
	}
	q.key = key
	hands := make([]mark.Hand, len(q.Parts))
	for i := range q.Parts {
		p := &q.Parts[i]
		hands[i] = mark.Hand{Pupil: w.Pupil.ID, Part: p.Name, Answer: p.Answer, Working: p.Working}
	}
	for i, m := range key.Mark(hands) {
		if i < len(q.Parts) {
			q.Parts[i].judged = &judged{m}
		}
	}
	return nil
}

// lines puts verdicts to lines of working. What was wrong gets a question, never the right line.
func (j *judged) lines(list []line) {
	for i := range list {
		if i < len(j.Part.Lines) {
			list[i].verdict = verdictOf(&j.Part.Lines[i])
		}
	}
}

func verdictOf(l *mark.Judged) verdict {
	switch l.Verdict {
	case mark.Right:
		return verdict{Sign: "right", Word: "Right."}
	case mark.Carried:
		return verdict{Sign: "carried", Word: "This follows from your line before."}
	case mark.Wrong:
		v := verdict{Sign: "wrong", Word: "Look at this line again."}
		switch {
		case l.Slip != "":
			if s := slip.Named(l.Slip); s != nil {
				v.Ask = s.Ask
			}
		case l.Means == "arithmetic":
			v.Ask = "What do you get when you work this out once more?"
		case strings.HasPrefix(l.Means, "moments"):
			v.Ask = "Which forces turn the body about that point, which way, and how far from it does each act?"
		case strings.Contains(l.Means, "balance"):
			v.Ask = "Which forces act along that direction, and which way does each point?"
		}
		if v.Ask == "" {
			v.Ask = "Which forces act on the body, and how far is each from the point that you turn about?"
		}
		return v
	}
	return verdict{}
}

func (j *judged) answer(label string) verdict {
	switch j.Answer.Verdict {
	case mark.AnswerRight:
		return verdict{Sign: "right", Word: "Right. Well done."}
	case mark.AnswerCarried:
		return verdict{Sign: "carried", Word: "This follows from your own value before.", Ask: "Is that value right?"}
	case mark.AnswerUnit:
		return verdict{Sign: "doubt", Word: "The number is right.", Ask: "Which unit belongs to it?"}
	case mark.AnswerFigures:
		return verdict{Sign: "doubt", Word: "Right so far.", Ask: "How many figures does the question ask for?"}
	case mark.AnswerWrong:
		if len(j.Slips) > 0 && j.Slips[0].Probability >= mark.Enough {
			if s := slip.Named(j.Slips[0].Name); s != nil {
				return verdict{Sign: "wrong", Word: "Not yet.", Ask: s.Ask}
			}
		}
		return verdict{Sign: "wrong", Word: "Not yet.", Ask: askAgain(label)}
	}
	return verdict{}
}

// askAgain is what to ask about a wrong answer that fits no slip, by what is asked for.
func askAgain(label string) string {
	switch label {
	case "moment":
		return "Which way does each force turn, and how far from the point does it act?"
	case "force", "weight", "mass":
		return "Do the forces balance with this value, and the moments about some other point?"
	case "": // answered in words
		return "What does each force do here, on which body and in which direction? Does your answer agree?"
	}
	return "Do the moments balance with this value?"
}

// A rung is one hint of a part's ladder that the pupil has opened.
type rung struct {
	N    int
	Say  string   // HTML
	Said string   // its line in words; "" where it has none
	Line []string // MathML of the same, in pieces between which it may break
}

// openHint opens the next hint of a part. Which were opened is kept in the history, by set and by pupil; a
// hand-in has no place for it. The work is loaded anew, with what the form has just brought and the pupil's own numbers:
// how far the ladder goes depends on them.
func (r room) openHint(req *http.Request, v *page.Viewer, id string) error {
	w, err := r.load(req, v)
	if err != nil {
		return err
	}
	p := w.named(id)
	if p == nil {
		return page.NotFound
	}
	if !w.Shows(w.Set.Show.Hints) {
		return &page.Refusal{Status: http.StatusForbidden, What: "there are no hints for this set", Mend: "go on without, or ask your teacher"}
	}
	if err := r.judge(w, p.Item); err != nil {
		return err
	}
	if err := r.openHints(req.Context(), w); err != nil {
		return err
	}
	if !p.More {
		return nil
	}
	n := hint.Note{Rung: len(p.Rungs) + 1, Item: p.Item, Part: p.Name}
	if err := r.Store.Note(req.Context(), r.By(v), n.String(), w.Set.ID); err != nil {
		return fmt.Errorf("keeping which hint was opened: %w", err)
	}
	return nil
}

// openHints puts the hints that are open to the parts.
func (r room) openHints(ctx context.Context, w *work) error {
	if !w.Shows(w.Set.Show.Hints) {
		return nil
	}
	events, err := r.Store.History(ctx, w.Pupil.ID, 2000)
	if err != nil {
		return fmt.Errorf("finding which hints were opened: %w", err)
	}
	open := map[string]int{}
	for _, e := range events {
		if n, ok := hint.ReadNote(e.What); ok && e.About == w.Set.ID {
			id := strconv.Itoa(n.Item) + "-" + n.Part
			open[id] = max(open[id], n.Rung)
		}
	}
	for _, p := range w.each() {
		if err := w.Questions[p.Item].climb(p, open[p.ID()]); err != nil {
			return err
		}
	}
	return nil
}

// climb shows the first n hints of a part: in practice from what the pupil has written so far.
func (q *theQuestion) climb(p *part, n int) error {
	ladder, err := q.ladder(p)
	if err != nil {
		return fmt.Errorf("hints for part %s: %w", p.Name, err)
	}
	for i := range ladder[:min(n, len(ladder))] {
		p.Rungs = append(p.Rungs, rungOf(&ladder[i]))
	}
	p.More = n < len(ladder)
	return nil
}

func (q *theQuestion) ladder(p *part) ([]solution.Hint, error) {
	if p.judged == nil {
		return q.Hints(p.Name)
	}
	return hint.Ladder(q.key, p.Name, &p.judged.Part)
}

func rungOf(h *solution.Hint) rung {
	x := rung{N: h.Rung, Say: solution.SayHTML(h.Say)}
	if h.Line != nil {
		x.Said, x.Line = formula.Words(h.Line.Formula), formula.Pieces(h.Line.Formula)
	}
	return x
}
