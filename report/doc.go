// Package report sets out what came of pupils' work: what a pupil is told, and the picture of a class. The same words go
// onto paper and onto pages.
//
// Probabilities are those of package mark: what work suggests, never a verdict on a pupil.
package report
