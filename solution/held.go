package solution

import (
	"math"
	"slices"

	"steelyard/answer"
	"steelyard/statics"
)

// held finds the forces at a limit. A limit is reached exactly, so that the last digit of a place or an angle
// may lie on the wrong side of it: then what is about to lift may push or pull, what is about to slip acts
// along its limiting line, and a couple that comes out as nothing takes up the last digits.
func held(sys *statics.System, giving []statics.Giving) ([]statics.Reaction, bool) {
	if sol, err := statics.Solve(sys); err == nil && sol.State != statics.NoEquilibrium {
		return sol.Reactions, true
	}
	var slipping []int
	for _, g := range giving {
		if j := sys.Joints[g.Joint]; g.Slips && j.Kind == statics.Contact && !math.IsInf(j.Mu, 0) {
			slipping = append(slipping, g.Joint)
		}
	}
	for signs := range 1 << len(slipping) {
		loose, ok := loosened(sys)
		if !ok {
			return nil, false
		}
		for k, i := range slipping {
			slips(&loose.Joints[i], signs>>k&1 == 1)
		}
		for _, spare := range []bool{len(slipping) > 0, true} {
			if reactions, ok := heldBy(loose, spare); ok {
				return along(sys, reactions), true
			}
		}
	}
	return nil, false
}

// loosened is a system where what can only push or pull may do both, and nothing slips; a flat contact cannot
// be loosened.
func loosened(sys *statics.System) (*statics.System, bool) {
	loose := *sys
	loose.Joints = slices.Clone(sys.Joints)
	for i := range loose.Joints {
		j := &loose.Joints[i]
		switch {
		case j.Kind == statics.Pull || j.Kind == statics.Contact && j.Mu == 0:
			j.Kind = statics.Rod
		case j.Kind == statics.Face:
			return nil, false
		case j.Kind == statics.Contact:
			j.Kind = statics.Hinge
		}
	}
	return &loose, true
}

// slips turns a contact into a rod along the line on which its force acts when it is about to slip.
func slips(j *statics.Joint, back bool) {
	f := j.Mu
	if back {
		f = -f
	}
	size := math.Hypot(1, f)
	j.Kind, j.Normal = statics.Rod, statics.Vec{X: (j.Normal.X + f*j.Normal.Y) / size, Y: (j.Normal.Y - f*j.Normal.X) / size}
}

// heldBy solves a system, with a spare couple for the last digits where that is asked for.
func heldBy(sys *statics.System, spare bool) ([]statics.Reaction, bool) {
	with := *sys
	if spare && len(sys.Joints) > 0 {
		with.Unknowns = append(slices.Clone(sys.Unknowns),
			statics.Unknown{On: sys.Joints[0].On, Couple: 1, Least: math.Inf(-1), Greatest: math.Inf(1)})
	}
	sol, err := statics.Solve(&with)
	if err != nil || sol.State != statics.Unique && sol.State != statics.Limit {
		return nil, false
	}
	if n := len(sol.Unknowns); spare && n > 0 && math.Abs(sol.Unknowns[n-1]) > 1e-6*total(sol.Reactions) {
		return nil, false
	}
	return sol.Reactions, true
}

// along takes reactions back to their parts along and across each surface.
func along(sys *statics.System, reactions []statics.Reaction) []statics.Reaction {
	for i := range reactions {
		r, n := &reactions[i], sys.Joints[i].Normal
		if sys.Joints[i].Kind == statics.Contact || sys.Joints[i].Kind == statics.Pull {
			r.N, r.F = r.X*n.X+r.Y*n.Y, r.X*n.Y-r.Y*n.X
		}
	}
	return reactions
}

func total(list []statics.Reaction) float64 {
	sum := 0.0
	for _, r := range list {
		sum += math.Abs(r.X) + math.Abs(r.Y)
	}
	return sum
}

// withCoefficient is the system of a layout where the coefficient of one contact is as found, a trifle more for
// the last digits.
func withCoefficient(l *answer.Layout, support string, mu float64) *statics.System {
	p := l.SupportNamed(support)
	if p == nil {
		return &l.System
	}
	sys := l.System
	sys.Joints = slices.Clone(sys.Joints)
	sys.Joints[p.Joint].Mu = mu * (1 + 1e-9)
	return &sys
}
