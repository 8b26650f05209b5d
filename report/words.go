package report

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"steelyard/chart"
	"steelyard/class"
	"steelyard/slip"
)

// What is said of a class, on paper and on pages alike.
const (
	AboutPicture = "What pupils’ work suggests, and how surely. It is about this piece of work, not about what a pupil is like; ask before you conclude."

	SpreadHead = "How the marks are spread"

	PartsHead  = "How each part went"
	AboutParts = "Facility is the mean mark as a share of what the part is worth. Discrimination is how far the part’s marks go with those of all the other parts: 1 fully, 0 not at all. It takes ten pupils to say anything, and some hundred to say it well."

	SlipsHead = "What the work suggests"
	NoSlips   = "Nobody’s work suggests a slip of the catalogue."

	GroupsHead  = "Five minutes for a group"
	AboutGroups = "Groups are by cause, not by total; a pupil sits in one."
	WholeClass  = "That is more than half of the class: take it up with everybody."

	SingleHead  = "A word with single pupils"
	SmallHead   = "No slip in the mechanics"
	UnclearHead = "Not enough to tell"
)

// Spread says the mean of a class and how many have everything.
func Spread(p *class.Picture) string {
	sum, full := 0, 0
	for _, m := range p.Marks {
		sum += m
		if m == p.Of {
			full++
		}
	}
	return fmt.Sprintf("The mean is %s of %d; %s full marks.", Tenth(float64(sum)/float64(max(1, len(p.Marks)))), p.Of, Counted(full, "pupil has", "pupils have"))
}

// Small and Unclear say of whom marks were lost without a slip, or without a reason that shows.
func Small(p *class.Picture) string {
	return "Marks were lost through a unit, arithmetic, copying or a part left out: " + strings.Join(p.Small, ", ") + "."
}

// Unclear says of whom marks were lost without a reason that shows.
func Unclear(p *class.Picture) string {
	return "Marks were lost, but the work doesn’t say why: " + strings.Join(p.Unclear, ", ") + ". Ask them for their working, line by line."
}

// Who says how many a group is, who they are and how sure that is; Then who comes afterwards, "" if nobody does.
func Who(g *class.Group) string {
	return Counted(g.All(), "pupil", "pupils") + ": " + Names(g.Who) + "."
}

// Then says who of a group comes afterwards; "" if nobody does.
func Then(g *class.Group) string {
	if len(g.Then) == 0 {
		return ""
	}
	return "Afterwards, with the same plan: " + Names(g.Then) + "."
}

// Suggests says which slips the work of a group suggests.
func Suggests(g *class.Group) string { return "Their work suggests: " + Titles(g.Slips) + "." }

// Changed says how a class has changed since an earlier time.
func Changed(c *class.Change) string {
	up, down := 0, 0
	for _, s := range c.Steps {
		switch {
		case s.Now > s.Before+0.005:
			up++
		case s.Now < s.Before-0.005:
			down++
		}
	}
	words := fmt.Sprintf("%s with marks from both times: on average %.0f %% of the marks then, %.0f %% now; %d went up, %d went down.",
		Counted(len(c.Steps), "pupil", "pupils"), 100*c.Before, 100*c.Now, up, down)
	if c.New > 0 {
		words += " " + Counted(c.New, "pupil", "pupils") + " without marks from last time."
	}
	return words + " Two pieces of work are seldom equally hard, so a small change says little."
}

// MostSteps is how many pupils a chart of changes shows: those who changed most.
const MostSteps = 40

// Steps are the steps that a chart of changes shows, in class order.
func Steps(steps []class.Step) (out []chart.Step) {
	least := 0.0
	if len(steps) > MostSteps {
		sizes := make([]float64, len(steps))
		for i, s := range steps {
			sizes[i] = math.Abs(s.Now - s.Before)
		}
		slices.Sort(sizes)
		least = sizes[len(sizes)-MostSteps]
	}
	for _, s := range steps {
		if math.Abs(s.Now-s.Before) >= least && len(out) < MostSteps {
			out = append(out, chart.Step{Name: s.Pupil, Before: s.Before, Now: s.Now})
		}
	}
	return out
}

// Titles are slips in words.
func Titles(names []string) string {
	var out []string
	for _, n := range names {
		if s := slip.Named(n); s != nil {
			out = append(out, "“"+s.Title+"”")
		}
	}
	return strings.Join(out, ", ")
}

// HowSure writes a probability in per cent; none is shown as certain.
func HowSure(p float64) string {
	return fmt.Sprintf("%.0f %%", math.Round(100*min(max(p, 0.01), 0.99)))
}

// Names lists pupils, with how sure it is.
func Names(who []class.Suspicion) string {
	out := make([]string, len(who))
	for i, w := range who {
		out[i] = w.Pupil + " (" + HowSure(w.Sure) + ")"
	}
	return strings.Join(out, ", ")
}

// Surest names the first few of many.
func Surest(who []class.Suspicion) string {
	if len(who) > 4 {
		return Names(who[:4]) + ", …"
	}
	return Names(who)
}

// Tenth rounds to one decimal, halves away from zero.
func Tenth(v float64) string { return fmt.Sprintf("%.1f", math.Round(10*v)/10) }

// Counted is a number with its noun.
func Counted(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprint(n, " ", many)
}

// Upper and Lower change the first letter of a sentence.
func Upper(s string) string { return first(s, unicode.ToUpper) }

// Lower makes the first letter of a title small, so that it can stand in a sentence.
func Lower(s string) string { return first(s, unicode.ToLower) }

func first(s string, turn func(rune) rune) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return s
	}
	return string(turn(r)) + s[n:]
}
