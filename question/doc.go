// Package question reads and writes question files, the notation in which a teacher describes
// bodies in equilibrium: what there is, what is asked and what may vary. docs/notation.md lists
// every keyword.
//
// Quantities stay as typed, with their unit and figures; nothing is computed here.
package question
