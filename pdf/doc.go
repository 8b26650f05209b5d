// Package pdf writes tagged PDF 1.7 files: text in embedded faces, lines and areas, and the
// structure tree that tells a screen reader what is a heading, a figure or a formula.
//
// Lengths are in points (1/72 inch); x points right and y points DOWN from the top left corner of
// the page, as in package draw. Every mark on a page is made inside a tag ([Page.Begin]) or as an
// artifact ([Page.Artifact]); a mark outside both is a fault that [Document.Bytes] reports.
//
// Files are tagged and built to PDF/UA-1 rules. The same calls give the same bytes: no clock and no
// random number is read, and a date is written only if it is given.
//
// Sources: ISO 32000-1 (PDF 1.7), chapters 7 to 9 and 14.7 to 14.9; ISO 14289-1 (PDF/UA-1), clause 7.
package pdf
