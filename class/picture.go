package class

import (
	"cmp"
	"math"
	"slices"

	"steelyard/mark"
	"steelyard/slip"
)

// A Picture is how a class did. It tells what working suggests, with how sure that is; it says nothing of what a
// pupil is like.
type Picture struct {
	Pupils  int
	Of      int
	Marks   []int // of each pupil, in class order
	Parts   []PartRow
	Slips   []SlipRow // those of most pupils first
	Groups  []Group   // to teach again
	Single  []Single  // pupils with a cause of their own, who need a word and no group
	Unclear []string  // pupils who lost marks without their work saying why
	Small   []string  // pupils who lost marks through no slip: a unit, arithmetic, copying
	Fine    int       // pupils with full marks
	Change  *Change   // nil if there is nothing to compare with
}

// A PartRow is how one part went.
type PartRow struct {
	Name           string
	Of             int
	Mean           float64
	Facility       float64 // the mean as a share of Of
	Discrimination float64 // correlation of its marks with those of all other parts; NaN where it can't be told
	Blank          int     // pupils who handed nothing in for it
	Asked          int     // pupils about whom the teacher is asked
}

// A SlipRow is a slip with the pupils whose work suggests it.
type SlipRow struct {
	Name, Title string
	Who         []Suspicion // the surest first
}

// A Suspicion is a pupil with how sure it is that their work shows a slip.
type Suspicion struct {
	Pupil, Code string
	Sure        float64
}

// A Single is a pupil with a cause.
type Single struct {
	Pupil, Code string
	Cause       Cause
}

// fewest is how many pupils it takes to say anything of discrimination; common practice, no source.
const fewest = 10

// PictureOf draws the picture of a class together. The parts of all results must be those of one question.
func PictureOf(results []Result, before *Earlier) Picture {
	p := Picture{Pupils: len(results)}
	for i := range results {
		marks, of := results[i].Marks()
		p.Marks = append(p.Marks, marks)
		p.Of = of
	}
	p.Parts = partRows(results)
	p.Slips = slipRows(results)
	p.group(results)
	if before != nil {
		p.Change = changeOf(results, before)
	}
	return p
}

func partRows(results []Result) []PartRow {
	pupils := make([][]mark.Part, len(results))
	for i := range results {
		pupils[i] = results[i].Parts
	}
	items := mark.Items(pupils)
	rows := make([]PartRow, len(items))
	for k := range items {
		x := &items[k]
		rows[k] = PartRow{Name: x.Part, Of: x.Of, Mean: x.Mean, Facility: x.Facility, Discrimination: x.Correlation}
		if len(results) < fewest {
			rows[k].Discrimination = math.NaN()
		}
		for i := range results {
			for n := range results[i].Parts {
				p := &results[i].Parts[n]
				if p.Part != x.Part {
					continue
				}
				if blank(p) {
					rows[k].Blank++
				}
				if Asked(p) {
					rows[k].Asked++
				}
			}
		}
	}
	return rows
}

func slipRows(results []Result) []SlipRow {
	var rows []SlipRow
	for i := range results {
		for _, s := range results[i].named() {
			k := slices.IndexFunc(rows, func(r SlipRow) bool { return r.Name == s.Name })
			if k < 0 {
				k = len(rows)
				rows = append(rows, SlipRow{Name: s.Name, Title: slip.Named(s.Name).Title})
			}
			rows[k].Who = append(rows[k].Who, Suspicion{results[i].Name, results[i].Code, s.Probability})
		}
	}
	for k := range rows {
		slices.SortStableFunc(rows[k].Who, func(a, b Suspicion) int { return cmp.Compare(b.Sure, a.Sure) })
	}
	slices.SortStableFunc(rows, func(a, b SlipRow) int {
		return cmp.Or(cmp.Compare(len(b.Who), len(a.Who)), cmp.Compare(a.Name, b.Name))
	})
	return rows
}

// Limits on groups. Source: common practice, no source: two to four groups by cause, of four to eight pupils.
const (
	mostGroups = 4
	mostPupils = 8
)

// A Group is pupils with one cause in common, for five minutes together. A pupil sits in one group.
type Group struct {
	Cause Cause
	Slips []string    // the slips that their work suggests, those of most pupils first
	Who   []Suspicion // at most eight, the surest first
	Then  []Suspicion // those who take the same five minutes afterwards
	Whole bool        // more than half of the class: teach it to all
}

// All counts the pupils of a group.
func (g *Group) All() int { return len(g.Who) + len(g.Then) }

// group sorts pupils into groups by cause.
func (p *Picture) group(results []Result) {
	who := make([][]Suspicion, len(causes))
	counts := make([]map[string]int, len(causes))
	for i := range results {
		r := &results[i]
		k, sure := r.cause()
		switch {
		case k >= 0 && r.share() < 1:
			who[k] = append(who[k], Suspicion{r.Name, r.Code, sure})
			if counts[k] == nil {
				counts[k] = map[string]int{}
			}
			for _, s := range r.named() {
				if causeOf(s.Name) == k {
					counts[k][s.Name]++
				}
			}
		case r.share() < 1 && r.noSlip():
			p.Small = append(p.Small, r.Name)
		case r.share() < 1:
			p.Unclear = append(p.Unclear, r.Name)
		default:
			p.Fine++
		}
	}
	order := make([]int, len(causes))
	for k := range order {
		order[k] = k
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(len(who[b]), len(who[a])) })
	for _, k := range order {
		all := who[k]
		slices.SortStableFunc(all, func(a, b Suspicion) int { return cmp.Compare(b.Sure, a.Sure) })
		if len(all) < 2 || len(p.Groups) == mostGroups {
			for _, s := range all {
				p.Single = append(p.Single, Single{s.Pupil, s.Code, causes[k]})
			}
			continue
		}
		g := Group{Cause: causes[k], Who: all, Whole: 2*len(all) > len(results) && len(all) > mostPupils}
		if len(all) > mostPupils {
			g.Who, g.Then = all[:mostPupils], all[mostPupils:]
		}
		for _, name := range causes[k].Slips {
			if counts[k][name] > 0 {
				g.Slips = append(g.Slips, name)
			}
		}
		slices.SortStableFunc(g.Slips, func(a, b string) int { return cmp.Compare(counts[k][b], counts[k][a]) })
		p.Groups = append(p.Groups, g)
	}
}

// Earlier is what is known of a class from last time, by pupil's name or code.
type Earlier struct {
	Share map[string]float64  // of the marks, 0 to 1
	Slips map[string][]string // slips that were worth acting on
}

// A Change is what is different since last time.
type Change struct {
	Steps       []Step // pupils with marks from both times, in class order
	Before, Now float64
	Slips       []SlipChange // those of most pupils first
	New         int          // pupils without marks from last time
}

// A Step is a pupil's share of the marks last time and now.
type Step struct {
	Pupil       string
	Before, Now float64
}

// A SlipChange counts the pupils whose work suggests a slip.
type SlipChange struct {
	Title             string
	Before, Now, Both int // among pupils with marks from both times
}

func changeOf(results []Result, e *Earlier) *Change {
	c := &Change{}
	counts := map[string]*SlipChange{}
	at := func(name string) *SlipChange {
		if counts[name] == nil {
			counts[name] = &SlipChange{Title: slip.Named(name).Title}
		}
		return counts[name]
	}
	for i := range results {
		r := &results[i]
		share, ok := e.Share[r.Code]
		slips := e.Slips[r.Code]
		if !ok {
			share, ok = e.Share[r.Name]
			slips = e.Slips[r.Name]
		}
		if !ok {
			c.New++
			continue
		}
		c.Steps = append(c.Steps, Step{r.Name, share, r.share()})
		c.Before, c.Now = c.Before+share, c.Now+r.share()
		for _, name := range slips {
			if slip.Named(name) != nil {
				at(name).Before++
			}
		}
		for _, name := range acting(r.Suspects) {
			at(name).Now++
			if slices.Contains(slips, name) {
				at(name).Both++
			}
		}
	}
	if n := float64(len(c.Steps)); n > 0 {
		c.Before, c.Now = c.Before/n, c.Now/n
	}
	for _, s := range slip.Catalogue() { // a fixed order
		if counts[s.Name] != nil {
			c.Slips = append(c.Slips, *counts[s.Name])
		}
	}
	slices.SortStableFunc(c.Slips, func(a, b SlipChange) int { return cmp.Compare(max(b.Before, b.Now), max(a.Before, a.Now)) })
	return c
}

// acting lists the slips that are worth acting on, each once.
func acting(suspects []mark.Suspect) []string {
	var out []string
	for _, s := range suspects {
		if s.Probability >= worthActing && slip.Named(s.Name) != nil && !slices.Contains(out, s.Name) {
			out = append(out, s.Name)
		}
	}
	return out
}

// EarlierOf is what results are to the next time.
func EarlierOf(results []Result) *Earlier {
	e := &Earlier{map[string]float64{}, map[string][]string{}}
	for i := range results {
		r := &results[i]
		e.Share[r.Code] = r.share()
		e.Slips[r.Code] = acting(r.Suspects)
	}
	return e
}
