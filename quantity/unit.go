package quantity

import "strings"

// A row of the table of units: what is written, what is said, and what is typed for it besides
// the symbol. Spellings are without spaces and multiplication signs.
type unitRow struct {
	Unit
	one, many string
	typed     []string
}

// unitTable is never changed. The symbols are those of the SI Brochure, 9th edition; t and ° are
// among the units it accepts besides the SI (table 8).
var unitTable = []unitRow{
	{Unit{"m", Length, 0}, "metre", "metres", []string{"metre", "metres", "meter", "meters"}},
	{Unit{"cm", Length, -2}, "centimetre", "centimetres", []string{"centimetre", "centimetres", "centimeter", "centimeters"}},
	{Unit{"mm", Length, -3}, "millimetre", "millimetres", []string{"millimetre", "millimetres", "millimeter", "millimeters"}},
	{Unit{"km", Length, 3}, "kilometre", "kilometres", []string{"kilometre", "kilometres", "kilometer", "kilometers"}},
	{Unit{"kg", Mass, 0}, "kilogram", "kilograms", []string{"Kg", "KG", "kgs", "kilogram", "kilograms", "kilogramme", "kilogrammes"}},
	{Unit{"g", Mass, -3}, "gram", "grams", []string{"gram", "grams", "gramme", "grammes"}},
	{Unit{"t", Mass, 3}, "tonne", "tonnes", []string{"tonne", "tonnes"}},
	{Unit{"mg", Mass, -6}, "milligram", "milligrams", []string{"milligram", "milligrams"}},
	{Unit{"N", Force, 0}, "newton", "newtons", []string{"n", "newton", "newtons", "Newton", "Newtons"}},
	{Unit{"kN", Force, 3}, "kilonewton", "kilonewtons", []string{"KN", "kn", "kilonewton", "kilonewtons"}},
	{Unit{"mN", Force, -3}, "millinewton", "millinewtons", []string{"millinewton", "millinewtons"}},
	{Unit{"MN", Force, 6}, "meganewton", "meganewtons", []string{"meganewton", "meganewtons"}},
	{Unit{"N m", Moment, 0}, "newton metre", "newton metres", []string{"Nm", "newtonmetre", "newtonmetres", "newtonmeter", "newtonmeters", "Newtonmetres"}},
	{Unit{"N cm", Moment, -2}, "newton centimetre", "newton centimetres", []string{"Ncm"}},
	{Unit{"N mm", Moment, -3}, "newton millimetre", "newton millimetres", []string{"Nmm"}},
	{Unit{"kN m", Moment, 3}, "kilonewton metre", "kilonewton metres", []string{"kNm"}},
	{Unit{"MN m", Moment, 6}, "meganewton metre", "meganewton metres", []string{"MNm"}},
	{Unit{"mN m", Moment, -3}, "millinewton metre", "millinewton metres", []string{"mNm"}},
	{Unit{"°", Angle, 0}, "degree", "degrees", []string{"deg", "degs", "degree", "degrees", "º"}},
	{Unit{"rad", Angle, 0}, "radian", "radians", []string{"radian", "radians"}},
	{Unit{"N/m", LineLoad, 0}, "newton per metre", "newtons per metre", nil},
	{Unit{"kN/m", LineLoad, 3}, "kilonewton per metre", "kilonewtons per metre", nil},
	{Unit{"N/cm", LineLoad, 2}, "newton per centimetre", "newtons per centimetre", nil},
	{Unit{"N/mm", LineLoad, 3}, "newton per millimetre", "newtons per millimetre", nil},
	{Unit{"kg/m", LineDensity, 0}, "kilogram per metre", "kilograms per metre", nil},
	{Unit{"g/cm", LineDensity, -1}, "gram per centimetre", "grams per centimetre", nil},
	{Unit{"g/m", LineDensity, -3}, "gram per metre", "grams per metre", nil},
	{Unit{"kg/m²", AreaDensity, 0}, "kilogram per square metre", "kilograms per square metre", nil},
	{Unit{"g/cm²", AreaDensity, 1}, "gram per square centimetre", "grams per square centimetre", nil},
	{Unit{"N/kg", Field, 0}, "newton per kilogram", "newtons per kilogram", nil},
	{Unit{"m/s²", Field, 0}, "metre per second squared", "metres per second squared", nil},
}

var unitByName = func() map[string]int {
	m := make(map[string]int)
	for i, r := range unitTable {
		m[r.Symbol] = i
		m[strings.ReplaceAll(r.Symbol, " ", "")] = i
		for _, t := range r.typed {
			m[t] = i
		}
	}
	return m
}()

// SIUnit returns the unit of the SI for a dimension; for an angle the degree, which people type.
func SIUnit(d Dimension) Unit {
	for _, r := range unitTable {
		if r.Dimension == d && (r.Power == 0 && r.Symbol != "g") {
			return r.Unit
		}
	}
	return Unit{}
}

// UnitNamed returns the unit that is typed as symbol: "Nm", "N·m" and "newton metres" are all N m,
// mN is the millinewton, and "m N" with a space is N m.
func UnitNamed(symbol string) (Unit, bool) {
	if i, ok := unitByName[symbol]; ok {
		return unitTable[i].Unit, true
	}
	if i, ok := unitByName[closedUp(symbol)]; ok {
		return unitTable[i].Unit, true
	}
	return Unit{}, false
}

// closedUp writes a unit as typed in the one form that the table holds: no spaces or
// multiplication signs, ² for a square, a solidus for a negative power.
func closedUp(s string) string {
	s = strings.TrimSpace(spaces.Replace(s))
	s = strings.TrimSuffix(s, ".")
	switch s {
	case "m N", "m·N", "m*N", "m.N":
		return "Nm" // a prefix is never apart from its unit, so m is the metre here
	}
	s = powers.Replace(s)
	if n := len(s); n > 2 && s[n-1] == '2' {
		s = s[:n-1] + "²"
	}
	for _, u := range [...]string{"cm", "mm", "kg", "m"} {
		for _, p := range [...]string{"⁻¹", "-1"} {
			if head, ok := strings.CutSuffix(s, u+p); ok && head != "" {
				s = head + "/" + u
			}
		}
	}
	if head, ok := strings.CutSuffix(s, "ms⁻²"); ok && head == "" {
		s = "m/s²"
	}
	if s == "ms-²" {
		s = "m/s²"
	}
	return s
}

var (
	spaces = strings.NewReplacer("\u00a0", " ", "\u2009", " ", "\u202f", " ", "\u2007", " ", "\u200a", " ", "\t", " ")
	powers = strings.NewReplacer(" ", "", "·", "", "⋅", "", "*", "", ".", "", "^", "", "−", "-", "(", "", ")", "")
)

// name returns what is said for a unit.
func (u Unit) name(plural bool) string {
	i, ok := unitByName[u.Symbol]
	switch {
	case !ok:
		return u.Symbol
	case plural:
		return unitTable[i].many
	default:
		return unitTable[i].one
	}
}

// String says what a dimension is, with its article: "a length".
func (d Dimension) String() string {
	switch d {
	case Length:
		return "a length"
	case Mass:
		return "a mass"
	case Force:
		return "a force"
	case Moment:
		return "a moment"
	case Angle:
		return "an angle"
	case LineLoad:
		return "a load for each metre"
	case LineDensity:
		return "a mass for each metre"
	case AreaDensity:
		return "a mass for each square metre"
	case Field:
		return "a field strength"
	}
	return "a plain number"
}

// Example returns a typical quantity of the dimension as people type it.
func (d Dimension) Example() string {
	switch d {
	case Length:
		return "0.60 m"
	case Mass:
		return "55 kg"
	case Force:
		return "540 N"
	case Moment:
		return "8 N m"
	case Angle:
		return "35 deg"
	case LineLoad:
		return "120 N/m"
	case LineDensity:
		return "2.5 kg/m"
	case AreaDensity:
		return "12 kg/m²"
	case Field:
		return "9.81 N/kg"
	}
	return "0.40"
}
