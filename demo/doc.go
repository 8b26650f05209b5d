// Package demo fills an empty store with an invented school: two teachers, two classes, and two weeks of homework that
// invented pupils have handed in. They reason through the equations of a question's solution, as pupils do: some rightly,
// some with a slip of the catalogue that they make again and again, some untidily, some so that nobody can read it.
//
// The same seed and time give the same people, codes, sets and hand-ins. Everybody in it is invented; it is for trying
// the program, never for teaching.
package demo
