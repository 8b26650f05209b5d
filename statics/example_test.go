package statics_test

import (
	"fmt"

	"steelyard/statics"
)

// A plank of 310 N on two sills, with a lock keeper of 540 N on it.
func ExampleSolve() {
	up, down := statics.Vec{X: 0, Y: 1}, func(n float64) statics.Vec { return statics.Vec{X: 0, Y: -n} }
	at := func(x float64) statics.Vec { return statics.Vec{X: x, Y: 0} }
	plank := statics.System{
		Bodies: 1,
		Loads:  []statics.Load{{On: 0, At: at(2.4), Force: down(310)}, {On: 0, At: at(1.5), Force: down(540)}},
		Joints: []statics.Joint{
			{Kind: statics.Contact, On: 0, By: statics.Ground, At: at(0.6), Normal: up},
			{Kind: statics.Contact, On: 0, By: statics.Ground, At: at(4.2), Normal: up},
		},
	}
	sol, err := statics.Solve(&plank)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("fixed: %t, left %.0f N, right %.0f N\n", sol.State == statics.Unique, sol.Reactions[0].N, sol.Reactions[1].N)

	plank.Loads[1].At = at(5.4) // beyond the tipping position
	if sol, err = statics.Solve(&plank); err != nil {
		fmt.Println(err)
		return
	}
	pivot, _ := sol.Motion.Velocity[0].Pivot()
	fmt.Printf("tips about %.1f m, leaves joint %d\n", pivot.X, sol.Motion.Opens[0])
	// Output:
	// fixed: true, left 560 N, right 290 N
	// tips about 4.2 m, leaves joint 0
}
