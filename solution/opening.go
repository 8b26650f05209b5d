package solution

import (
	"math"
	"slices"

	"steelyard/answer"
	"steelyard/question"
	"steelyard/statics"
)

// A removal is something that is taken away in thought, and how the bodies then start to move.
type removal struct {
	name   string // of the support or the load
	smooth bool   // only its friction is taken away
	body   string // that moves, in words
	gone   string // "the left sill were not there"
	move   answer.Move
}

// opening asks what would happen without a support, or beyond the limit, and then how. Which way it would go is asked,
// not told. What is taken away is what is asked for, else what the equation gives, else what else has a hand in it,
// so long as the bodies really do start to move without it.
func (l *ladder) opening(s *scene, e *Equation, m Move) {
	if beyond := l.beyond(); beyond != "" {
		l.ask("What would " + l.moving(s, e) + " do if " + beyond + "?")
		return
	}
	if r := l.removes(e, m, s); r != nil {
		l.asksWithout(r)
		return
	}
	l.ask("If " + l.moving(s, e) + " did start to turn, what would it turn about?")
}

// takeAway asks what would happen without a support, where anything would.
func (l *ladder) takeAway(support string) {
	if r := l.without(support, false); r != nil {
		l.asksWithout(r)
	}
}

func (l *ladder) asksWithout(r *removal) {
	l.removed = r
	l.ask("What would " + r.body + " do if " + r.gone + "?")
	switch {
	case r.move.Turns && r.move.About != "":
		l.ask("About which point would it turn?")
	case r.move.Turns:
		l.ask("Would it only shift, or turn as well?")
	default:
		l.ask("Which way would it start to move?")
	}
}

// moving is the body that a limit is about.
func (l *ladder) moving(s *scene, e *Equation) string {
	if len(e.Bodies) > 0 {
		return s.bodies(e.Bodies)
	}
	if p := s.l.SupportNamed(l.part.Thing); p != nil {
		return s.body(p.On)
	}
	return s.body(0)
}

// beyond says what goes beyond a limit: "the keeper went a little too far"; "" where nothing gives.
func (l *ladder) beyond() string {
	p, s := l.part, l.main
	if len(l.result.GivingAt) == 0 {
		return ""
	}
	if d := s.l.LoadNamed(p.Thing); d != nil {
		name := s.load(d)
		switch {
		case p.Ask == question.AskFurthest && s.l.Bodies[d.On].Level():
			return name + " stood a little too far out"
		case p.Ask == question.AskFurthest:
			return name + " went a little too far"
		case p.Ask == question.AskRange:
			return name + " stood too near one end"
		case p.Ask == question.AskGreatest && d.Kind == question.Couple, p.Ask == question.AskGreatest && d.Kind == question.Force:
			return s.push(d) + " were a little too strong"
		case p.Ask == question.AskGreatest:
			return name + " were a little too heavy"
		case p.Ask == question.AskLeast && (d.Kind == question.Couple || d.Kind == question.Force):
			return s.push(d) + " were a little too weak"
		case p.Ask == question.AskLeast:
			return name + " were a little too light"
		}
		return ""
	}
	thing := ""
	if q := s.l.SupportNamed(p.Thing); q != nil {
		thing = s.called(q)
	} else if i := s.l.BodyIndex(p.Thing); i >= 0 {
		thing = s.body(i)
	}
	if thing == "" {
		return ""
	}
	if len(s.l.Bodies) == 1 && thing == s.body(0) {
		thing = "it"
	}
	switch {
	case p.OfAngle && p.Ask == question.AskGreatest:
		return thing + " were a little too steep"
	case p.OfAngle && p.Ask == question.AskLeast:
		return thing + " were not quite steep enough"
	case p.Ask == question.AskLeastCoefficient:
		return thing + " were not quite rough enough"
	}
	return ""
}

// load is what the text calls a load: "the crate", or "the puppet A" where there are two.
func (s *scene) load(d *answer.Load) string {
	name := s.thing(d.Load.Label, d.Name)
	for i := range s.l.Loads {
		if o := &s.l.Loads[i]; o.Name != d.Name && o.Load.Label != "" && o.Load.Label == d.Load.Label {
			return name + " " + d.Name
		}
	}
	return name
}

// push is what the text calls a force or a couple that somebody exerts: "the pull of the rope", "the force E".
func (s *scene) push(d *answer.Load) string {
	words := "the force " + d.Name
	if d.Kind == question.Couple {
		words = "the couple " + d.Name
	}
	if d.Load.Label == "" || d.Load.Label == d.Name {
		return words
	}
	return words + " of " + s.thing(d.Load.Label, d.Name)
}

// atTheLimit asks what is about to happen at a limit, and what that says about one of the forces.
func (l *ladder) atTheLimit(s *scene) {
	if len(l.result.GivingAt) == 0 || !l.limits() {
		return
	}
	gives := &l.result.GivingAt[0]
	slips := gives.Slips || l.part.Ask == question.AskLeastCoefficient
	p := l.base(s)
	if p == nil {
		l.ask("At the very limit, what is about to happen?")
		if slips {
			l.ask("How large can the friction be just then?")
		} else {
			l.ask("Which of the forces is zero just then?")
		}
		return
	}
	body := s.body(p.On)
	if p.Mu > 0 { // which of the two comes first is for the pupil to find
		l.ask("In which two ways could " + body + " start to move?")
	} else {
		l.ask("At the very limit, what is about to happen?")
	}
	if slips {
		l.ask("When " + body + " is about to slide, how large is the friction?")
	} else {
		l.ask("When " + body + " is about to topple, at which point of the base does the normal force act?")
	}
}

// limits reports whether a limit is asked for.
func (l *ladder) limits() bool {
	switch l.part.Ask {
	case question.AskFurthest, question.AskRange, question.AskGreatest, question.AskLeast, question.AskLeastCoefficient:
		return true
	}
	return false
}

// base is the flat contact that gives at a limit; nil where another does.
func (l *ladder) base(s *scene) *answer.Support {
	if len(l.result.GivingAt) == 0 {
		return nil
	}
	for i := range s.l.Supports {
		if p := &s.l.Supports[i]; p.Joint == l.result.GivingAt[0].Joint && p.HasFar && answer.IsFace(p.Support, &s.l.Bodies[p.On]) {
			return p
		}
	}
	return nil
}

// removes is what is taken away in thought for an equation; nil where nothing that could be taken away would set the
// bodies in motion.
func (l *ladder) removes(e *Equation, m Move, s *scene) *removal {
	if l.a.State == statics.NoEquilibrium {
		return nil // it moves as it is
	}
	gives, friction := "", l.part.Ask == question.AskFriction || l.part.Ask == question.AskCoefficient
	if m.Gives >= 0 && m.Gives < len(s.unknowns) {
		u := &s.unknowns[m.Gives]
		gives = u.Name
		friction = friction || u.Letter == "F" && s.l.SupportNamed(gives) != nil
	}
	list := []string{l.part.Thing, gives}
	if e.Kind == Moments {
		for i := range e.Terms {
			list = append(list, e.Terms[i].Force.Name)
		}
	}
	for i := range s.l.Supports {
		if on := s.l.Supports[i].On; len(e.Bodies) == 0 || has(e.Bodies, on) {
			list = append(list, s.l.Supports[i].Name)
		}
	}
	var first *removal
	for i, name := range list {
		r := l.without(name, friction && i < 2, e.Bodies...)
		switch {
		case r == nil:
		case e.Kind != Moments || r.move.Turns || i < 2 && l.main.l.SupportNamed(name) != nil:
			return r
		case first == nil:
			first = r
		}
	}
	return first
}

// without takes a support or a load away, or only a contact's friction, and sees what happens; nil where nothing does.
// Where several bodies move, one of those given is told of first.
func (l *ladder) without(name string, smooth bool, bodies ...int) *removal {
	s, lay := l.main, l.a.Layout
	sys := lay.System
	if len(sys.Unknowns) > 0 {
		return nil
	}
	sys.Ties = nil // they tell of the forces that there are, not of what can be
	r := &removal{name: name}
	on := 0
	if p := lay.SupportNamed(name); p != nil {
		r.smooth, on = smooth && p.Mu != 0, p.On
		sys.Joints = slices.Clone(sys.Joints)
		if r.smooth {
			r.gone = s.called(p) + " were smooth"
			sys.Joints[p.Joint].Mu = 0
		} else {
			r.gone = s.loosened(p)
			sys.Joints = slices.Delete(sys.Joints, p.Joint, p.Joint+1)
		}
	} else {
		d := slices.IndexFunc(lay.Loads, func(d answer.Load) bool { return d.Name == name })
		i := -1
		if d >= 0 {
			i = loadAt(lay, d)
		}
		if i < 0 {
			return nil
		}
		r.gone, on = s.unloaded(&lay.Loads[d]), lay.Loads[d].On
		sys.Loads = slices.Delete(slices.Clone(sys.Loads), i, i+1)
	}
	sol, err := statics.Solve(&sys)
	if err != nil || sol.State != statics.NoEquilibrium || sol.Motion == nil {
		return nil
	}
	moves := answer.Moves(lay, sol.Motion)
	if len(moves) == 0 {
		return nil
	}
	r.move = told(lay, moves, on, bodies)
	if r.move.About == name && !r.smooth { // by chance: it is not there
		r.move.About = ""
	}
	r.body = l.bodyNamed(r.move.Body)
	return r
}

// told is the move to tell of: that of the body which lost something, where it is one of those given or none of them moves,
// else that of the last of those given, else the first there is.
func told(l *answer.Layout, moves []answer.Move, lost int, bodies []int) answer.Move {
	order := append([]int{lost}, bodies...) // the last one counts
	if has(bodies, lost) {
		order = append(order, lost)
	}
	best := moves[0]
	for _, i := range order {
		for _, m := range moves {
			if m.Body == l.Bodies[i].Name {
				best = m
			}
		}
	}
	return best
}

// loosened is how a support that holds no more is told of: "the left sill were not there", "the cord were cut".
func (s *scene) loosened(p *answer.Support) string {
	switch {
	case p.Kind == question.Cable, p.Kind == question.Link:
		return s.called(p) + " were cut"
	case p.By < 0:
		return s.called(p) + " were not there"
	case p.Kind == question.Hinge, p.Kind == question.Clamp, p.Kind == question.Pivot:
		return s.called(p) + " came apart"
	}
	return s.body(p.By) + " did not hold it at " + p.Name
}

// unloaded is how a load that is gone is told of: "the crate were taken off".
func (s *scene) unloaded(d *answer.Load) string {
	if d.Kind == question.Force || d.Kind == question.Couple {
		return s.push(d) + " were not there"
	}
	return s.load(d) + " were taken off"
}

// loadAt is the number of load i among the loads of a layout's system, where weights come first; −1 where they do not
// correspond.
func loadAt(l *answer.Layout, i int) int {
	n := i
	for k := range l.Bodies {
		if l.Bodies[k].Weight != 0 {
			n++
		}
	}
	if n >= len(l.System.Loads) {
		return -1
	}
	x, d := &l.System.Loads[n], &l.Loads[i]
	if x.On != d.On || math.Hypot(x.At.X-d.At.X, x.At.Y-d.At.Y) > 1e-9 {
		return -1
	}
	return n
}

// called is a support by its label, or by its side or its kind and its letter.
func (s *scene) called(p *answer.Support) string {
	if p.Label != "" && p.Label != p.Name {
		name := s.thing(p.Label, p.Name)
		for i := range s.l.Supports { // two cords need their letters
			if o := &s.l.Supports[i]; o.Name != p.Name && o.Label == p.Label {
				return name + " " + p.Name
			}
		}
		return name
	}
	if p.Kind != question.Rest { // of which there are mostly two
		return "the " + p.Kind.String() + " " + p.Name
	}
	var other *answer.Support
	for i := range s.l.Supports {
		if x := &s.l.Supports[i]; x.Name != p.Name {
			if other != nil {
				return "the support " + p.Name
			}
			other = x
		}
	}
	switch {
	case other == nil || other.At.X == p.At.X:
		return "the support " + p.Name
	case other.At.X < p.At.X:
		return "the right-hand support " + p.Name
	}
	return "the left-hand support " + p.Name
}
