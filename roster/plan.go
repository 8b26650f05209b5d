package roster

import (
	"cmp"
	"strings"

	"steelyard/homework"
)

// A Plan is what a list would change in a class. Nothing is ever erased: who is gone is marked as having left.
type Plan struct {
	Add    []Pupil
	Rename []Change
	Back   []Change // marked as having left, and on the list again
	Leave  []homework.Pupil
	Same   []homework.Pupil
	Tie    []homework.Pupil // of the same: found by name, and to be found by the list's identifier from now on
}

// A Change is a pupil with the name that the list has now.
type Change struct {
	Pupil homework.Pupil
	Name  string
}

// Empty says whether nothing would change.
func (p *Plan) Empty() bool { return len(p.Add)+len(p.Rename)+len(p.Back)+len(p.Leave)+len(p.Tie) == 0 }

// Compare finds out what a list would change among the pupils of a class. A pupil is found by identifier, else by
// exactly the same name; never by a name that is only like it. Where the list is whole, who isn't on it leaves.
func Compare(l List, pupils []homework.Pupil) Plan {
	var plan Plan
	met := make([]bool, len(pupils))
	found := make([]int, len(l.Pupils)) // for each line the pupil's number, or -1
	for i, p := range l.Pupils {
		found[i] = seek(pupils, met, func(q homework.Pupil) bool { return p.Source != "" && q.Source == p.Source })
	}
	for i, p := range l.Pupils {
		if found[i] < 0 && p.Name != "" {
			found[i] = seek(pupils, met, func(q homework.Pupil) bool {
				return plain(q.Name) == plain(p.Name) && (p.Source == "" || q.Source == "")
			})
		}
	}
	for i, p := range l.Pupils {
		plan.line(p, pupils, found[i])
	}
	if l.Whole {
		for i, q := range pupils {
			if !met[i] && q.Left.IsZero() {
				plan.Leave = append(plan.Leave, q)
			}
		}
	}
	return plan
}

// line puts one line of a list where it belongs.
func (plan *Plan) line(p Pupil, pupils []homework.Pupil, found int) {
	if found < 0 {
		if !p.Left && !p.Mere && p.Name != "" {
			plan.Add = append(plan.Add, p)
		}
		return
	}
	q := pupils[found]
	tie := q.Source == "" && p.Source != ""
	q.Source = cmp.Or(q.Source, p.Source)
	name := plain(p.Name)
	if name == "" {
		name = q.Name
	}
	switch {
	case p.Left && q.Left.IsZero():
		plan.Leave = append(plan.Leave, q)
	case p.Left:
		plan.Same = append(plan.Same, q)
	case !q.Left.IsZero() && !p.Mere:
		plan.Back = append(plan.Back, Change{q, name})
	case name != plain(q.Name):
		plan.Rename = append(plan.Rename, Change{q, name})
	default:
		plan.Same = append(plan.Same, q)
		if tie {
			plan.Tie = append(plan.Tie, q)
		}
	}
}

// seek finds the first pupil not met yet who fits, those who are still in the class first; -1 if there is none.
func seek(pupils []homework.Pupil, met []bool, fits func(homework.Pupil) bool) int {
	found := -1
	for i, q := range pupils {
		if met[i] || !fits(q) {
			continue
		}
		if q.Left.IsZero() {
			found = i
			break
		}
		if found < 0 {
			found = i
		}
	}
	if found >= 0 {
		met[found] = true
	}
	return found
}

func plain(s string) string { return strings.Join(strings.Fields(s), " ") }
