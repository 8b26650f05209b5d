// Package variant chooses numbers of their own for each pupil, from the ranges of a question: the question
// stays what it is, the numbers are tidy, no two pupils share their answers, and every wrong answer tells
// which slip led to it, as far as numbers can.
//
// A choice is a pure function of the question's text, the seed and the pupils up to this one: a lost sheet
// can be made again years later, whatever the class has grown to. Margins are counted in marking tolerances
// (see slip.Tolerance). Values are in SI units.
package variant
