package answer

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"steelyard/quantity"
	"steelyard/question"
	"steelyard/statics"
)

// Check finds what is wrong with a question that only mechanics can tell: nothing holds a body up,
// not enough is given, or a part asks for what equilibrium does not fix. Faults stop the question
// from being used; warnings do not.
func Check(q *question.Question) (faults, warnings question.Faults) {
	faults = append(faults, unheld(q)...)
	if len(faults) > 0 {
		return inFile(q, faults), nil
	}
	a, err := Solve(q)
	if err != nil {
		var fs question.Faults
		if errors.As(err, &fs) {
			return inFile(q, fs), nil
		}
		return inFile(q, question.Faults{{What: err.Error()}}), nil
	}
	faults = append(faults, a.tooLittle()...)
	for i := range a.Results {
		r := &a.Results[i]
		if f, wrong := r.shownWrong(); wrong {
			faults = append(faults, f)
		}
		switch {
		case a.State == statics.NoEquilibrium && r.Part.Ask != question.AskWhether && needsForces(r.Part.Ask):
			faults = append(faults, question.Fault{Span: r.Part.Span,
				What: "part " + r.Part.Name + " asks for a force, but nothing holds the bodies still: " + MotionInWords(a.Layout, a.Solution.Motion),
				Mend: "hold them better, move a load, or ask: find whether it stays"})
		case a.State == statics.NotFixed && r.Low != r.High && needsForces(r.Part.Ask):
			warnings = append(warnings, question.Fault{Span: r.Part.Span,
				What: "part " + r.Part.Name + ": " + r.Part.Thing + " is " + r.Shown,
				Mend: "take a support away, or give one of the forces, unless that is the point of the question"})
		}
	}
	for _, w := range a.Warnings {
		warnings = append(warnings, question.Fault{What: w})
	}
	return inFile(q, faults), inFile(q, warnings)
}

// Shows reports whether the answer agrees with the value that the part asks to show: to half of the last place
// that this is printed to, where noughts at the end of a whole number are no places.
func (r *Result) Shows() bool {
	show := r.Part.Show
	place := math.Pow10(-show.Decimals)
	if whole := strings.TrimRight(show.Digits, "0"); show.Decimals == 0 {
		place = math.Pow10(len(show.Digits) - len(whole))
	}
	half := quantity.Quantity{Value: place / 2, Unit: show.Unit}
	return math.Abs(math.Abs(r.Value)-math.Abs(show.SI())) <= half.SI()*(1+1e-9)
}

// shownWrong is the fault of a part that asks to show a value which is not the answer.
func (r *Result) shownWrong() (question.Fault, bool) {
	show := r.Part.Show
	if !show.Known() || math.IsNaN(r.Value) || r.Shows() {
		return question.Fault{}, false
	}
	return question.Fault{Span: show.Span,
		What: "part " + r.Part.Name + " asks to show " + show.Digits + " " + show.Unit.Symbol + ", but the answer is " + r.Shown,
		Mend: "print the answer, or find which number of the question is another than you meant"}, true
}

func inFile(q *question.Question, fs question.Faults) question.Faults {
	var out question.Faults
	errors.As(named(q, fs), &out)
	return out
}

func needsForces(a question.Ask) bool {
	switch a {
	case question.AskForce, question.AskAcross, question.AskUpright, question.AskDirection, question.AskNormal,
		question.AskFriction, question.AskForceOn, question.AskCouple:
		return true
	}
	return false
}

// unheld finds bodies that nothing touches.
func unheld(q *question.Question) question.Faults {
	var out question.Faults
	for i := range q.Bodies {
		b := &q.Bodies[i]
		held := false
		for j := range q.Supports {
			held = held || q.Supports[j].On.Body == b.Name || q.Supports[j].By.Body == b.Name
		}
		if !held && needsHolding(q, b) {
			out = append(out, question.Fault{Span: b.Span, What: "nothing holds " + b.Name + " up",
				Mend: "add what holds it, such as: support P: rest, on " + b.Name + " at 0.60 m"})
		}
	}
	return out
}

// needsHolding: a body of which only the centre of mass, a resultant or a moment is asked needs no support.
func needsHolding(q *question.Question, b *question.Body) bool {
	for i := range q.Parts {
		switch q.Parts[i].Ask {
		case question.AskCentre, question.AskResultant, question.AskMoment, question.AskTotalMoment, question.AskMass, question.AskWeight:
			if b.Shape == question.Frame && q.Parts[i].Ask <= question.AskMass {
				continue
			}
		default:
			return true
		}
	}
	return len(q.Parts) == 0
}

// tooLittle finds unknown numbers that equilibrium does not fix.
func (a *Answers) tooLittle() question.Faults {
	var out question.Faults
	if a.State == statics.NoEquilibrium || len(a.Layout.sought) == 0 {
		return nil
	}
	for _, s := range a.Layout.sought {
		if a.Layout.has(s, a.Layout.found) {
			continue
		}
		var names []string
		for i := range a.Layout.Supports {
			names = append(names, a.Layout.Supports[i].Name)
		}
		out = append(out, question.Fault{Span: spanOf(a.Layout.Question, s.name),
			What: fmt.Sprintf("not enough is given to find %s of %s", s.what, s.name),
			Mend: "give one thing more, such as the force at one of " + strings.Join(names, ", ") + " (reading 6.4 N), or: given P = Q"})
	}
	return out
}

// idleConditions finds conditions that say nothing: a body is about to tip, but has no other support
// from which it could part.
func idleConditions(q *question.Question) error {
	var out question.Faults
	for i := range q.Conditions {
		c := &q.Conditions[i]
		about := q.Support(c.Name)
		if c.Kind != question.AboutToTip || about == nil {
			continue
		}
		parts := false
		for j := range q.Supports {
			s := &q.Supports[j]
			parts = parts || s != about && s.On.Body == about.On.Body && canLift(&Support{Support: s})
		}
		if !parts {
			out = append(out, question.Fault{Span: c.Span,
				What: "nothing but " + c.Name + " holds " + about.On.Body + " in such a way that it could part from it",
				Mend: "leave it out and ask for the limit, such as: find greatest E; what gives first is found with it"})
		}
	}
	if len(out) == 0 {
		return nil
	}
	return out
}

// String says in words what is sought.
func (w what) String() string {
	switch w {
	case seekSize:
		return "the size"
	case seekPlace, seekSupportPlace:
		return "the place"
	case seekCentre:
		return "the centre of mass"
	}
	return "the weight"
}

func spanOf(q *question.Question, name string) question.Span {
	for i := range q.Loads {
		if q.Loads[i].Name == name {
			return q.Loads[i].Span
		}
	}
	for i := range q.Supports {
		if q.Supports[i].Name == name {
			return q.Supports[i].Span
		}
	}
	for i := range q.Bodies {
		if q.Bodies[i].Name == name {
			return q.Bodies[i].Span
		}
	}
	return question.Span{}
}
