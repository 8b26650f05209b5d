package mark

import (
	"fmt"
	"strconv"
	"strings"
)

// policyLines are the lines of a policy file, with what they set.
var policyLines = []struct {
	name string
	on   func(p *Policy) *Choice
	says [2]string // yes, no
}{
	{"unit needed", func(p *Policy) *Choice { return &p.UnitNeeded },
		[2]string{"a missing or wrong unit costs the answer's mark, once a question", "units cost nothing"}},
	{"figures needed", func(p *Policy) *Choice { return &p.FiguresNeeded },
		[2]string{"too few figures cost the answer's mark", "figures cost nothing, even a single one that rounds to the answer"}},
	{"bare answer", func(p *Policy) *Choice { return &p.BareAnswer },
		[2]string{"a right answer alone earns full marks, but for \"show that\"", "a right answer without working earns nothing where the scheme has a method mark"}},
	{"follow through", func(p *Policy) *Choice { return &p.FollowThrough },
		[2]string{"what follows rightly from an own earlier answer earns its marks", "only the right value earns the answer's mark"}},
}

// ParsePolicy reads a policy: lines such as "unit needed: no", "tolerance: 2 %"; # starts a comment. What isn't
// said keeps its default.
func ParsePolicy(text string) (Policy, error) {
	var p Policy
	n := 0
	for line := range strings.Lines(text) {
		n++
		line, _, _ = strings.Cut(line, "#")
		line = strings.TrimSpace(strings.TrimPrefix(line, "\ufeff"))
		if line == "" {
			continue
		}
		if err := p.line(line); err != nil {
			return Policy{}, fmt.Errorf("line %d: %w", n, err)
		}
	}
	return p, nil
}

func (p *Policy) line(line string) error {
	name, value, ok := strings.Cut(line, ":")
	name, value = strings.ToLower(strings.TrimSpace(name)), strings.ToLower(strings.TrimSpace(value))
	if !ok {
		return fmt.Errorf("%q has no colon; write it as: unit needed: no", line)
	}
	if name == "tolerance" {
		v, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(value, "%")), 64)
		if err != nil || !(v > 0 && v <= 20) {
			return fmt.Errorf("the tolerance %q is no percentage from above 0 to 20; write it as: tolerance: 1 %%", value)
		}
		p.Tolerance = v / 100
		return nil
	}
	for i := range policyLines {
		if l := &policyLines[i]; l.name == name {
			switch value {
			case "yes":
				*l.on(p) = Yes
			case "no":
				*l.on(p) = No
			case "default":
				*l.on(p) = Default
			default:
				return fmt.Errorf("%q is neither yes, no nor default; write it as: %s: yes", value, name)
			}
			return nil
		}
	}
	return fmt.Errorf("there is no rule %q; the rules are unit needed, figures needed, bare answer, follow through, tolerance", name)
}

// String writes the policy as ParsePolicy reads it: only what differs from the default.
func (p Policy) String() string {
	var b strings.Builder
	for i := range policyLines {
		switch l := &policyLines[i]; *l.on(&p) {
		case Yes:
			fmt.Fprintf(&b, "%s: yes\n", l.name)
		case No:
			fmt.Fprintf(&b, "%s: no\n", l.name)
		}
	}
	if p.Tolerance > 0 {
		fmt.Fprintf(&b, "tolerance: %s %%\n", strconv.FormatFloat(p.Tolerance*100, 'g', 6, 64))
	}
	return b.String()
}

// InWords says each rule of the policy in a sentence, for the head of a table of marks.
func (p Policy) InWords() []string {
	var list []string
	for i := range policyLines {
		l := &policyLines[i]
		switch *l.on(&p) {
		case Yes:
			list = append(list, l.says[0])
		case No:
			list = append(list, l.says[1])
		default:
			if l.name == "figures needed" {
				list = append(list, "too few figures cost the answer's mark only where a part asks for figures, or where only one is given")
				continue
			}
			list = append(list, l.says[0])
		}
	}
	t := 1.0
	if p.Tolerance > 0 {
		t = p.Tolerance * 100
	}
	return append(list, fmt.Sprintf("an answer counts if it rounds to the key at the figures given, or lies within %s %% of it", strconv.FormatFloat(t, 'g', 6, 64)))
}
