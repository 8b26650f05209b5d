package statics

// A Force is a force that acts at a point, and a couple with it.
type Force struct {
	At     Vec     // m
	Force  Vec     // N
	Couple float64 // N m, anticlockwise positive
}

// cross returns the moment of force f that acts at r from the pivot.
func cross(r, f Vec) float64 { return r.X*f.Y - r.Y*f.X }

// Moment returns the moment about p, in newton metres, anticlockwise positive, of force at at.
func Moment(p, at, force Vec) float64 { return cross(Vec{at.X - p.X, at.Y - p.Y}, force) }

// Balance returns the resultant of forces, in newtons, and their moment about p, in newton metres.
// In equilibrium all of it is zero about every p.
func Balance(p Vec, forces ...Force) (resultant Vec, moment float64) {
	for _, f := range forces {
		resultant.X += f.Force.X
		resultant.Y += f.Force.Y
		moment += Moment(p, f.At, f.Force) + f.Couple
	}
	return resultant, moment
}

// On returns all forces on a body: given, unknown and from joints, as sol has them. Of a solution
// without reactions there are only the given ones.
func (s *System) On(body int, sol *Solution) []Force {
	var out []Force
	for _, f := range s.Loads {
		if f.On == body {
			out = append(out, Force{f.At, f.Force, f.Couple})
		}
	}
	for i, u := range s.Unknowns {
		if u.On == body && i < len(sol.Unknowns) {
			x := sol.Unknowns[i]
			out = append(out, Force{u.At, Vec{x * u.Force.X, x * u.Force.Y}, x * u.Couple})
		}
	}
	for i, j := range s.Joints {
		if i >= len(sol.Reactions) {
			break
		}
		r := sol.Reactions[i]
		switch body {
		case j.On:
			out = append(out, Force{j.At, Vec{r.X, r.Y}, r.Couple})
		case j.By:
			out = append(out, Force{j.At, Vec{-r.X, -r.Y}, -r.Couple})
		}
	}
	return out
}
