package script

import (
	"strings"
	"unicode/utf8"
)

// shortWords are words of English of one to three letters, which would else be read as names.
var shortWords = set(`a an i so at to of is by we if or on in up as no it be do go my he me us am any all the and for its one two own out off not now get got let has had was are can
	may add sum end top low via per use yes how why who but our you see say eq ie eg acw ccw cw anti abt wrt rhs lhs net fig ans ok cos arm beam bar rod`)

// glue are words that stand beside an expression without naming anything in it.
var glue = set(`so therefore hence thus then and also taking take moments moment about abt resolving resolve vertically horizontally vertical horizontal balance equilibrium
	using use since because as we get gives give is this that now from for to in at the a an of on by with let be if or but which it which means let's total sum
	clockwise anticlockwise anti counterclockwise acw ccw cw up upward upwards down downward downwards left right leftwards rightwards . ! ? " ' ✓ ie eg i.e e.g ans answer
	find finding solve solving rearrange rearranging divide both sides where there are no not only first second next step part must equals equal same principle perpendicular
	see say my our you know substitute substituting into put both because when it's its are was has have hence finally forces`)

// nouns can begin the name of a quantity.
var nouns = set(`force reaction tension weight support distance friction normal thrust load mass contact push pull upthrust length coefficient angle moment couple
	component gravity position resultant centre center reading scale torque load`)

func set(s string) map[string]bool {
	m := map[string]bool{}
	for _, w := range strings.Fields(s) {
		m[w] = true
	}
	return m
}

var functions = map[string]string{
	"sin": "sin", "sine": "sin", "cos": "cos", "cosine": "cos", "tan": "tan", "tangent": "tan",
	"arcsin": "asin", "asin": "asin", "arccos": "acos", "acos": "acos", "arctan": "atan", "atan": "atan", "invtan": "atan", "invsin": "asin", "invcos": "acos",
	"sqrt": "sqrt", "root": "sqrt",
}

var greek = map[string]string{"mu": "μ", "theta": "θ", "alpha": "α", "beta": "β", "phi": "φ", "lambda": "λ", "µ": "μ", "ϑ": "θ", "ϕ": "φ"}

// letters reads a run of letters: a word, a name, a function, or several names closed up.
func (x *lexer) letters() {
	i := x.at
	upper := 0
	for i < len(x.s) {
		r, w := utf8.DecodeRuneInString(x.s[i:])
		if !isLetter(r) || subscripts[r] != 0 {
			break
		}
		if r >= 'A' && r <= 'Z' {
			upper++
		}
		i += w
	}
	run := x.s[x.at:i]
	if run == "" { // a lowered letter on its own
		_, w := utf8.DecodeRuneInString(x.rest())
		x.add(strange, x.s[x.at:x.at+w], w)
		return
	}
	lower := strings.ToLower(run)
	switch {
	case x.crossed(run):
	case functions[lower] != "":
		x.add(function, functions[lower], len(run))
	case greek[lower] != "":
		x.name(greek[lower], len(run))
	case !isASCII(run):
		x.foreign(run)
	case i < len(x.s) && x.s[i] == '_':
		x.underscored(run, lower)
	case x.unitAlone():
	case lower == "mg" && run != "MG":
		x.add(symbol, "m", 1)
		x.add(symbol, "g", 1)
	case len(run) == 3 && strings.HasPrefix(run, "mg") && strings.IndexByte("xdls", run[2]) >= 0:
		x.add(symbol, "m", 1)
		x.add(symbol, "g", 1)
		x.add(symbol, run[2:], 1)
	case shortWords[lower] && !(upper > 0 && len(run) == 1 && lower != "i") && !(len(run) == 1 && lower == "a" && !x.wordFollows(i)) && !(len(run) == 2 && upper == 2):
		x.add(word, lower, len(run))
	case x.withFunction(run, lower):
	case strings.HasPrefix(lower, "mu") && len(run) == 3 && run[2] >= 'A' && run[2] <= 'Z':
		x.name("μ", 2)
		x.name(run[2:], 1)
	case len(run) == 1:
		x.name(run, 1)
	case len(run) == 2 && (upper > 0 || strings.ContainsRune("rftnwxyhvds", rune(run[0]))):
		x.name(run, 2)
	case len(run) <= 4 && upper >= 1 && upper < len(run) && run[0] >= 'A' && run[0] <= 'Z' && upper >= 2,
		len(run) == 3 && upper >= 1 && strings.ContainsRune("RFTNWXYHVS", rune(run[0])) && strings.ContainsRune("xyXYhvHV", rune(run[2])),
		len(run) == 3 && upper == 3:
		x.name(run, len(run))
	default:
		if lower == "equals" {
			x.add(relation, "=", len(run))
			x.last().word = true
			return
		}
		if lower == "times" {
			x.add(operator, "*", len(run))
			x.last().word = true
			return
		}
		if (lower == "plus" || lower == "minus") && len(x.tokens) > 0 {
			x.add(operator, map[string]string{"plus": "+", "minus": "-"}[lower], len(run))
			return
		}
		x.add(word, lower, len(run))
		x.last().lettered = upper == 1 && strings.IndexByte("WRTFNVHM", run[0]) >= 0 && !glue[lower] && !nouns[lower] && !nouns[strings.TrimSuffix(lower, "s")]
	}
}

func isASCII(s string) bool {
	for i := range len(s) {
		if s[i] >= utf8.RuneSelf {
			return false
		}
	}
	return true
}

// crossed reads x and X: as a times sign closed up to a name (RBx2.4, Tx1.4), or alone.
func (x *lexer) crossed(run string) bool {
	t := x.last()
	if k := t.kind; len(run) > 1 && run[0] == 'x' && t.to == x.at && (k == number || k == closing) &&
		(run[1] >= 'A' && run[1] <= 'Z' || functions[run[1:]] != "" || len(run) == 2 && (lone(x.s[x.at+1:]) || x.at+2 < len(x.s) && x.s[x.at+2] == '_')) || len(run) > 1 && len(run) <= 3 && run[0] == 'x' && run[1] >= 'A' && run[1] <= 'Z' && (k == number || k == closing) {
		x.add(symbol, "x", 1) // 1.8xT_U
		x.last().cross = true
		return true
	}
	switch last := run[len(run)-1]; {
	case last != 'x' && last != 'X':
		return false
	case len(run) == 1:
		next := x.at + 1
		if next < len(x.s) && x.s[next] == '_' {
			return false
		}
		if r, _ := utf8.DecodeRuneInString(x.s[next:]); next < len(x.s) && subscripts[r] != 0 {
			return false
		}
		x.add(symbol, run, 1)
		x.last().cross = true
		return true
	case len(run) <= 4 && len(run) >= 2:
		next := x.at + len(run)
		if next >= len(x.s) || !isDigit(x.s[next]) && x.s[next] != '.' {
			return false
		}
		head := run[:len(run)-1]
		if u, w := unitAt(head); w == len(head) && u.Symbol != "" && x.last().kind == number {
			return false
		}
		x.name(head, len(head))
		x.add(symbol, "x", 1)
		x.last().cross = true
		return true
	}
	return false
}

// name adds a symbol of so many bytes, with whatever stands below it.
func (x *lexer) name(text string, width int) {
	from := x.at
	x.add(symbol, text, width)
	x.subscript(from, text)
}

// subscript reads _B, _{plank}, ₁ and digits closed up: R1.
func (x *lexer) subscript(from int, text string) {
	t := x.last()
	s := x.s
	i := t.to
	if i < len(s) && s[i] == '_' {
		i++
		k := i
		if i < len(s) && (s[i] == '{' || s[i] == '(') {
			close := byte('}')
			if s[i] == '(' {
				close = ')'
			}
			if j := strings.IndexByte(s[i:min(len(s), i+32)], close); j > 0 {
				t.text = text + "_" + strings.TrimSpace(s[i+1:i+j])
				t.to, x.at = i+j+1, i+j+1
				return
			}
		}
		for i < len(s) && i-k < 24 {
			r, w := utf8.DecodeRuneInString(s[i:])
			if !isLetter(r) && !isDigit(s[i]) {
				break
			}
			i += w
		}
		sub := s[k:i]
		if n := len(sub); n > 1 && (sub[n-1] == 'x' && n == 2) && i < len(s) && isDigit(s[i]) { // R_Bx2.4
			sub, i = sub[:n-1], i-1
		}
		// R_Bx2.4: the digits were taken in; give the product back.
		if c := strings.IndexAny(sub, "xX"); c > 0 && c <= 2 && c+1 < len(sub) && isDigit(sub[c+1]) {
			i = k + c
			sub = sub[:c]
		}
		for _, f := range [...]string{"sin", "cos", "tan"} {
			if c := strings.Index(sub, f); c > 0 && c <= 2 {
				i, sub = k+c, sub[:c]
			}
		}
		if sub != "" {
			t.text = text + "_" + sub
		}
		t.to, x.at = i, i
		return
	}
	var b [8]byte
	low := b[:0]
	for i < len(s) && len(low) < 8 {
		r, w := utf8.DecodeRuneInString(s[i:])
		if d, ok := subscripts[r]; ok {
			low, i = append(low, d), i+w
			continue
		}
		break
	}
	if len(low) == 0 && len(text) == 1 && i < len(s) && s[i] >= '1' && s[i] <= '9' && text != "x" {
		// R1 and F2 are names; T3.5 is not.
		if i+1 == len(s) || !isDigit(s[i+1]) && s[i+1] != '.' && s[i+1] != ',' {
			low, i = append(low, s[i]), i+1
		}
	}
	if len(low) > 0 {
		if isDigit(low[0]) {
			t.text = text + string(low)
		} else {
			t.text = text + "_" + string(low)
		}
		t.to, x.at = i, i
	}
}

// underscored reads a run that has something below it: R_B, mu_s, 2TR_B.
func (x *lexer) underscored(run, lower string) {
	x.name(run, len(run))
}

// foreign reads a run with letters that are not Latin: each Greek letter is a name of its own (μN).
func (x *lexer) foreign(run string) {
	end := x.at + len(run)
	for x.at < end {
		r, w := utf8.DecodeRuneInString(x.rest())
		if r >= utf8.RuneSelf {
			text := string(r)
			if g := greek[text]; g != "" {
				text = g
			}
			x.name(text, w)
			continue
		}
		k := x.at
		for k < end && x.s[k] < utf8.RuneSelf {
			k++
		}
		part := x.s[x.at:k]
		low := strings.ToLower(part)
		if x.withFunction(part, low) {
			continue
		}
		if functions[low] != "" {
			x.add(function, functions[low], len(part))
			continue
		}
		x.name(part, len(part))
	}
}

// withFunction reads Tsin40 and 2RBcosθ: names with a function closed up.
func (x *lexer) withFunction(run, lower string) bool {
	for _, f := range [...]string{"sin", "cos", "tan"} {
		head, ok := strings.CutSuffix(lower, f)
		if !ok || len(head) > 3 || head == "" {
			continue
		}
		head = run[:len(head)]
		switch {
		case greek[strings.ToLower(head)] != "":
			x.name(greek[strings.ToLower(head)], len(head))
		case strings.ToLower(head) == "mg":
			x.add(symbol, "m", 1)
			x.add(symbol, "g", 1)
		case len(head) == 1 && (head == "x" || head == "X"):
			x.add(symbol, head, 1)
			x.last().cross = true
		case len(head) == 3 && head[2] != 'x':
			return false
		case len(head) > 1 && head[len(head)-1] == 'x' && head[0] >= 'A' && head[0] <= 'Z': // Txcos40
			x.name(head[:len(head)-1], len(head)-1)
			x.add(symbol, "x", 1)
			x.last().cross = true
		default:
			x.name(head, len(head))
		}
		x.add(function, f, 3)
		return true
	}
	for _, f := range [...]string{"sin", "cos", "tan"} { // sinx, sinA
		if tail, ok := strings.CutPrefix(run, f); ok && len(tail) == 1 {
			x.add(function, f, 3)
			x.name(tail, 1)
			return true
		}
	}
	return false
}

// wordFollows reports whether a word of two letters or more follows, so that "a" is an article.
func (x *lexer) wordFollows(i int) bool {
	s := strings.TrimLeft(x.s[i:], " ")
	if len(s) == len(x.s[i:]) || len(s) < 2 {
		return false
	}
	return s[0] >= 'a' && s[0] <= 'z' && s[1] >= 'a' && s[1] <= 'z'
}

// unitAlone reads a unit that follows a bracket or a name, as in (234 + 130.5) N m or 2.4RB Nm.
func (x *lexer) unitAlone() bool {
	t := x.last()
	if t.kind != closing && t.kind != symbol || t.kind == symbol && t.cross {
		return false
	}
	u, w := unitAt(x.rest())
	if w == 0 || len(u.Symbol) == 1 && t.kind == symbol || u.Symbol == "g" || u.Symbol == "t" {
		return false
	}
	if t.kind == closing && len(u.Symbol) == 1 && !(x.at > 0 && isSpace(lastRune(x.s[:x.at]))) && u.Symbol != "N" {
		return false
	}
	x.add(unitAlone, "", w)
	x.last().q = quantityOne(u)
	return true
}
