package script

import (
	"strings"

	"steelyard/quantity"
)

// deepest is how deep brackets may stand in one another.
const deepest = 40

// parser reads the tokens of one line.
type parser struct {
	src     string
	line    *Line
	t       []token
	at      int
	depth   int
	sums    bool // a number stood in it, or a symbol among operators
	phrases bool // a name in words stood in it
	more    bool // another side follows
}

func quantityOne(u quantity.Unit) quantity.Quantity {
	return quantity.Quantity{Value: 1, Unit: u, Digits: "1"}
}

// plain takes the words out of a side, and makes names of those that stand for a quantity.
func (p *parser) plain(t []token) []token {
	busy := false
	for i := range t {
		if t[i].kind == word || t[i].kind == colon || t[i].kind == comma || t[i].kind == strange || t[i].kind == opening {
			busy = true
			break
		}
	}
	if !busy {
		return t
	}
	out := make([]token, 0, len(t))
	for i := 0; i < len(t); i++ {
		x := &t[i]
		switch x.kind {
		case strange:
			p.line.Unread = x.text
			return nil
		case colon, comma:
			continue
		case opening:
			if k := wordsIn(t, i); k > 0 { // (weight of the plank), (up)
				for j := i + 1; j < k; j++ {
					p.say(&t[j])
				}
				i = k
				continue
			}
			out = append(out, *x)
		case symbol:
			if cancelled(t, i) {
				p.say(x)
				continue
			}
			out = append(out, *x)
		case word:
			if i > 0 && p.closedUp(&t[i-1], x, t[i+1:]) { // 2.4Wplank, 2.4 Wplank + …
				p.nameWord(&out, x)
				continue
			}
			k := i + 1
			noun := nouns[x.text] || nouns[strings.TrimSuffix(x.text, "s")]
			if k < len(t) && t[k].kind == function && (x.text == "inverse" || x.text == "inv" || x.text == "arc") {
				t[k].text = inverse(t[k].text)
				continue
			}
			for k < len(t) && (t[k].kind == word || t[k].kind == symbol && !t[k].cross && preposition(&t[k-1]) && (noun || from(&t[k-1]) && (len(out) > 0 || k+1 == len(t)))) {
				noun = noun || nouns[t[k].text]
				k++
			}
			wanted := len(out) == 0 || out[len(out)-1].kind == operator || out[len(out)-1].kind == opening || out[len(out)-1].cross
			followed := k < len(t) && (t[k].kind == number || t[k].kind == symbol && !(t[k].cross && k+1 < len(t)) || t[k].kind == function || t[k].kind == opening)
			minus := k < len(t) && t[k].kind == operator && t[k].text == "-" && !noun
			last := len(out) > 0 && (out[len(out)-1].kind == operator || out[len(out)-1].cross)
			if wanted && x.lettered && k == i+1 && !followed {
				p.nameWord(&out, x)
			} else if wanted && !followed && !minus && (noun || last || named(t[i:k])) && !(k == len(t) && len(out) == 0 && allGlue(t[i:k])) {
				name := token{kind: symbol, text: joined(t[i:k]), from: x.from, to: t[k-1].to, spaced: true}
				p.phrases = true
				out = append(out, name)
			} else {
				for j := i; j < k; j++ {
					p.say(&t[j])
				}
			}
			i = k - 1
		default:
			out = append(out, *x)
		}
	}
	return out
}

// closedUp reports whether a word behind a number or a bracket is a letter closed up with a name: nothing stands between
// them, or an operator follows, or another side.
func (p *parser) closedUp(before, x *token, rest []token) bool {
	if !x.lettered || before.kind != number && before.kind != closing {
		return false
	}
	return before.to == x.from || len(rest) == 0 && p.more || len(rest) > 0 && (rest[0].kind == operator || rest[0].cross)
}

func (p *parser) nameWord(out *[]token, x *token) {
	*out = append(*out, token{kind: symbol, text: x.text, from: x.from, to: x.to, spaced: true})
}

// joined is a name in words, without its article.
func joined(t []token) string {
	var b strings.Builder
	for i := range t {
		if t[i].text == "the" && i == 0 {
			continue
		}
		if b.Len() > 0 {
			b.WriteByte(' ')
		}
		b.WriteString(t[i].text)
	}
	return b.String()
}

func preposition(t *token) bool {
	switch t.text {
	case "at", "of", "on", "in", "from", "by", "to", "due":
		return t.kind == word
	}
	return false
}

// from reports whether a word is one after which a name only says where something is: 0.55 m from Q.
func from(t *token) bool {
	return t.text == "from" || t.text == "at" || t.text == "of" || t.text == "on"
}

// named reports whether some word is none of those that only stand beside an expression.
func named(t []token) bool { return !allGlue(t) }

func allGlue(t []token) bool {
	for i := range t {
		if t[i].kind != word || !glue[t[i].text] {
			return false
		}
	}
	return true
}

// cancelled reports whether g is only what some words are about: "g cancels", "cancel g", "divide by g", "the g's cancel".
func cancelled(t []token, i int) bool {
	if t[i].text == "s" && i > 1 && t[i-1].text == "'" && t[i-2].text == "g" {
		return true
	}
	if t[i].text != "g" {
		return false
	}
	about := func(k int) bool {
		return k >= 0 && k < len(t) && t[k].kind == word && (strings.HasPrefix(t[k].text, "cancel") || strings.HasPrefix(t[k].text, "divid"))
	}
	if about(i+1) && strings.HasPrefix(t[i+1].text, "cancel") || about(i-1) || i+2 < len(t) && t[i+1].text == "'" && t[i+2].text == "s" {
		return true
	}
	return i > 1 && t[i-1].kind == word && (t[i-1].text == "by" || t[i-1].text == "the" || t[i-1].text == "out") && about(i-2)
}

// wordsIn is where the bracket that opens at i closes, if there are only words in it; else 0.
func wordsIn(t []token, i int) int {
	for k := i + 1; k < len(t); k++ {
		switch t[k].kind {
		case closing:
			if k > i+1 && (t[i+1].kind == word) {
				return k
			}
			return 0
		case word:
		case symbol:
			if !preposition(&t[k-1]) {
				return 0
			}
		default:
			return 0
		}
	}
	return 0
}

func (p *parser) peek() *token {
	if p.at < len(p.t) {
		return &p.t[p.at]
	}
	return &token{}
}

// refuse names the piece that could not be read.
func (p *parser) refuse() {
	if p.line.Unread != "" {
		return
	}
	if p.at < len(p.t) {
		t := &p.t[p.at]
		p.line.Unread = clip(p.src[t.from:max(t.to, t.from)])
		if p.line.Unread == "" {
			p.line.Unread = t.text
		}
		return
	}
	if n := len(p.t); n > 0 {
		p.line.Unread = clip(p.src[p.t[n-1].from:p.t[n-1].to])
	}
}

func (p *parser) sum() (Expr, bool) {
	p.depth++
	defer func() { p.depth-- }()
	if p.depth > deepest {
		p.refuse()
		return Expr{}, false
	}
	left, ok := p.term()
	if !ok {
		return left, false
	}
	for {
		t := p.peek()
		if t.kind != operator || t.text != "+" && t.text != "-" {
			return left, true
		}
		op := Add
		if t.text == "-" {
			op = Subtract
		}
		p.at++
		p.sums = true
		right, ok := p.term()
		if !ok {
			return left, false
		}
		left = pair(op, left, right)
	}
}

func pair(op Op, a, b Expr) Expr {
	return Expr{Op: op, Args: []Expr{a, b}, From: a.From, To: b.To}
}

func (p *parser) term() (Expr, bool) {
	left, ok := p.implicit(false)
	if !ok {
		return left, false
	}
	for {
		t := p.peek()
		op := Multiply
		switch {
		case t.kind == operator && t.text == "*":
		case t.kind == operator && t.text == "/":
			op = Divide
		case t.cross && p.starts(p.at+1): // an x between two things multiplies
		default:
			return left, true
		}
		if !t.word {
			p.sums = p.sums || op == Divide || !t.cross
		}
		p.at++
		// ½ typed as 1/2 before a name or a bracket: 1/2(280), 3/4 L.
		right, ok := p.implicit(op == Divide && smallInt(&left) && p.peek().kind == number && wholeNumber(p.peek()))
		if !ok {
			return left, false
		}
		left = pair(op, left, right)
		if op == Divide && p.closeUp() {
			next, ok := p.implicit(false)
			if !ok {
				return left, false
			}
			left = pair(Multiply, left, next)
		}
	}
}

func smallInt(e *Expr) bool {
	return e.Op == Number && e.Quantity.Decimals == 0 && e.Quantity.Value < 20 && e.Quantity.Unit == quantity.Unit{}
}

func wholeNumber(t *token) bool {
	return t.q.Decimals == 0 && t.q.Value < 20 && t.q.Unit == quantity.Unit{}
}

// closeUp reports whether a factor follows without a sign.
func (p *parser) closeUp() bool {
	t := p.peek()
	switch t.kind {
	case symbol:
		return !t.cross || !p.starts(p.at+1)
	case function, opening:
		return true
	}
	return false
}

// starts reports whether what stands at i can begin a factor.
func (p *parser) starts(i int) bool {
	if i >= len(p.t) {
		return false
	}
	switch t := &p.t[i]; t.kind {
	case number, symbol, function, opening:
		return true
	case operator: // RB x -2.4
		return t.text == "-" && i+1 < len(p.t) && p.t[i+1].kind == number && t.spaced && !p.t[i+1].spaced
	}
	return false
}

// implicit reads factors that stand side by side: 2.4RB, 3(x − 1), T sin 40. They bind more closely than signs.
func (p *parser) implicit(single bool) (Expr, bool) {
	left, ok := p.unary()
	if !ok || single {
		return left, ok
	}
	for {
		t := p.peek()
		switch {
		case t.kind == number && left.Op != Number && p.t[p.at-1].kind != number:
		case p.closeUp():
		case t.kind == unitAlone:
			p.at++
			left = pair(Multiply, left, Expr{Op: Number, Quantity: t.q, From: t.from, To: t.to})
			continue
		default:
			return left, true
		}
		right, ok := p.power()
		if !ok {
			return left, false
		}
		left = pair(Multiply, left, right)
	}
}

func (p *parser) unary() (Expr, bool) {
	t := p.peek()
	if t.kind == operator && (t.text == "-" || t.text == "+") {
		minus, from := false, t.from
		for n := 0; p.peek().kind == operator && (p.peek().text == "-" || p.peek().text == "+"); n++ {
			minus = minus != (p.peek().text == "-")
			p.at++
		}
		e, ok := p.power()
		if !ok || !minus {
			return e, ok
		}
		return Expr{Op: Negate, Args: []Expr{e}, From: from, To: e.To}, true
	}
	return p.power()
}

func (p *parser) power() (Expr, bool) {
	base, ok := p.primary()
	if !ok {
		return base, false
	}
	for p.peek().kind == operator && p.peek().text == "^" {
		p.at++
		p.sums = true
		exp, ok := p.exponent()
		if !ok {
			return base, false
		}
		unit := exp.Quantity.Unit
		exp.Quantity.Unit = quantity.Unit{}
		base = pair(Power, base, exp)
		if unit != (quantity.Unit{}) { // 10^4 N: the unit is not the exponent's
			base = pair(Multiply, base, Expr{Op: Number, Quantity: quantityOne(unit), From: exp.From, To: exp.To})
		}
	}
	return base, true
}

func (p *parser) exponent() (Expr, bool) {
	t := p.peek()
	if t.kind == operator && (t.text == "-" || t.text == "+") {
		p.at++
		e, ok := p.primary()
		if !ok || t.text == "+" {
			return e, ok
		}
		return Expr{Op: Negate, Args: []Expr{e}, From: t.from, To: e.To}, true
	}
	return p.primary()
}

func (p *parser) primary() (Expr, bool) {
	t := p.peek()
	switch t.kind {
	case number:
		p.at++
		p.sums = true
		return Expr{Op: Number, Quantity: t.q, Degrees: t.degrees, From: t.from, To: t.to}, true
	case symbol:
		p.at++
		return Expr{Op: Name, Text: t.text, From: t.from, To: t.to}, true
	case opening:
		p.at++
		e, ok := p.sum()
		if !ok {
			return e, false
		}
		if p.peek().kind == closing {
			e.To = p.peek().to
			p.at++
		} else if p.at < len(p.t) { // one left open at the end closes there
			p.refuse()
			return e, false
		}
		e.From = t.from
		return e, true
	case function:
		return p.function()
	}
	p.refuse()
	return Expr{}, false
}

// function reads sin 37, tan⁻¹ 0.42, √(…).
func (p *parser) function() (Expr, bool) {
	p.depth++
	defer func() { p.depth-- }()
	if p.depth > deepest {
		p.refuse()
		return Expr{}, false
	}
	t := p.peek()
	p.at++
	p.sums = true
	name := t.text
	var square *Expr
	if p.peek().kind == operator && p.peek().text == "^" { // tan⁻¹, sin²
		k := p.at + 1
		switch {
		case k < len(p.t) && p.t[k].kind == number && p.t[k].q.Value == -1:
			name, p.at = inverse(name), k+1
		case k+1 < len(p.t) && p.t[k].text == "-" && p.t[k+1].kind == number && p.t[k+1].q.Value == 1:
			name, p.at = inverse(name), k+2
		case k+3 < len(p.t) && p.t[k].kind == opening && p.t[k+1].text == "-" && p.t[k+2].q.Value == 1 && p.t[k+3].kind == closing:
			name, p.at = inverse(name), k+4
		case k < len(p.t) && p.t[k].kind == number:
			square = &Expr{Op: Number, Quantity: p.t[k].q, From: p.t[k].from, To: p.t[k].to}
			p.at = k + 1
		}
	} else if k := p.at; k+2 < len(p.t) && p.t[k].text == "-" && p.t[k+1].kind == number && p.t[k+1].q.Value == 1 && !p.t[k+1].spaced &&
		(p.t[k+2].kind == opening || p.t[k+2].kind == number) { // tan-1(0.42)
		name, p.at = inverse(name), k+2
	}
	arg, ok := p.argument()
	if !ok {
		return arg, false
	}
	op := Function
	if name == "sqrt" {
		op = Root
	}
	e := Expr{Op: op, Text: name, Args: []Expr{arg}, From: t.from, To: arg.To}
	if square != nil {
		e = pair(Power, e, *square)
	}
	return e, true
}

func inverse(name string) string {
	switch name {
	case "sin", "cos", "tan":
		return "a" + name
	}
	return name
}

// argument reads what a function is taken of: one factor, with its sign, or a number closed up to a name (sin2θ).
func (p *parser) argument() (Expr, bool) {
	if t := p.peek(); t.kind == operator && t.text == "-" {
		p.at++
		e, ok := p.primary()
		return Expr{Op: Negate, Args: []Expr{e}, From: t.from, To: e.To}, ok
	}
	bracket := p.peek().kind == opening
	e, ok := p.primary()
	if !ok || bracket {
		return e, ok
	}
	if t := p.peek(); e.Op == Number && t.kind == symbol && !t.spaced && !t.cross && t.text >= "α" {
		p.at++
		return pair(Multiply, e, Expr{Op: Name, Text: t.text, From: t.from, To: t.to}), true
	}
	return e, true
}
