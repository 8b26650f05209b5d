// Package quantity reads and writes numbers with units as the trade does.
//
// A Quantity remembers how it was typed: its unit and its significant figures, trailing zeros
// included. Values are converted to SI by moving the decimal point of the text, never by
// multiplying floats, so 35 cm is exactly the float64 nearest to 0.35.
//
// Rounding is half away from zero, from the value snapped to 12 significant figures, as school
// books do (2.675 to three figures is 2.68). Writing follows the SI Brochure, 9th edition,
// chapter 5: a space before the unit (none before °), N m and never J for a moment, upright
// units, a thin space between thousands of five digits or more, a zero before the decimal point.
package quantity

// A Dimension is what a unit measures. Moment and energy stay apart: there is no joule here.
type Dimension uint8

const (
	Number      Dimension = iota // a plain number, such as a coefficient of friction
	Length                       // SI: m
	Mass                         // SI: kg
	Force                        // SI: N
	Moment                       // SI: N m
	Angle                        // SI: rad; typed in degrees
	LineLoad                     // SI: N/m
	LineDensity                  // SI: kg/m
	AreaDensity                  // SI: kg/m²
	Field                        // SI: N/kg
)

// A Unit is a unit that people type for a dimension. The zero Unit is that of a plain number.
type Unit struct {
	Symbol    string    // as the SI Brochure writes it: "N m", "cm", "°"
	Dimension Dimension // what it measures
	Power     int       // the SI value is the typed one × 10^Power; angles convert by π/180 instead
}

// A Quantity is a number as a person wrote it.
type Quantity struct {
	Value    float64 // in Unit, not in SI
	Unit     Unit
	Figures  int    // significant figures as written, trailing zeros after a decimal marker included; 0 if exact
	Decimals int    // digits after the decimal marker as written
	Digits   string // the number in plain decimal form ("0.60", "1500", "-4e-3"); "" if it was computed
}
