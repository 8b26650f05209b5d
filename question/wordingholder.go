package question

import "strings"

// holders says what holds a body to the surroundings, a predicate each: "rests on two supports:
// the left sill P, 0.60 m from its left end, and …". Cables, struts and links are told apart, in
// sentences of their own.
func (w *stem) holders(b *Body) []string {
	var out []string
	for _, k := range [...]Kind{Rest, Floor, Slope, Wall, Pivot, Hinge, Clamp, Meter, Spring, Strap, Roller} {
		var same []*Support
		for i := range w.q.Supports {
			s := &w.q.Supports[i]
			if s.Kind == k && s.On.Body == b.Name && s.By.Body == "" && !s.Above {
				same = append(same, s)
			}
		}
		out = append(out, w.predicates(k, same, b)...)
	}
	for i := range w.q.Supports {
		if s := &w.q.Supports[i]; s.Above && s.On.Body == b.Name && s.By.Body == "" {
			out = append(out, "is held down from above by "+s.a()+after(w.q.where(s.On, "its")))
		}
	}
	return out
}

// predicates are the verbs and phrases for supports of one kind on one body.
func (w *stem) predicates(k Kind, same []*Support, b *Body) []string {
	if len(same) == 0 {
		return nil
	}
	q := w.q
	switch k {
	case Rest, Meter, Spring, Strap, Roller:
		verb := map[Kind]string{Rest: "rests on", Meter: "hangs from", Spring: "hangs from", Strap: "is held by", Roller: "rests on"}[k]
		if len(same) == 1 {
			return []string{verb + " " + same[0].a() + after(q.where(same[0].On, "its")) + q.extra(same[0])}
		}
		var each []string
		for _, s := range same {
			name := s.Name
			if s.Label != "" {
				name = s.the()
			}
			each = append(each, name+q.place(s)+q.extra(s))
		}
		joint := ", and"
		if len(each) > 2 {
			joint = "; and"
		}
		return []string{verb + " " + counted(len(same)) + " " + k.noun() + "s: " + join(each, joint)}
	}
	var out []string
	for _, s := range same {
		out = append(out, q.predicate(s, b))
	}
	return out
}

// predicate is the verb and phrase for one support.
func (q *Question) predicate(s *Support, b *Body) string {
	at := after(q.where(s.On, "its"))
	switch s.Kind {
	case Floor:
		if !s.On.Set() {
			return "stands on " + surface(s, "level floor")
		}
		if s.On.End != NoEnd && b.leans() {
			return "stands with its " + b.end(s.On.End) + " on " + surface(s, "level floor")
		}
		return "stands on " + surface(s, "level floor") + at
	case Slope:
		slope := surface(s, "slope")
		switch {
		case s.Angle.Known() && s.Angle.Value < 0:
			slope += " that falls to the right, at " + strings.TrimPrefix(s.Angle.Quantity.String(), "-") + " to the horizontal"
		case s.Angle.Known():
			slope += " at " + s.Angle.Quantity.String() + " to the horizontal"
		}
		return "stands on " + slope + at
	case Wall:
		if s.On.End != NoEnd && b.Shape == Bar {
			return "leans with its " + b.end(s.On.End) + " against " + surface(s, "upright wall")
		}
		return "leans against " + surface(s, "upright wall") + at
	case Pivot, Hinge:
		if b.Angle.Status == Unknown {
			return "hangs freely from " + s.a() + at
		}
		if s.Kind == Hinge {
			return "is held by " + s.a() + at
		}
		return "can turn freely about " + s.a() + at + q.extra(s)
	case Clamp:
		if s.Label != "" {
			return "is built into " + s.the() + at
		}
		return "is held firmly by " + s.a() + at
	}
	return "is held by " + s.a() + at
}

// surface names a floor, wall or slope with what is known of its friction.
func surface(s *Support, noun string) string {
	if s.Label != "" {
		noun = plainNoun(s.Label)
	}
	switch {
	case s.Rough || s.Mu.Status != Absent:
		noun = "rough " + noun
	default:
		noun = "smooth " + noun
	}
	return indefinite(noun) + " " + s.Name
}

func (q *Question) place(s *Support) string {
	where := q.where(s.On, "its")
	if where == "" {
		return ""
	}
	return ", " + where
}

// extra adds a force that is given, and the direction of one that is not plain.
func (q *Question) extra(s *Support) string {
	out := ""
	if s.Direction != nil {
		out += ", which pushes " + q.way(s.Direction)
	}
	if s.Reading.Known() {
		verb := ", which exerts a force of "
		if s.Kind == Meter {
			verb = ", which reads "
		}
		if out != "" {
			verb = " with a force of "
		}
		out += verb + s.Reading.Quantity.String()
	}
	return out
}

func join(each []string, last string) string {
	s := ""
	for i, e := range each {
		switch {
		case i == 0:
		case i == len(each)-1:
			s += last + " "
		case len(each) > 2:
			s += "; "
		default:
			s += ", "
		}
		s += e
	}
	return s
}

// line describes a cable, strut or link to the surroundings.
func (w *stem) line(s *Support, b *Body) {
	if !s.Kind.line() {
		return
	}
	q := w.q
	name, at := lightRod(s), q.where(s.On, "its")
	given := ""
	switch {
	case s.Reading.Known() && s.Kind == Strut:
		given = "; the thrust in it is " + s.Reading.Quantity.String()
	case s.Reading.Known():
		given = "; the tension in it is " + s.Reading.Quantity.String()
	}
	switch {
	case s.To != nil && s.Kind == Strut:
		from := strings.Replace(q.far(s, b), "its "+b.end(Left), "the "+b.end(Left)+" of "+b.the(), 1)
		w.say(name, " from ", from, ", meets it", after(at), given)
	case s.To != nil && at == "":
		w.say(name, " joins ", b.the(), " to ", q.far(s, b), given)
	case s.To != nil:
		w.say(name, " joins ", b.the(), ", ", at, ", to ", q.far(s, b), given)
	case s.Kind == Strut:
		w.say(name, " pushes on ", b.the(), after(at), ", ", q.way(s.Direction), given)
	default:
		w.say(name, " pulls ", b.the(), after(at), ", ", q.way(s.Direction), given)
	}
}

// lightRod names a cable, strut or link; the weights of the rods are left out.
func lightRod(s *Support) string {
	switch {
	case s.Kind == Cable:
		return s.a()
	case s.Label == "":
		return "a light " + s.Kind.noun() + " " + s.Name
	}
	return "the light " + plainNoun(s.Label) + " " + s.Name
}

// far says where the fixed end of a cable, strut or link is.
func (q *Question) far(s *Support, b *Body) string {
	at := q.fixedPoint(*s.To, b)
	if s.ToPoint == "" {
		return at
	}
	if len(at) > 2 && at[:2] == "a " {
		return "the fixed point " + s.ToPoint + "," + at[len("a fixed point"):]
	}
	return "the point " + s.ToPoint
}

// joint describes what joins two bodies, or rests one on the other.
func (w *stem) joint(s *Support) {
	q := w.q
	on, by := q.Body(s.On.Body), q.Body(s.By.Body)
	if on == nil || by == nil {
		return
	}
	at := q.where(s.On, "its")
	there := q.where(s.By, "its")
	switch s.Kind {
	case Rest, Floor, Slope, Roller:
		verb := " rests on "
		if s.Above {
			verb = " is held down from above by "
		}
		w.say(on.the(), verb, by.the(), " at ", s.Name, ", ", q.where(s.On, ""), " and ", q.where(s.By, ""))
	case Wall:
		w.say(on.the(), ", ", at, ", leans against ", by.the(), " at ", s.Name, ", ", there)
	case Cable, Link, Strut:
		w.say(lightRod(s), " joins ", on.the(), ", ", at, ", to ", by.the(), ", ", there)
	case Clamp:
		w.say(on.the(), ", ", at, ", is fixed firmly to ", by.the(), " at ", s.Name, ", ", there)
	case Hinge, Pivot:
		w.say(on.the(), ", ", at, ", is joined by ", s.a(), " to ", by.the(), ", ", there)
	default:
		w.say(on.the(), ", ", at, ", is held by ", s.a(), " fixed to ", by.the(), ", ", there)
	}
}

// friction says what is known of the friction at a support.
func (w *stem) friction(s *Support) {
	switch {
	case s.Mu.Known():
		w.say("the coefficient of friction at ", s.Name, " is ", s.Mu.Quantity.String())
	case s.Kind == Rest && s.Rough:
		w.say(s.the(), " is rough")
	case s.Kind == Rest && s.Smooth:
		w.say(s.the(), " is smooth")
	}
}
