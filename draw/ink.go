package draw

// An Ink is one of a few greys and colours that keep apart in black and white print and for
// colour-blind readers (a dark blue and a brown red differ in lightness and in blue). Contrast with
// white, by the formula of WCAG 2.2, is at least 4.5:1, except for Faint (3:1, lines only) and the
// three light fills.
type Ink uint8

const (
	None   Ink = iota
	Black      // outlines, text
	Deep       // forces
	Second     // forces found, reactions
	Grey       // dimension lines, at least 4.5:1
	Shade      // light fill of a body
	Mist       // very light fill
	Paper      // white
	Faint      // lines set back, such as forces through the pivot, at least 3:1
)

// inks are the colours, as red, green and blue.
var inks = [...][3]uint8{
	Black:  {0x1a, 0x1a, 0x1a},
	Deep:   {0x0b, 0x3c, 0x7d},
	Second: {0xa8, 0x3a, 0x08},
	Grey:   {0x5c, 0x5c, 0x5c},
	Shade:  {0xe2, 0xe6, 0xea},
	Mist:   {0xf2, 0xf4, 0xf6},
	Paper:  {0xff, 0xff, 0xff},
	Faint:  {0x8a, 0x8a, 0x8a},
}

// RGB returns the ink's red, green and blue, of 255. None and unknown inks are white.
func (i Ink) RGB() (r, g, b uint8) {
	if i == None || int(i) >= len(inks) {
		return 0xff, 0xff, 0xff
	}
	c := inks[i]
	return c[0], c[1], c[2]
}
