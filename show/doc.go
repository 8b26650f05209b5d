// Package show explains a question as at the board, a step at a time: the arrangement, the points named, the forces
// drawn, the pivot chosen and why, each moment with its perpendicular distance and sense, the equation term by term in
// symbols and then in numbers, the result, the other force, the action on the other body, and a check about a third
// point. One talk feeds the page for the projector, the recording, the slides and the handout.
//
// It has no clock, no storage and no pages. Lengths of pictures are in points; values are in SI units.
package show
