// Package slip is the catalogue of pupils' slips: each a change to one of the equations of package
// solution, to a value on the way, or to the last line, with the wrong answers that it leads to.
//
// Values are in SI units: metres, newtons, kilograms, newton metres, radians. A slip is carried through all
// later parts, which go on with the pupil's own wrong value, and is made again wherever it would be.
// Every claim about a pupil is a hypothesis: an answer "fits" a slip, never more.
package slip
