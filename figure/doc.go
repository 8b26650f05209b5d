// Package figure draws an arrangement of bodies: as the pupil is given it, as free-body diagrams,
// and about a pivot.
//
// All three views come from the same layout. Positions and angles are to scale; symbols have a
// fixed size, so that small things stay legible. Lengths on the page are in points (1/72 inch), x
// right and y down; the layout's are in metres, y up.
//
// No label ever overlaps another or leaves the picture: each takes the best of many places near
// what it names, further ones are tied to it by a thin line, and the picture grows until all fit.
//
// What is drawn how is the common practice of textbooks and of technical drawing (ISO 129-1 for
// dimension lines, from memory).
package figure
