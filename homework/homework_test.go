package homework

import (
	"fmt"
	"time"
)

const footbridge = `question "Lock footbridge"
level 16-18
body plank: uniform, length 4.80 m, weight 280 N, "footbridge"
support P: rest, on plank at 0.70 m, "left sill"
support Q: rest, on plank at 3.50 m, "right sill"
load K: weight 560 N, on plank at 1.30 m, "lock keeper"
part a: find force P marks 3
part b: find force Q marks 1
`

func at(day, hour int) time.Time { return time.Date(2031, 3, day, hour, 0, 0, 0, time.UTC) }

// spring is a set for class 1 that opens on the 3rd and closes on the 17th, 14 days later.
func spring(items ...Item) *Set {
	if len(items) == 0 {
		items = []Item{{Question: "q1", Text: footbridge}}
	}
	return &Set{ID: "s1", Class: "c1", Title: "Spring", Seed: "spring", Opens: at(3, 8), Closes: at(17, 8), Given: at(2, 8), Items: items,
		Show: UsualShow(false)}
}

func pupils(n int) []Pupil {
	out := make([]Pupil, n)
	for i := range out {
		out[i] = Pupil{ID: fmt.Sprintf("p%03d", i+1), Class: "c1", Name: fmt.Sprintf("Pupil %d", i+1)}
	}
	return out
}
