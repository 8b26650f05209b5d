package question

// check finds what no single line shows.
func (p *parser) check() {
	q := p.q
	for i := range q.Bodies {
		if q.Bodies[i].Label == "" {
			q.Bodies[i].Label = q.Bodies[i].Name
		}
	}
	p.farEnds()
}

// farEnds puts in the other end of a cable, strut or link that was given by the name of a point.
func (p *parser) farEnds() {
	for i := range p.q.Supports {
		s := &p.q.Supports[i]
		if s.ToPoint == "" {
			continue
		}
		a := p.q.Point(s.ToPoint)
		switch {
		case a == nil:
			p.faultSpan(s.By.Span, "there is no point "+s.ToPoint, didYouMean(s.ToPoint, p.names(pointName)))
		case a.Place.Body == "" && a.Place.XY != nil:
			xy := *a.Place.XY
			s.To = &xy
		case a.Place.Body != "":
			s.By = Place{Body: a.Place.Body, Point: s.ToPoint, Span: s.By.Span, body: s.By.Span}
		}
	}
}

// A nameKind is a kind of named thing.
type nameKind uint8

const (
	bodyName nameKind = 1 << iota
	supportName
	loadName
	pointName
	pieceName
	anyName = bodyName | supportName | loadName | pointName | pieceName
)

// names returns the names of things of the kinds wanted, in the order of the file.
func (p *parser) names(want nameKind) []string {
	var n []string
	q := p.q
	if want&bodyName != 0 {
		for i := range q.Bodies {
			n = append(n, q.Bodies[i].Name)
		}
	}
	if want&supportName != 0 {
		for i := range q.Supports {
			n = append(n, q.Supports[i].Name)
		}
	}
	if want&loadName != 0 {
		for i := range q.Loads {
			n = append(n, q.Loads[i].Name)
		}
	}
	if want&pointName != 0 {
		for i := range q.Points {
			n = append(n, q.Points[i].Name)
		}
	}
	if want&pieceName != 0 {
		for i := range q.Bodies {
			for j := range q.Bodies[i].Pieces {
				n = append(n, q.Bodies[i].Pieces[j].Name)
			}
		}
	}
	return n
}
