package slip

import (
	"math"

	"steelyard/answer"
	"steelyard/solution"
)

// TakesMethod reports whether the slip takes the place of a whole method, as equal shares do: a later part that
// rests on the same assumption then follows from nothing.
func (s *Slip) TakesMethod() bool { return s.method }

// OnLines reports whether the slip changes a line of working, not only a value or an answer that a line gives.
func (s *Slip) OnLines() bool { return s.line != nil }

// Ways lists plans for the other routes of the solution, without slips: they say what follows when a pupil goes
// on from an own earlier answer by another way. The plan itself follows each part's first route.
func (p *Plan) Ways(s *solution.Solution) (list []*Plan, err error) {
	defer caught(&err)
	most := 0
	for i := range s.Parts {
		most = max(most, len(s.Parts[i].Routes))
	}
	for k := 1; k < most; k++ {
		turned := *s
		turned.Parts = append([]solution.Worked(nil), s.Parts...)
		for i := range turned.Parts {
			if r := turned.Parts[i].Routes; k < len(r) {
				turned.Parts[i].Routes = r[k : k+1]
			}
		}
		way, err := bare(p.Answers, &turned)
		if err != nil {
			return nil, err
		}
		list = append(list, way)
	}
	return list, nil
}

// bare is a plan without cases.
func bare(a *answer.Answers, s *solution.Solution) (*Plan, error) {
	w, err := solution.Arrangement(a)
	if err != nil {
		return nil, err
	}
	p := &Plan{Question: a.Layout.Question, Answers: a}
	p.scenes = append(p.scenes, newScene(w, a.Layout))
	p.two, p.loaded = p.findTwo(), len(onLoads(p)) > 0
	for i := range a.Results {
		p.addPart(i, s)
	}
	p.check()
	return p, nil
}

// Following works all parts out in order as Right does, but goes on from the pupil's own answers: own holds them
// by slot, with the sign of the right answer where they have its direction; NaN where there is none. What is
// written to out is each part's value before the pupil's own answer takes its place.
func (r *Reckoner) Following(out, own []float64) {
	r.own = own
	r.run(nil, out)
	r.own = nil
}

// goOn puts the pupil's own answer in the place of what a part has found. A force put together from several
// components cannot be taken apart again, so nothing is carried there.
func (r *Reckoner) goOn(x *part, number int, found float64) {
	if number < 0 || len(x.forces) > 1 && x.finish != along || len(x.slots) != 1 {
		return
	}
	own := r.own[x.slots[0]]
	if math.IsNaN(own) || found == 0 || math.IsNaN(found) {
		return
	}
	r.values[number] *= own / found
}
