// Package store keeps what must not be lost: accounts, classes, questions, sets, hand-ins, marks and who
// changed what. It runs on SQLite, in one file, and on PostgreSQL, with one schema and one set of tests.
//
// Each method is one transaction. When a method that writes returns without an error, what it wrote is
// on the disk. Every change leaves a line of history in the same transaction. What isn't there is
// [ErrNotFound]; what somebody else has changed in between is [ErrChanged]; what exists already is [ErrExists].
//
// Times are stored as milliseconds since 1970 UTC; identifiers are 128 random bits, as 26 letters and digits.
package store
