package solution

import (
	"maps"
	"math"
	"slices"
	"strings"

	"steelyard/answer"
	"steelyard/formula"
	"steelyard/question"
	"steelyard/statics"
)

// limits works out a furthest place, a range, a greatest or least load or angle, or a least coefficient: the
// arrangement just before it gives, where a force has just become zero or friction its greatest value.
func (w *solver) limits(r *answer.Result) []Route {
	p := r.Part
	if routes := w.noLimit(r); routes != nil {
		return routes
	}
	if r.Layout == nil || math.IsNaN(r.Value) {
		return nil
	}
	switch p.Ask {
	case question.AskRange:
		return w.rangeOf(r)
	case question.AskFurthest:
		return w.limitAt(r, r.Layout, r.Giving, limit{placeOf: p.Thing})
	case question.AskGreatest, question.AskLeast:
		if p.OfAngle {
			if s := w.a.Layout.SupportNamed(p.Thing); s != nil {
				return w.slope(r, s)
			}
			return w.limitAt(r, r.Layout, r.Giving, limit{angleOf: p.Thing})
		}
		return w.limitAt(r, r.Layout, r.Giving, limit{weightOf: p.Thing})
	case question.AskLeastCoefficient:
		return w.limitAt(r, r.Layout, []string{p.Thing + " is about to slip"}, limit{muOf: p.Thing})
	}
	return nil
}

// noLimit says why there is no limit, or nil if there is one.
func (w *solver) noLimit(r *answer.Result) []Route {
	p := r.Part
	switch {
	case p.Ask == question.AskLeastCoefficient && math.IsNaN(r.Value) && w.a.State == statics.NoEquilibrium:
		return w.moves(r)
	case p.Ask == question.AskLeastCoefficient && math.IsNaN(r.Value):
		return []Route{w.sentence(r, "Friction at "+p.Thing+" has no hand in what gives here, so a greater coefficient there does not help.")}
	case p.OfAngle && math.IsNaN(r.Value) && math.IsInf(r.High, 1):
		return []Route{w.sentence(r, w.anyAngle(p))}
	case p.OfAngle && math.IsNaN(r.Value) && r.Low < r.High:
		return []Route{w.sentence(r, w.anyAngle(p))}
	case math.IsInf(r.High, 1) && (p.Ask == question.AskGreatest || p.Ask == question.AskLeast):
		return []Route{w.sentence(r, w.anySize(p))}
	case math.IsNaN(r.Value) && p.Ask != question.AskRange && w.a.State == statics.NoEquilibrium:
		return w.moves(r)
	}
	return nil
}

// anyAngle says that nothing gives as an angle grows or shrinks.
func (w *solver) anyAngle(p *question.Part) string {
	way := "steeper"
	if p.Ask == question.AskLeast {
		way = "less steep"
	}
	return "Made " + way + " and " + way + ", it needs no support to do what it cannot: nothing lifts and nothing slips on the way, so there is no limit."
}

// anySize says that nothing gives as a load grows: for each newton more, the supports can take more.
func (w *solver) anySize(p *question.Part) string {
	for i := range w.s.l.Supports {
		if mu := w.s.l.Supports[i].Mu; mu != 0 && !math.IsInf(mu, 0) {
			return "The larger " + p.Thing + " is, the more friction is needed, but the normal forces grow with it, and the friction that there can be with them, at least as fast: nothing ever slips, and nothing lifts."
		}
	}
	return "The larger " + p.Thing + " is, the larger are the forces at the supports, but none of them ever has to do what it cannot: nothing that can only push has to pull, so nothing gives."
}

// limitAt works out one limit in the arrangement l.
func (w *solver) limitAt(r *answer.Result, l *answer.Layout, giving []string, lim limit) []Route {
	reactions, ok := held(withCoefficient(l, lim.muOf, r.Value), r.GivingAt)
	if !ok {
		return nil
	}
	w.gives(l, r, giving, reactions, &lim)
	s := newScene(w.a, l, reactions, r.Part, lim)
	u := -1
	for i := range s.unknowns {
		x := &s.unknowns[i]
		switch {
		case lim.placeOf == x.Name && x.Kind == OfPlace, lim.angleOf == x.Name && x.Kind == OfAngle,
			lim.weightOf == x.Name && (x.Kind == OfForce || x.Kind == OfCouple), lim.muOf == x.Name && x.Kind == OfCoefficient:
			u = i
		}
	}
	if u < 0 {
		return nil
	}
	if len(lim.lifting)+len(lim.slipping)+len(lim.edges) == 0 && lim.muOf == "" {
		switch {
		case only(r):
			return w.onlyThere(r, s, u)
		case lim.placeOf != "":
			return []Route{w.toTheEnd(r, s)}
		case lim.weightOf != "" && r.Value == 0:
			return []Route{w.sentence(r, "Even without "+s.loadWords(lim.weightOf)+" every support can do what is needed: nothing lifts or slips, so it may be left out altogether.")}
		}
		return nil
	}
	begin := func(k *worker) { w.limitWords(k, r, s, lim) }
	known, by := w.carriedOver(s, u, s.l == w.s.l)
	if lim.weightOf != "" && r.Unit == "kg" {
		return w.limitMass(r, s, u, known, begin)
	}
	if routes := w.find(r, s, u, known, by, begin); len(routes) > 0 || lim.angleOf == "" {
		return routes
	}
	return w.tilted(r, s, u, begin)
}

// only reports whether the bodies balance at one value alone, with nothing that gives on either side of it.
func only(r *answer.Result) bool { return strings.HasPrefix(r.Shown, "only ") }

// onlyThere works out the one value at which the bodies balance.
func (w *solver) onlyThere(r *answer.Result, s *scene, u int) []Route {
	begin := func(k *worker) {
		k.step(Setting, say("Nothing here can take up a moment that is left over, so it balances at one value only, neither more nor less."))
	}
	known, by := w.carriedOver(s, u, true)
	if r.Unit == "kg" {
		return w.limitMass(r, s, u, known, begin)
	}
	return w.find(r, s, u, known, by, begin)
}

// carriedOver tells which unknowns of a scene earlier parts have found, where the arrangement is the same.
func (w *solver) carriedOver(s *scene, u int, same bool) ([]bool, []string) {
	known, by := make([]bool, len(s.unknowns)), make([]string, len(s.unknowns))
	if !same {
		return known, by
	}
	for i := range s.unknowns {
		for j := range w.s.unknowns {
			a, b := &s.unknowns[i], &w.s.unknowns[j]
			if i != u && w.known[j] && a.Name == b.Name && a.Letter == b.Letter && a.Kind == b.Kind && math.Abs(a.Value-b.Value) <= 1e-9*math.Abs(b.Value) {
				known[i], by[i] = true, w.by[j]
			}
		}
	}
	return known, by
}

// gives fills in what is about to be lost or to slip.
func (w *solver) gives(l *answer.Layout, r *answer.Result, giving []string, reactions []statics.Reaction, lim *limit) {
	for _, g := range r.GivingAt {
		for i := range l.Supports {
			p := &l.Supports[i]
			if p.Joint != g.Joint || !near(p, reactions[p.Joint], g.Slips, r.Part.Ask == question.AskRange) {
				continue
			}
			if g.Slips {
				lim.slipping = append(lim.slipping, p.Name)
			} else if b := &l.Bodies[p.On]; p.HasFar && answer.IsFace(p.Support, b) {
				corner := b.Length // the corner that stays
				if g.End == 1 {
					corner = 0
				}
				lim.edges = map[string]float64{p.Name: corner}
			} else {
				lim.lifting = append(lim.lifting, p.Name)
			}
		}
	}
}

// near tells at which end of a range a support gives; elsewhere it is known to.
func near(p *answer.Support, r statics.Reaction, slips, ask bool) bool {
	if !ask {
		return true
	}
	size := math.Abs(r.X) + math.Abs(r.Y)
	if slips {
		return math.Abs(math.Abs(r.F)-p.Mu*r.N) < 1e-7*(1+size)
	}
	return math.Abs(r.N) < 1e-7*(1+size) && size < 1e-6
}

// limitWords says what is special at the limit.
func (w *solver) limitWords(k *worker, r *answer.Result, s *scene, lim limit) {
	thing := r.Part.Thing
	doing := map[question.Ask]string{
		question.AskFurthest: "As far as it can go, ", question.AskRange: "At " + w.end + " end of the range, ",
		question.AskGreatest: "At the greatest value, ", question.AskLeast: "At the least value, ",
	}[r.Part.Ask]
	for _, name := range lim.lifting {
		body := s.body(s.l.SupportNamed(name).On)
		stays := s.staying(name, lim)
		words, turn := doing+body+" is about to lift off "+name, " and to tip about "
		if s.l.SupportNamed(name).Kind == question.Cable {
			words, turn = doing+name+" is about to go slack", " and "+body+" to turn about "
		}
		if stays != "" {
			words += turn + stays
		}
		words += ", so the force at " + name + " has just become zero."
		k.mayEarn(zeroing, 0, nil)
		f := s.upright(name)
		letter, sub := "R", name
		if f != nil {
			letter, sub = f.Letter, f.Sub
		}
		k.step(Setting, say(capital(words)), Line{Formula: formula.Equal(formula.Symbol(letter, sub, "the force at "+name, 0), formula.Given("0", "N"))})
	}
	for _, name := range slices.Sorted(maps.Keys(lim.edges)) {
		b := &s.l.Bodies[s.l.SupportNamed(name).On]
		corner := "right"
		if lim.edges[name] == 0 {
			corner = "left"
		}
		k.step(Setting, say(capital(doing)+s.body(s.l.SupportNamed(name).On)+" is about to topple about its lower "+corner+" corner. Only that corner still presses on "+name+", so the normal force acts there, ", s.length(lim.edges[name]), s.from(b)+"."))
	}
	for _, name := range lim.slipping {
		if name == lim.muOf {
			continue
		}
		k.step(Setting, say(capital(doing+s.body(s.l.SupportNamed(name).On)+" is about to slip at "+name+", so friction there has its greatest value.")))
	}
	if lim.muOf != "" {
		k.step(Setting, say("With the least coefficient that will do, "+s.body(s.l.SupportNamed(thing).On)+" is only just held: friction at "+thing+" has its greatest value."))
	}
}

// staying is the one other support that the body turns about, if there is just one.
func (s *scene) staying(lifting string, lim limit) string {
	on := s.l.SupportNamed(lifting).On
	var list []string
	for i := range s.l.Supports {
		p := &s.l.Supports[i]
		if p.On == on && p.Name != lifting && !strings.Contains(" "+strings.Join(lim.lifting, " ")+" ", " "+p.Name+" ") {
			list = append(list, p.Name)
		}
	}
	if len(list) == 1 {
		return list[0]
	}
	return ""
}

// loadWords is what the text calls a load or the weight of a body.
func (s *scene) loadWords(name string) string {
	if f := s.forceNamed(name); f.Words != "" {
		return f.Words
	}
	return name
}

// toTheEnd answers where nothing gives before the end of the body.
func (w *solver) toTheEnd(r *answer.Result, s *scene) Route {
	k := s.worker(nil)
	w.sayAnswer(k, r, "Nothing is about to lift or to slip even with "+s.thing("", r.Part.Thing)+" at the end of the body, so the end itself is the limit.")
	return w.finish(k, r, "trying it at the end itself", nil)
}

// rangeOf works out both ends of a range, one after the other.
func (w *solver) rangeOf(r *answer.Result) []Route {
	if only(r) {
		return w.limitAt(r, r.Layout, r.Giving, limit{placeOf: r.Part.Thing})
	}
	if r.Other == nil {
		return nil
	}
	ends := []*answer.Layout{r.Layout, r.Other}
	first := r.Layout.Bodies[r.Layout.LoadNamed(r.Part.Thing).On]
	if first.ZeroRight {
		ends[0], ends[1] = ends[1], ends[0]
	}
	joined := Route{}
	marks := r.Part.Marks
	for i, l := range ends {
		one := *r
		part := *r.Part
		part.Marks = (marks + 1 - i) / 2
		one.Part = &part
		one.Value = []float64{r.Low, r.High}[i]
		w.end = []string{"one", "the other"}[i]
		routes := w.limitAt(&one, l, r.Giving, limit{placeOf: r.Part.Thing})
		if len(routes) == 0 {
			return nil
		}
		if i > 0 {
			joined.Name += "; "
		}
		joined.Name += routes[0].Name
		joined.Steps = append(joined.Steps, routes[0].Steps...)
		joined.Ends = append(joined.Ends, routes[0].Working)
	}
	joined.Steps = append(joined.Steps, Step{Kind: Reading, Say: say("So " + w.s.thing("", r.Part.Thing) + " may stand " + r.Shown + ".")})
	return []Route{joined}
}

// limitMass finds a weight at the limit, then the mass.
func (w *solver) limitMass(r *answer.Result, s *scene, u int, known []bool, begin func(*worker)) []Route {
	var routes []Route
	for _, p := range s.plans(u, known, 3) {
		k := w.begin(s, known, -1, r, natural, begin)
		if !k.plan(p) {
			continue
		}
		m := k.values[u] / s.l.Field
		k.mayEarn(answering, 0, nil)
		final := s.final(m, "kg", k.way)
		line := Line{Formula: formula.Equal(formula.Symbol("m", "", "the mass", m), formula.Frac(s.number(k.values[u], "N"), fieldNode(s)), s.number(m, "kg"))}
		if more := s.number(m, "kg"); k.way == answer.Nearest || more.Exact && more.Value == final.Value {
			line.Formula.Args[2] = final
		} else if !sameText(final, more) {
			line.Note = "rounded to the safe side: " + formula.Text(final)
		}
		k.step(Result, say("Mass is weight divided by the gravitational field strength."), line)
		routes = append(routes, w.finish(k, r, s.routeName(p, natural), nil))
	}
	return routes
}
