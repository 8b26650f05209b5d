package question

import "steelyard/quantity"

// PartWording returns the wording of a part: the author's own with its placeholders filled in, or
// one written from what is asked. Quantities are set as in print.
func PartWording(q *Question, a Part) string {
	if a.Text != "" {
		return quantity.Typeset(q.Fill(a.Text))
	}
	s := q.partSentence(&a)
	if a.Figures > 0 {
		figure := " significant figures."
		if a.Figures == 1 {
			figure = " significant figure."
		}
		s += " Give your answer to " + counted(a.Figures) + figure
	}
	return quantity.Typeset(s)
}

func (q *Question) partSentence(a *Part) string {
	if a.Show.Known() {
		if what := q.asked(a); what != "" {
			return "Show that " + what + " is " + a.Show.Quantity.String() + "."
		}
	}
	switch a.Ask {
	case AskForce:
		return q.forceSentence(a)
	case AskForceOn:
		return "State the size and direction of " + q.asked(a) + "."
	case AskDirection:
		return "Calculate " + q.asked(a) + ", as an angle to the horizontal."
	case AskPosition, AskCentre:
		return q.placeSentence(a)
	case AskFurthest, AskRange:
		return q.limitSentence(a)
	case AskGreatest, AskLeast, AskLeastCoefficient:
		return q.extremeSentence(a)
	case AskMoment:
		return "Calculate " + q.asked(a) + ", and say which way it turns."
	case AskTotalMoment:
		return "Calculate " + q.asked(a) + ", and say which way they turn it."
	case AskResultant:
		return "Find the size of " + q.asked(a) + ", and where it acts."
	case AskWhether:
		return "Decide whether " + q.everything() + " in equilibrium. Explain how you know."
	}
	return "Calculate " + q.asked(a) + "."
}

// asked says what a part asks for: "the force of the left sill P on the footbridge".
func (q *Question) asked(a *Part) string {
	s := q.Support(a.Thing)
	thing := q.the(a.Thing)
	on := ""
	if s != nil {
		thing = s.the()
		if b := q.Body(s.On.Body); b != nil {
			on = " on " + b.the()
		}
	}
	switch a.Ask {
	case AskForce:
		switch {
		case s == nil:
			return "the size of " + thing
		case s.Kind == Strut:
			return "the thrust in " + thing
		case s.Kind.line():
			return "the tension in " + thing
		case s.Kind == Meter:
			return "the reading of " + thing
		}
		if by := q.Body(s.By.Body); by != nil {
			return "the force of " + by.the() + on + " at " + s.Name
		}
		return "the force of " + thing + on
	case AskAcross:
		return "the horizontal component of the force of " + thing + on
	case AskUpright:
		return "the vertical component of the force of " + thing + on
	case AskDirection:
		return "the direction of the force of " + thing + on
	case AskNormal:
		return "the normal contact force of " + thing + on
	case AskFriction:
		return "the friction of " + thing + on
	case AskForceOn:
		if s != nil && s.By.Body != "" {
			other := s.By.Body
			if a.Other == other {
				other = s.On.Body
			}
			return "the force of " + q.the(a.Other) + " on " + q.the(other) + " at " + a.Thing
		}
		return "the force of " + q.the(a.Other) + " on " + thing
	case AskCouple:
		if s != nil {
			return "the couple that " + thing + " exerts" + on
		}
		return "the size of " + thing
	case AskWeight:
		return "the weight of " + thing
	case AskMass:
		return "the mass of " + thing
	case AskSize:
		return "the size of " + thing
	case AskAngle:
		return q.angleOf(a.Thing)
	case AskCoefficient:
		return "the coefficient of friction at " + a.Thing
	case AskLeastCoefficient:
		return "the least coefficient of friction at " + a.Thing
	case AskMoment:
		l := q.Load(a.Thing)
		switch {
		case l != nil && (l.Kind == Force || l.Kind == Couple):
			return "the moment of " + thing + " about " + q.pivotOf(a)
		case s != nil:
			return "the moment of the force of " + thing + on + " about " + q.pivotOf(a)
		}
		return "the moment of the weight of " + thing + " about " + q.pivotOf(a)
	case AskTotalMoment:
		return "the total moment of all weights and loads about " + q.pivotOf(a)
	case AskResultant:
		return "the resultant of the weights and loads on " + thing
	}
	return ""
}

// the names any thing with its article.
func (q *Question) the(name string) string {
	if b := q.Body(name); b != nil {
		return b.the()
	}
	if s := q.Support(name); s != nil {
		return s.the()
	}
	if l := q.Load(name); l != nil {
		return q.theLoad(l)
	}
	if c := q.Piece(name); c != nil {
		if c.Label != "" {
			return "the " + plainNoun(c.Label)
		}
		return "the " + plainNoun(c.Name)
	}
	return name
}

func (q *Question) pivotOf(a *Part) string {
	if a.Other != "" {
		if l := q.Load(a.Other); l != nil {
			return "the place of " + q.theLoad(l)
		}
		return a.Other
	}
	if a.Place.Body == "" && a.Place.XY != nil {
		return "the point " + xyWords(*a.Place.XY)
	}
	where := q.where(a.Place, "")
	if len(where) > 3 && where[:3] == "at " {
		return where[3:]
	}
	return "the point " + where
}

// forceSentence asks for a force, with its direction where that is not plain.
func (q *Question) forceSentence(a *Part) string {
	s := q.Support(a.Thing)
	what := q.asked(a)
	switch {
	case s == nil || s.Kind.line() || s.Kind == Meter || s.Kind == Spring:
		return "Calculate " + what + "."
	case s.Kind == Strap:
		return "Calculate " + what + ", and say which way it acts."
	case s.Kind == Hinge || s.Kind == Clamp || s.Kind == Pivot && q.slanting() || s.Kind.contact() && (s.Rough || s.Mu.Status != Absent) && q.slanting():
		return "Calculate the size and direction of " + what + "."
	}
	return "Calculate " + what + "."
}

// slanting reports whether a force acts that is not vertical, so that others may not be either.
func (q *Question) slanting() bool {
	level := func(d *Direction) bool {
		return d == nil || d.Angle.Status == Absent && (d.Base == Up || d.Base == Down)
	}
	for i := range q.Bodies {
		if q.Bodies[i].Angle.Status != Absent {
			return true
		}
	}
	for i := range q.Supports {
		s := &q.Supports[i]
		if s.Kind.line() && (s.Direction == nil || !level(s.Direction)) || !level(s.Direction) || s.Kind == Wall || s.Kind == Slope {
			return true
		}
	}
	for i := range q.Loads {
		if l := &q.Loads[i]; l.Kind == Force && !level(l.Direction) {
			return true
		}
	}
	return false
}

func (q *Question) placeSentence(a *Part) string {
	if a.Ask == AskCentre {
		b := q.Body(a.Thing)
		switch {
		case b == nil:
			return ""
		case b.Shape == Frame:
			return "Find the centre of mass of " + b.the() + ", as a point (x, y)."
		case b.Rule.Known():
			return "At which mark is the centre of mass of " + b.the() + "?"
		}
		return "How far is the centre of mass of " + b.the() + " from its " + b.zero() + "?"
	}
	b := q.Body(q.placeOf(a.Thing).Body)
	verb := "is"
	if l := q.Load(a.Thing); l != nil {
		if plural(plainNoun(l.Label)) {
			verb = "are"
		}
		if l.Kind == Force {
			verb = "does"
		}
	}
	switch {
	case b == nil:
		return ""
	case verb == "does":
		return "How far from the " + b.zero() + " does " + q.the(a.Thing) + " act?"
	case b.Rule.Known():
		return "At which mark of " + b.the() + " " + verb + " " + q.the(a.Thing) + "?"
	}
	return "How far " + verb + " " + q.the(a.Thing) + " from the " + b.zero() + " of " + b.the() + "?"
}

// limitSentence asks how far a thing can go.
func (q *Question) limitSentence(a *Part) string {
	b := q.Body(q.placeOf(a.Thing).Body)
	if b == nil {
		return ""
	}
	do := "be"
	if l := q.Load(a.Thing); l != nil {
		switch {
		case l.Kind == Force:
			do = "act"
		case l.Hung:
			do = "hang"
		case l.Label != "":
			do = "stand"
		}
	}
	the := q.the(a.Thing)
	before := " before " + q.gives(b, a)
	leaning := b.Shape == Bar && b.Angle.Status != Absent
	switch {
	case a.Ask == AskRange && leaning:
		return "Between which two distances from the " + b.zero() + " can " + the + " " + do + " without " + b.the() + " slipping?"
	case a.Ask == AskRange:
		return "Between which two distances from the " + b.zero() + " can " + the + " " + do + " without " + b.the() + " tipping?"
	case (a.Towards == ToLeft) != b.ZeroRight:
		return "How near to the " + b.zero() + " can " + the + " " + do + before + "?"
	}
	return "How far from the " + b.zero() + " can " + the + " " + do + before + "?"
}

// gives says what happens at the limit when a load moves to one side of a body.
func (q *Question) gives(b *Body, a *Part) string {
	if b.Shape == Bar && b.Angle.Status != Absent {
		return b.the() + " starts to slip"
	}
	last, at := "", 0.0
	for i := range q.Supports {
		s := &q.Supports[i]
		if s.On.Body != b.Name {
			continue
		}
		x, ok := q.along(s.On)
		if s.Kind != Rest || s.Above || !ok {
			return "equilibrium is lost" // something else may give
		}
		if last == "" || (x < at) == (a.Towards == ToLeft) {
			last, at = s.Name, x
		}
	}
	if last == "" {
		return "equilibrium is lost"
	}
	return b.the() + " starts to tip about " + last
}

// extremeSentence asks for a greatest or least weight, angle or coefficient.
func (q *Question) extremeSentence(a *Part) string {
	which := "greatest"
	if a.Ask != AskGreatest {
		which = "least"
	}
	stays := " for which " + q.everything() + " in equilibrium?"
	switch {
	case a.Ask == AskLeastCoefficient:
		return "What is the least coefficient of friction at " + a.Thing + stays
	case a.OfAngle:
		if s := q.Support(a.Thing); s != nil && s.Kind == Slope {
			return "What is the " + which + " angle of " + s.the() + " to the horizontal" + stays
		}
		return "What is the " + which + " angle of " + q.the(a.Thing) + " to the horizontal" + stays
	}
	what := "weight"
	if l := q.Load(a.Thing); l != nil {
		switch {
		case l.Kind != Weight:
			what = "size"
		case l.Mass.Status != Absent:
			what = "mass"
		}
	} else if b := q.Body(a.Thing); b != nil && b.Mass.Status != Absent {
		what = "mass"
	}
	return "What is the " + which + " " + what + " of " + q.the(a.Thing) + stays
}

func (q *Question) angleOf(thing string) string {
	if b := q.Body(thing); b != nil && b.Shape == Frame {
		return "the angle between the x direction of " + b.the() + " and the horizontal"
	}
	return "the angle between " + q.the(thing) + " and the horizontal"
}

// everything names what is to stay in equilibrium, with its verb.
func (q *Question) everything() string {
	if len(q.Bodies) == 1 {
		return q.Bodies[0].the() + " stays"
	}
	return "everything stays"
}
