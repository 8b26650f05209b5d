// Package review judges a question as a colleague would who reads it before it is copied: numbers that nobody
// needs, answers at a rounding tie, marks that don't match the work, wording that gives an answer
// away or is too hard to read, and wrong methods that lead to the right answer.
//
// What it says are doubts, never faults: a teacher may have a reason.
package review
