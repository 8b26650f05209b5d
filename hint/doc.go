// Package hint makes the ladder of hints for a part of a question from what a pupil has written so far.
//
// The rungs are those of package solution; this room chooses where the ladder stands: it keeps to the point or the
// balance that the pupil's own lines have begun with, and puts the question of a suspected slip first. A hint asks,
// it never tells.
package hint
