// Package statics finds the forces that keep plane rigid bodies in equilibrium, or
// how the bodies start to move where no forces can.
//
// All numbers are in SI units: metres, newtons, newton metres, radians. x points right, y points
// up; anticlockwise moments are positive. Bodies are numbered from 0; Ground is whatever does not move.
// Weights are loads like any other: the package knows no field strength.
//
// [Solve] tells four kinds of answer apart: the forces are fixed ([Unique]); they are, and a contact
// is about to be lost or to slip ([Limit]); equilibrium is possible but bodies that don't bend leave
// the forces open ([NotFixed]), with the least and the greatest that each could be; no forces can
// do it ([NoEquilibrium]), with the motion that starts. [Range], [LeastFriction] and [Extents] find how far a
// load, a place, a coefficient of friction, an angle can go.
//
// Three equations a body, and the limits of contacts, make a linear program. Where no verdict hangs
// on a rounding it is solved in float64. Elsewhere (a third rest, a load exactly where the beam
// tips, no equilibrium at all) it is solved in rationals, where a float64 stands for its shortest
// decimal: 0.6 is 3/5. So a load exactly at the tipping position gives Limit. A number
// with more than twelve significant figures is taken for the rounding of an irrational one, a sine
// or a point of an inclined body; in a system that has one, what is smaller than about 1e-9 of the
// largest force and distance is nothing.
//
// A contact that is rough without end (Mu = +Inf) never slips, but friction needs something that
// presses: with N = 0 it has F = 0. Limits of such contacts are those of contacts as rough as one
// likes, so at the very end of a [Range] N may be 0 with F still there.
//
// Results are for teaching and never for building.
//
// Sources: conditions of equilibrium, OpenStax University Physics vol. 1, §12.1. The proof that no
// forces can do it, read as a motion, is Farkas's lemma and the principle of virtual work (from
// memory); the rule that keeps the simplex from circling is Bland's, 1977 (from memory).
package statics
