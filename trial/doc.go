// Package trial tries a question out, as one does at the board: moments about any point, a support taken away or a
// floor made smooth, a number changed little by little. A question goes in, and what mechanics says comes out, in
// words, numbers and pictures.
//
// Values are in SI units, angles in radians; lengths of pictures are in points, y down. What a question asks to be
// found counts as found here: it is put in before anything is changed.
//
// Results are for teaching and never for building.
package trial
