// Package store keeps what must not be lost: accounts, classes, questions, sets, hand-ins, marks and who
// changed what. It runs on SQLite, in one file, and on PostgreSQL, with one schema and one set of tests.
//
// Each method is one transaction. When a method that writes returns without an error, what it wrote is
// on the disk. Every change leaves a line of history in the same transaction. What isn't there is
// [ErrNotFound]; what somebody else has changed in between is [ErrChanged]; what exists already is [ErrExists].
//
// Drafts, markings that come out as before, passkeys' counters and when a session was last used leave no line of history.
// Neither answers nor hashes are ever in a line; a pupil's name is in the line of its change, until the pupil is erased.
//
// What is newer is told by counting, never by the clock, which may jump: hand-ins and decisions by the order in which they came,
// drafts by their Rev.
//
// Schema: the files in migrations, in order, never edited once released; each adds its sum to testdata/migrations.sum and, in
// testdata/schema-N.sql, data that tests then migrate from. Sources: https://www.sqlite.org/pragma.html, wal.html and
// rescode.html; chapter 13 and appendix A of PostgreSQL's manual; all from memory.
//
// Times are stored as milliseconds since 1970 UTC; identifiers are 128 random bits, as 26 letters and digits.
package store
