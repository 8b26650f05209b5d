// Package homework is one set from start to end: its questions, the numbers of each pupil, when it
// opens and closes and for whom, what is shown when, what is handed in and what the teacher decides
// about it. It has rules only, no storage, no clock and no pages.
//
// Times are instants, in UTC; the zero time means "not set". Identifiers are the store's.
package homework
