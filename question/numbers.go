package question

// A Number names one number of a question: {"K", "weight"}, {"Q", "at"}.
type Number struct{ Thing, Attribute string }

// Numbers lists the numbers that the question gives, in the order of its lines' kinds: bodies,
// pieces, supports, loads, points. Each can be reached with Value. The distance between the marks of a rule is
// not among them, since it is only drawn.
func (q *Question) Numbers() []Number {
	var out []Number
	add := func(thing string) {
		for _, a := range attributes {
			if v := q.Value(thing, a); a != "marks" && v != nil && v.Known() {
				out = append(out, Number{thing, a})
			}
		}
	}
	for i := range q.Bodies {
		add(q.Bodies[i].Name)
		for j := range q.Bodies[i].Pieces {
			add(q.Bodies[i].Pieces[j].Name)
		}
	}
	for i := range q.Supports {
		add(q.Supports[i].Name)
	}
	for i := range q.Loads {
		add(q.Loads[i].Name)
	}
	for i := range q.Points {
		add(q.Points[i].Name)
	}
	return out
}
