package question

// Asked is what a part asks for, in the words of the notation: "force P", "furthest K towards left".
func (q *Question) Asked(p *Part) string { return (&writer{q: q}).asked(p) }
