package pupil

import (
	"fmt"
	"net/http"

	"steelyard/class"
	"steelyard/homework"
	"steelyard/mark"
	"steelyard/solution"
	"steelyard/web/page"
)

// An outcome is what came of one question: what of it is shown is up to the set.
type outcome struct {
	*theQuestion
	Result   class.Result
	Note     class.Note
	Solution string // HTML; "" if it isn't shown
}

// A came is what came of a set.
type came struct {
	*work
	Outcomes        []outcome
	Marks, Feedback bool // are shown
	Sum, Of         int
}

// marks shows what came of a set: as much of it as the set shows now.
func (r room) marks(w http.ResponseWriter, req *http.Request, v *page.Viewer) error {
	k, err := r.load(req, v)
	if err != nil {
		return err
	}
	c := came{work: k, Marks: k.HandedIn && k.Shows(k.Set.Show.Marks), Feedback: k.HandedIn && k.Shows(k.Set.Show.Feedback)}
	k.handedInOnly()
	solved := k.Shows(k.Set.Show.Solution) && (k.Set.Show.Solution != homework.Released || k.Set.Practice || !k.Open())
	if !c.Marks && !c.Feedback && !solved {
		return page.Go(w, req, "/work/"+k.Set.ID)
	}
	if k.Lost() {
		c.Marks, c.Feedback = false, false
	}
	if err := r.outcomes(req, &c, v.Class); err != nil {
		return err
	}
	if solved {
		for i := range c.Outcomes {
			if c.Outcomes[i].Lost {
				continue
			}
			s, err := c.Outcomes[i].Asked.Solution()
			if err != nil {
				return fmt.Errorf("solving question %d of set %s: %w", i+1, k.Set.ID, err)
			}
			c.Outcomes[i].Solution = solution.HTML(s, 4)
		}
	}
	return page.Write(w, req, v, http.StatusOK, k.page("What came of it: "+k.Set.Title, cameOf(&c)))
}

// handedInOnly puts what was handed in in place of what was typed since.
func (w *work) handedInOnly() {
	for _, p := range w.each() {
		p.Answer, p.Working = "", ""
	}
	for _, a := range w.HandIn.Answers {
		if p := w.part(a.Item, a.Part); p != nil {
			p.Answer, p.Working = a.Answer, a.Working
		}
	}
}

func (r room) outcomes(req *http.Request, c *came, classID string) error {
	decisions, err := r.Store.DecisionsOf(req.Context(), c.Set.ID)
	if err != nil {
		return fmt.Errorf("finding decisions: %w", err)
	}
	theClass, err := r.Store.Class(req.Context(), classID)
	if err != nil {
		return fmt.Errorf("finding a class: %w", err)
	}
	var results []class.Result
	if c.HandedIn && !c.Lost() { // what hangs together is marked together
		if results, err = r.Marker.Results(&c.Set, c.Numbers, c.HandIn, decisions, c.Pupil); err != nil {
			return fmt.Errorf("marking: %w", err)
		}
	}
	for i := range c.Questions {
		o := outcome{theQuestion: &c.Questions[i]}
		if i < len(results) {
			o.Result = results[i]
			if theClass.Plain {
				o.Result.Suspects = nil
			}
			o.Note = class.NoteOf(&o.Result)
			c.Sum, c.Of = c.Sum+o.Note.Marks, c.Of+o.Note.Of
		}
		c.Outcomes = append(c.Outcomes, o)
	}
	return nil
}

// Part is what came of a part; nil if nothing was marked.
func (o *outcome) Part(name string) *mark.Part {
	for i := range o.Result.Parts {
		if o.Result.Parts[i].Part == name {
			return &o.Result.Parts[i]
		}
	}
	return nil
}

// judgedLine is a line of working with a word for how it stands.
func judgedLine(l *mark.Judged) line {
	x := lineOf(&l.Line)
	switch l.Verdict {
	case mark.Right:
		x.verdict = verdict{Sign: "right", Word: "right"}
	case mark.Carried:
		x.verdict = verdict{Sign: "carried", Word: "follows from before"}
	case mark.Wrong:
		x.verdict = verdict{Sign: "wrong", Word: "look again"}
	}
	return x
}
