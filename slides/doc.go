// Package slides writes a talk for taking away: slides as PDF, an editable presentation (odp, pptx), and an editable
// document (odt, docx). All come from the same steps, so they say the same.
//
// One step is one slide: its title, the picture at this stage, and the working so far with what is new marked. The
// script is in the notes. In presentations the pictures are made of lines and words that can be moved and changed, and
// an arrow is one line with a head; in documents they are SVG with a PNG beside it, for programs that show no SVG.
// Formulas are formulas in documents. On slides lines are words with subscripts, and one with a
// fraction is a formula in a place of its own, or a line where it would be too small. There are no macros, no links, no author's
// name, no animations; the same talk gives the same bytes.
//
// Lengths are in points (1/72 inch). Slides are 960 by 540 points, documents A4.
//
// Sources: ISO/IEC 29500-1 and -4 (docx, pptx), OpenDocument 1.3 parts 2 and 3 (odt, odp); sizes of text on slides are
// common practice, no source.
package slides
