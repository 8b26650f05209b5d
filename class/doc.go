// Package class holds pupils and what they hand in: it reads class lists, answers and teachers' decisions as
// spreadsheets write them, puts marked work into what a pupil is told and into the picture of a class, and sorts
// pupils into groups to teach again. It has rules only, no storage.
//
// Probabilities are those of package mark: what a pupil's work suggests, never a verdict on it and never a word
// about what the pupil is like.
package class
