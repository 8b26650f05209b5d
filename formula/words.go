package formula

import "strings"

// Words writes n as it is said: no symbol is left in it, and each number stands in it as printed.
func Words(n Node) string {
	return strings.Join(strings.Fields(say(n)), " ")
}

func say(n Node) string {
	switch n.Op {
	case Sym:
		if n.Say != "" {
			return n.Say
		}
		return strings.TrimSpace(letter(n.Text) + " " + letter(n.Sub))
	case Num:
		return number(n)
	case Word:
		return Spoken(n.Text)
	case Gap:
		return "blank " + unitWords(n.Unit, true)
	case Sum:
		var b strings.Builder
		for i, a := range n.Args {
			sign, a := signed(a)
			switch {
			case sign == "−":
				b.WriteString(" minus ")
			case i > 0:
				b.WriteString(" plus ")
			}
			b.WriteString(sayIn(a, sign == "−" && a.Op == Sum))
		}
		return b.String()
	case Product:
		said := make([]string, len(n.Args))
		for i, a := range n.Args {
			said[i] = sayIn(a, a.Op == Sum || a.Op == Neg)
		}
		return strings.Join(said, " times ")
	case Over:
		if short(n.Args[0]) && short(n.Args[1]) {
			return say(n.Args[0]) + " over " + say(n.Args[1])
		}
		return say(n.Args[0]) + ", all over " + say(n.Args[1])
	case Neg:
		return "minus " + sayIn(n.Args[0], n.Args[0].Op == Sum)
	case Power:
		if n.Unit != "" {
			bare := n
			bare.Unit = ""
			return say(bare) + " " + unitWords(n.Unit, true)
		}
		if n.Args[1].Op == Num && n.Args[1].Text == "2" {
			return sayIn(n.Args[0], !short(n.Args[0])) + " squared"
		}
		return sayIn(n.Args[0], !short(n.Args[0])) + " to the power " + say(n.Args[1])
	case Root:
		return "the square root of " + sayIn(n.Args[0], !short(n.Args[0]))
	case Func:
		if base, inverse := strings.CutSuffix(n.Text, "⁻¹"); inverse {
			return "the angle whose " + base + " is " + say(n.Args[0])
		}
		return n.Text + " of " + sayIn(n.Args[0], !short(n.Args[0]))
	case Group:
		return sayIn(n.Args[0], true)
	case Equals:
		var b strings.Builder
		for i, a := range n.Args {
			switch {
			case i == 1:
				b.WriteString(" " + relation(n.Text) + " ")
			case i > 1:
				b.WriteString(", which " + relation(n.Text) + " ")
			}
			if a.Op == Equals {
				// A chain of mixed relations: "F is less than μN, which is equal to 352 newtons".
				b.WriteString(say(a.Args[0]) + ", which " + relation(a.Text) + " " + say(Node{Op: Equals, Text: a.Text, Args: a.Args[1:]}))
				continue
			}
			b.WriteString(say(a))
		}
		return b.String()
	}
	return ""
}

func sayIn(n Node, brackets bool) string {
	if !brackets {
		return say(n)
	}
	if n.Op == Group {
		n = n.Args[0]
	}
	return "open bracket, " + say(n) + ", close bracket"
}

func short(n Node) bool { return n.Op == Sym || n.Op == Num || n.Op == Word || n.Op == Gap }

func relation(sign string) string {
	switch sign {
	case "≤":
		return "is less than or equal to"
	case "≥":
		return "is greater than or equal to"
	case "<":
		return "is less than"
	case ">":
		return "is greater than"
	case "≈":
		return "is about"
	}
	return "is equal to"
}

func number(n Node) string {
	digits, minus := strings.CutPrefix(n.Text, "−")
	if !minus {
		digits, minus = strings.CutPrefix(digits, "-")
	}
	said := strings.TrimSpace(closeUp.Replace(digits) + " " + unitWords(n.Unit, digits != "1"))
	if minus {
		return "minus " + said
	}
	return said
}

// unitWords is the unit's name, plural except after exactly 1.
func unitWords(unit string, plural bool) string {
	name, known := unitNames[unit]
	switch {
	case unit == "":
		return ""
	case !known:
		return unit
	case !plural:
		return name.one
	}
	return name.many
}

var closeUp = strings.NewReplacer("\u2009", "", "\u202f", "", "\u00a0", "")

type unitName struct{ one, many string }

var unitNames = map[string]unitName{
	"N": {"newton", "newtons"}, "kN": {"kilonewton", "kilonewtons"}, "mN": {"millinewton", "millinewtons"}, "MN": {"meganewton", "meganewtons"},
	"m": {"metre", "metres"}, "cm": {"centimetre", "centimetres"}, "mm": {"millimetre", "millimetres"}, "km": {"kilometre", "kilometres"},
	"kg": {"kilogram", "kilograms"}, "g": {"gram", "grams"}, "t": {"tonne", "tonnes"},
	"N m": {"newton metre", "newton metres"}, "kN m": {"kilonewton metre", "kilonewton metres"}, "N cm": {"newton centimetre", "newton centimetres"},
	"mN m": {"millinewton metre", "millinewton metres"}, "N mm": {"newton millimetre", "newton millimetres"}, "MN m": {"meganewton metre", "meganewton metres"},
	"°": {"degree", "degrees"}, "rad": {"radian", "radians"}, "%": {"percent", "percent"},
	"N/m": {"newton per metre", "newtons per metre"}, "kN/m": {"kilonewton per metre", "kilonewtons per metre"},
	"N/kg": {"newton per kilogram", "newtons per kilogram"}, "m/s²": {"metre per second squared", "metres per second squared"},
	"kg/m": {"kilogram per metre", "kilograms per metre"}, "kg/m²": {"kilogram per square metre", "kilograms per square metre"},
	"kg m": {"kilogram metre", "kilogram metres"}, "m²": {"square metre", "square metres"}, "m³": {"cubic metre", "cubic metres"}, "cm²": {"square centimetre", "square centimetres"},
	"N/cm": {"newton per centimetre", "newtons per centimetre"}, "g/cm": {"gram per centimetre", "grams per centimetre"}, "g/m": {"gram per metre", "grams per metre"},
	"g/cm²": {"gram per square centimetre", "grams per square centimetre"}, "N/mm": {"newton per millimetre", "newtons per millimetre"},
	"N²": {"newton squared", "newtons squared"},
}

// letter spells a symbol: Greek letters by name, underscores and signs as spaces.
func letter(s string) string {
	if name, ok := greek[s]; ok {
		return name
	}
	return spelt.Replace(s)
}

var spelt = strings.NewReplacer("_", " ", "′", " dash", "-", " ")

var greek = map[string]string{
	"α": "alpha", "β": "beta", "γ": "gamma", "θ": "theta", "φ": "phi", "μ": "mu", "ρ": "rho", "λ": "lambda", "Σ": "the sum of",
}

// Spoken takes the symbols out of a plain sentence with quantities in it: "35°" is "35 degrees" and
// "0.60 m" is "0.60 metres".
func Spoken(text string) string {
	var b strings.Builder
	for text != "" {
		n := 0
		for n < len(text) && (text[n] >= '0' && text[n] <= '9' || text[n] == '.' && n > 0 && n+1 < len(text) && text[n+1] >= '0' && text[n+1] <= '9') {
			n++
		}
		if n == 0 {
			r := []rune(text)[0]
			b.WriteString(spokenRune(r))
			text = text[len(string(r)):]
			continue
		}
		digits := text[:n]
		text = text[n:]
		b.WriteString(digits)
		best, length := "", 0
		for _, unit := range longestFirst {
			for _, space := range []string{"\u00a0", " ", ""} {
				with := space + strings.ReplaceAll(unit, " ", "\u00a0")
				if space == "" && unit != "°" {
					continue
				}
				for _, form := range []string{with, space + unit} {
					if rest, ok := strings.CutPrefix(text, form); ok && len(form) > length && !startsWithLetter(rest) {
						best, length = unit, len(form)
					}
				}
			}
		}
		if length > 0 {
			b.WriteString(" " + unitWords(best, digits != "1"))
			text = text[length:]
		}
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

// longestFirst lists the units that sentences hold.
var longestFirst = []string{"kg/m²", "N/kg", "kg/m", "kN/m", "g/cm", "g/m", "kN m", "N cm", "N m", "N/m", "kN", "N", "kg", "mm", "cm", "m²", "m", "g", "t", "°", "%"}

func startsWithLetter(s string) bool {
	return s != "" && (s[0] >= 'a' && s[0] <= 'z' || s[0] >= 'A' && s[0] <= 'Z')
}

func spokenRune(r rune) string {
	switch r {
	case '×':
		return " times "
	case '÷':
		return " over "
	case '−':
		return " minus "
	case '_':
		return " "
	case '\u00a0':
		return " "
	}
	if name, ok := greek[string(r)]; ok {
		return name
	}
	return string(r)
}
