// Package sheet sets paper: question sheets with drawings and room to answer, mark schemes, and
// worked solutions, on A4 or US Letter, in ordinary or in large print.
//
// Lengths are in points (1/72 inch); y points down from the top of the page. Large print (16 point
// and more) is set anew at its size in an upright sans serif face, symbols too, with the drawings
// drawn again for that size; nothing is enlarged as a picture.
//
// Files are tagged and built to PDF/UA-1 rules; drawings and formulas carry their words. The same
// input gives the same bytes.
//
// Sources: UKAAF, "Creating clear print and large print documents" (sizes, sans serif, no italics);
// SI Brochure, 9th edition, 5.3 and 5.4 (symbols); the rest is common practice, no source.
package sheet
