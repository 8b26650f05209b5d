// Package uacheck reads a PDF file and lists the rules of PDF/UA-1 that it breaks, as far as a
// machine can tell: clause numbers are those of the common test conditions for ISO 14289-1.
//
// It is our own check, so it never makes a file "conforming"; an outside checker must say that. It
// reads the plain kind of file that package pdf writes (a table of objects, no object streams, no
// encryption) and says so of any other.
package uacheck
