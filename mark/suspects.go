package mark

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"steelyard/slip"
)

// Names of the two hypotheses that are no slip of the catalogue.
const (
	NoSlip = "none"           // what is wrong is arithmetic, copying, or nothing
	Other  = "something else" // a slip that the catalogue doesn't have, or guessing
)

// The model of a pupil. A pupil holds one hypothesis: no slip, one slip, or something else. In each question a
// slip that is held is made with probability made, on one of the things that it can fall on; else all is worked
// out rightly. Each answer then comes out as it should but for an error of arithmetic or copying. Numbers: common
// practice, no source; docs/marking.md says how little the posterior hangs on them.
const (
	priorNone  = 0.55
	priorOther = 0.10
	made       = 0.85
	astray     = 0.10 // an answer goes astray through arithmetic or copying
	byChance   = 0.02 // a stray answer falls within the tolerance of a given value
	otherRight = 0.30 // an answer that something else leaves right

	lineNamed    = 0.80 // a wrong line is found to be that of the slip that was made
	lineOther    = 0.01 // it is found to be that of another slip
	lineUnknown  = 0.20 // a wrong line fits no slip although a known one was made
	lineFaulty   = 0.02 // a pupil without a slip writes a wrong line that fits none
	lineStrange  = 0.50 // something else shows as a line that fits no slip
	lineMistaken = 0.05 // something else shows as the line of a known slip
	lineRight    = 0.02 // a line of a method is right although the slip was made in it
	lineLucky    = 0.50 // the same of something else
)

// Evidence is what one pupil handed in for one question, marked.
type Evidence struct {
	Key   *Key
	Parts []Part
}

// Posterior is how probable each slip is for one pupil, over all questions and hand-ins given, the likeliest
// first. The probabilities add up to 1; NoSlip and Other are among them. A slip of which no question here could
// show anything is left out.
func Posterior(evidence ...Evidence) []Suspect {
	list := hypotheses(evidence)
	logs := make([]float64, len(list)+2) // the last two: no slip, something else
	total := 0.0
	for i := range list {
		total += list[i].weight
	}
	for i := range list {
		logs[i] = math.Log(list[i].weight / total * (1 - priorNone - priorOther))
	}
	none, other := len(list), len(list)+1
	logs[none], logs[other] = math.Log(priorNone), math.Log(priorOther)
	for n := range evidence {
		e := &evidence[n]
		l := e.likelihoods()
		sound := math.Log(l.none)
		logs[none] += sound
		logs[other] += math.Log((1-made)*l.none + made*l.other)
		for i := range list {
			h := i
			if len(evidence) > 1 {
				h = e.Key.hypothesis(list[i].name)
			}
			if h < 0 {
				logs[i] += sound
				continue
			}
			logs[i] += math.Log((1-made)*l.none + made*l.given[h])
		}
	}
	return ranked(list, logs, evidence)
}

// ranked turns logarithms into probabilities, puts the likeliest first and adds the evidence for those that count.
func ranked(list []prior, logs []float64, evidence []Evidence) []Suspect {
	most, total := slices.Max(logs), 0.0
	order := make([]int, len(logs))
	for i := range logs {
		order[i] = i
		logs[i] = math.Exp(logs[i] - most)
		total += logs[i]
	}
	name := func(i int) string {
		switch i - len(list) {
		case 0:
			return NoSlip
		case 1:
			return Other
		}
		return list[i].name
	}
	slices.SortFunc(order, func(a, b int) int {
		switch {
		case logs[a] > logs[b]:
			return -1
		case logs[a] < logs[b]:
			return 1
		}
		return strings.Compare(name(a), name(b))
	})
	out := make([]Suspect, len(order))
	for n, i := range order {
		s := &out[n]
		s.Name, s.Probability = name(i), logs[i]/total
		if s.Probability >= 0.05 {
			for k := range evidence {
				evidence[k].explain(s)
			}
		}
	}
	return out
}

// hypotheses lists the slips that a pupil may hold, as far as any question can show them.
func hypotheses(evidence []Evidence) []prior {
	if len(evidence) == 1 {
		return evidence[0].Key.names
	}
	var list []prior
	for _, e := range evidence {
		for _, p := range e.Key.names {
			if !slices.Contains(list, p) {
				list = append(list, p)
			}
		}
	}
	return list
}

// hypothesis is the number of a slip among the key's names; −1 if it cannot be made there.
func (k *Key) hypothesis(name string) int {
	return slices.IndexFunc(k.names, func(p prior) bool { return p.name == name })
}

// likelihoods are those of a hand-in: under no slip, under something else, and of each slip of the key, it being
// made on any of the things that it can fall on.
type likelihoods struct {
	none, other float64
	given       []float64
}

func (e *Evidence) likelihoods() likelihoods {
	l := likelihoods{1, 1, make([]float64, len(e.Key.names))}
	for i := range e.Parts {
		l.none *= e.Key.sound(&e.Parts[i])
		l.other *= e.Key.strange(&e.Parts[i])
	}
	for i := 0; i < len(e.Key.outcomes); {
		h, n := e.Key.outcomes[i].h, 0
		for ; i < len(e.Key.outcomes) && e.Key.outcomes[i].h == h; i++ {
			l.given[h] += e.given(&e.Key.outcomes[i])
			n++
		}
		l.given[h] /= float64(n)
	}
	return l
}

// given is the likelihood of a hand-in, if the slip was made on just that.
func (e *Evidence) given(o *outcome) float64 {
	v := 1.0
	for i := range e.Parts {
		v *= e.Key.slipped(&e.Parts[i], o)
	}
	return v
}

// An answerKind says how an answer stands to the key.
type answerKind uint8

const (
	silent answerKind = iota // none, or not read
	rightAnswer
	carriedAnswer
	wrongAnswer
)

func (p *Part) kind() answerKind {
	switch a := &p.Answer; {
	case a.Verdict == NoAnswer, a.Verdict == AnswerNotRead:
		return silent
	case a.carried:
		return carriedAnswer
	case a.Verdict == AnswerRight, a.Verdict == AnswerUnit, a.Verdict == AnswerFigures, a.partly:
		return rightAnswer
	}
	return wrongAnswer
}

// comes is the likelihood of an answer that should come out one way.
func comes(so bool) float64 {
	if so {
		return 1 - astray + astray*byChance
	}
	return astray * byChance
}

// sound is the likelihood of a part worked out without a slip.
func (k *Key) sound(p *Part) float64 {
	v := 1.0
	switch p.kind() {
	case rightAnswer, carriedAnswer:
		v = comes(true)
	case wrongAnswer:
		v = comes(false)
	}
	if l := p.wrongLine(); l != nil {
		if l.Slip != "" {
			return v * lineOther
		}
		return v * lineFaulty
	}
	return v
}

// strange is the likelihood of a part under something else.
func (k *Key) strange(p *Part) float64 {
	v := 1.0
	switch p.kind() {
	case rightAnswer, carriedAnswer:
		v = otherRight
	case wrongAnswer:
		v = (1 - otherRight) * byChance
	}
	switch l := p.wrongLine(); {
	case l != nil && l.Slip != "":
		v *= lineMistaken
	case l != nil:
		v *= lineStrange
	case p.rightLine():
		v *= lineLucky
	}
	return v
}

// slipped is the likelihood of a part, a slip having been made.
func (k *Key) slipped(p *Part, o *outcome) float64 {
	v := 1.0
	switch kind := p.kind(); kind {
	case rightAnswer, wrongAnswer, carriedAnswer:
		v = comes(k.leads(p, o) || kind == carriedAnswer && !o.lines[p.Part])
	}
	switch l := p.wrongLine(); {
	case l != nil && names(l.Slip, o.name) && (l.Of == o.of || l.Of == "" || o.of == ""):
		v *= lineNamed
	case l != nil && l.Slip != "":
		v *= lineOther
	case l != nil:
		v *= lineUnknown
	case p.rightLine() && o.lines[p.Part] && !onlyInValues(o.name):
		v *= lineRight
	}
	return v
}

// onlyInValues reports whether a slip leaves the line right on paper and shows in the value.
func onlyInValues(name string) bool {
	return name == "radians" || name == "rounded-too-soon" || name == "another-g" || name == "kilo-lost"
}

// names reports whether a line's slip, or one of the two, is that one.
func names(line, name string) bool {
	for s := range strings.SplitSeq(line, " + ") {
		if s == name {
			return true
		}
	}
	return false
}

// leads reports whether the slip leads to the part's answer.
func (k *Key) leads(p *Part, o *outcome) bool {
	known := false
	for s := range k.Plan.Slots {
		slot := &k.Plan.Slots[s]
		if slot.Part != p.Part {
			continue
		}
		value := p.Answer.Value
		if e := p.Answer.ends; len(e) == 2 && slot.End == "low" {
			value = e[0]
		} else if len(e) == 2 {
			value = e[1]
		}
		if math.IsNaN(value) {
			return p.kind() == rightAnswer && !o.Cases[0].Touches[s]
		}
		v := o.Values[s]
		if math.IsNaN(v) {
			return false
		}
		if slot.Margin(v, value) >= 1 {
			return false
		}
		known = true
	}
	return known || p.kind() == rightAnswer
}

// wrongLine is the first wrong line of a part that is more than arithmetic; nil if there is none, or if a right
// one follows.
func (p *Part) wrongLine() *Judged {
	var l *Judged
	for i := range p.Lines {
		switch j := &p.Lines[i]; {
		case j.Verdict == Wrong && j.Means != "arithmetic" && l == nil:
			l = j
		case (j.Verdict == Right || j.Verdict == Carried) && j.method():
			l = nil
		}
	}
	return l
}

// rightLine reports whether there is a right line of a method.
func (p *Part) rightLine() bool {
	for i := range p.Lines {
		if j := &p.Lines[i]; j.Verdict == Right && j.method() && named(&j.Line) {
			return true
		}
	}
	return false
}

// explain adds the evidence that speaks for a slip, and what it falls on.
func (e *Evidence) explain(s *Suspect) {
	if s.Name == NoSlip || s.Name == Other {
		return
	}
	var best *outcome
	most := 0.0
	h := e.Key.hypothesis(s.Name)
	for i := range e.Key.outcomes {
		if o := &e.Key.outcomes[i]; o.h == h {
			if v := e.given(o); best == nil || v > most {
				best, most = o, v
			}
		}
	}
	if best == nil {
		return
	}
	found := false
	for i := range e.Parts {
		p := &e.Parts[i]
		if l := p.wrongLine(); l != nil && names(l.Slip, s.Name) {
			s.Evidence = append(s.Evidence, fmt.Sprintf("(%s) the line “%s”%s", p.Part, l.Line.Text, off(l)))
			found = true
		}
		if k := p.kind(); (k == wrongAnswer || k == carriedAnswer) && e.Key.leads(p, best) {
			s.Evidence = append(s.Evidence, fmt.Sprintf("(%s) “%s” is the answer that it leads to", p.Part, strings.TrimSpace(p.Answer.Read.Text)))
			found = true
		}
	}
	if found && s.Of == "" {
		s.Of = best.of
	}
}

// Enough is how probable a hypothesis has to be before it is named as the likely one.
const Enough = 0.6

// Tell says in plain words what a posterior shows; "not enough to tell" when it shows too little.
func Tell(list []Suspect) string {
	if len(list) == 0 {
		return "not enough to tell"
	}
	top := &list[0]
	switch {
	case top.Probability < Enough:
		return "not enough to tell"
	case top.Name == NoSlip:
		return "no slip that keeps coming back"
	case top.Name == Other:
		return "something that is not among the known slips; please look at the working"
	}
	text := top.Name
	if s := slip.Named(top.Name); s != nil {
		text = lower(s.Title)
	}
	if top.Of != "" {
		text += ": " + top.Of
	}
	switch {
	case top.Probability >= 0.95:
		return "very probably: " + text
	case top.Probability >= 0.8:
		return "probably: " + text
	}
	return "perhaps: " + text
}

// suspect puts into each part that isn't right the slips that touch it, by all the pupil's parts.
func (m *marker) suspect(parts []Part) {
	wrong := false
	for i := range parts {
		wrong = wrong || parts[i].doubtful()
	}
	if !wrong {
		return
	}
	var mine []Part
	for i := range parts {
		if m.k.Part(parts[i].Part) >= 0 {
			mine = append(mine, parts[i])
		}
	}
	list := Posterior(Evidence{m.k, mine})
	for i := range parts {
		p := &parts[i]
		if !p.doubtful() {
			continue
		}
		for _, s := range list {
			if s.Probability >= 0.02 && len(p.Slips) < 4 && m.k.touches(s.Name, p.Part) {
				p.Slips = append(p.Slips, s)
			}
		}
	}
}

// doubtful reports whether something is wrong in a part.
func (p *Part) doubtful() bool { return p.kind() == wrongAnswer || p.wrongLine() != nil }

// touches reports whether a slip can show in a part.
func (k *Key) touches(name, part string) bool {
	if name == NoSlip || name == Other {
		return true
	}
	for i := range k.outcomes {
		o := &k.outcomes[i]
		if o.name != name {
			continue
		}
		for s := range k.Plan.Slots {
			if k.Plan.Slots[s].Part == part && o.Cases[0].Touches[s] {
				return true
			}
		}
	}
	return false
}
