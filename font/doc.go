// Package font holds the typefaces that pictures and sheets are set in, and measures text in them.
//
// The faces are part of the program, so a sheet looks the same on every machine: Liberation Serif
// and Liberation Sans for text (SIL Open Font Licence), DejaVu Sans for signs that those two lack.
// Each is read once, on first use. Everything here may be used by many goroutines at once.
//
// Sizes and widths are in points (1/72 inch). Outlines and metrics of size 1 are in ems, y upwards,
// with the origin on the baseline at the glyph's left.
//
// Sources: the OpenType specification 1.9 (tables cmap, glyf, head, hhea, hmtx, kern, loca, maxp, OS/2).
package font
