package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"steelyard/chart"
	"steelyard/class"
	"steelyard/draw"
	"steelyard/homework"
	"steelyard/mark"
	"steelyard/sheet"
	"steelyard/slip"
)

// A Class is how a class did, to be set out.
type Class struct {
	Title   string // of the question or the set
	Results []class.Result
	Picture class.Picture   // of the results
	Shelf   *homework.Shelf // where questions to follow are looked for; nil proposes none
	// Follow says what to do for a group to get a question of the bank with numbers of their own.
	Follow func(name string, pupils int, seed string) []sheet.Piece
	More   string // where everything that waits is listed, if the report has no room: "steelyard mark lists all of them"
	Plain  bool   // nothing is said about slips
}

// mostAsking is how many of the parts that wait for the teacher the report lists.
const mostAsking = 40

// Report sets the picture of a class out.
func (c *Class) Report() (sheet.Report, error) {
	p := &c.Picture
	r := sheet.Report{
		Title: c.Title + ": the class",
		Kind:  fmt.Sprintf("%s, %s", counted(p.Pupils, "pupil"), counted(p.Of, "mark")),
	}
	put := func(pieces ...sheet.Piece) { r.Pieces = append(r.Pieces, pieces...) }
	if !c.Plain {
		put(sheet.Words{Text: "This page shows what pupils' working suggests and how surely. It is about this piece of work, not about what a pupil is like; ask before you conclude."})
	}
	put(spreadPieces(p)...)
	put(partPieces(p)...)
	if !c.Plain {
		put(slipPieces(p)...)
		groups, err := c.groupPieces()
		if err != nil {
			return r, err
		}
		put(groups...)
	}
	if p.Change != nil {
		put(changePieces(p.Change)...)
	}
	if list := Asking(c.Results); len(list) > 0 {
		put(sheet.Heading{Text: "For you to look at"}, sheet.List{Items: list[:min(len(list), mostAsking)]})
		if more := len(list) - mostAsking; more > 0 {
			put(sheet.Words{Text: fmt.Sprintf("And %d more; %s.", more, c.More)})
		}
	}
	if list := Decided(c.Results); len(list) > 0 {
		put(sheet.Heading{Text: "Decided by you"}, sheet.List{Items: list})
	}
	return r, nil
}

// drawn makes a piece of a chart.
func drawn(make func(o chart.Options) *draw.Picture) sheet.Picture {
	return sheet.Picture{Draw: func(d sheet.Drawing) *draw.Picture {
		return make(chart.Options{Width: d.Width, TextSize: d.TextSize})
	}}
}

func spreadPieces(p *class.Picture) []sheet.Piece {
	sum, full := 0, 0
	for _, m := range p.Marks {
		sum += m
		if m == p.Of {
			full++
		}
	}
	words := fmt.Sprintf("The mean is %s of %d; %s full marks.", tenth(float64(sum)/float64(max(1, len(p.Marks)))), p.Of, has(full))
	return []sheet.Piece{
		sheet.Heading{Text: "How the marks are spread"},
		drawn(func(o chart.Options) *draw.Picture { return chart.Spread(p.Marks, p.Of, o) }),
		sheet.Words{Text: words},
	}
}

// tenth rounds to one decimal, halves away from zero.
func tenth(v float64) string { return fmt.Sprintf("%.1f", math.Round(10*v)/10) }

func has(n int) string {
	if n == 1 {
		return "1 pupil has"
	}
	return fmt.Sprintf("%d pupils have", n)
}

func partPieces(p *class.Picture) []sheet.Piece {
	g := sheet.Grid{Heads: []string{"Part", "Mean", "Blank", "What it tells"}, Shares: []float64{1, 1.6, 1, 5}}
	bars := make([]chart.Bar, len(p.Parts))
	for i, row := range p.Parts {
		bars[i] = chart.Bar{Name: "(" + row.Name + ")", Facility: row.Facility, Discrimination: row.Discrimination}
		g.Rows = append(g.Rows, []string{"(" + row.Name + ")", fmt.Sprintf("%s of %d", tenth(row.Mean), row.Of), fmt.Sprint(row.Blank), partTells(&row)})
	}
	return []sheet.Piece{
		sheet.Heading{Text: "How each part went"},
		sheet.Words{Text: "Facility is the mean mark as a share of what the part is worth. Discrimination is how far the part's marks go with those of all the other parts: 1 fully, 0 not at all. It takes ten pupils to say anything, and some hundred to say it well."},
		drawn(func(o chart.Options) *draw.Picture { return chart.Parts(bars, o) }),
		g,
	}
}

// partTells says in words what a part's numbers tell, and how many pupils the marker asks about.
func partTells(r *class.PartRow) string {
	out := r.Tells()
	if r.Asked > 0 {
		out = append(out, counted(r.Asked, "pupil")+" for you to look at")
	}
	return upper(strings.Join(out, "; "))
}

// Limits on the matrix, so that it can be read: columns, and rows to a picture.
const (
	mostColumns = 12
	mostRows    = 15 // so that it fits on a page of large print too
)

func slipPieces(p *class.Picture) []sheet.Piece {
	out := []sheet.Piece{sheet.Heading{Text: "What the working suggests"}}
	if len(p.Slips) == 0 {
		return append(out, sheet.Words{Text: "Nobody's working suggests a slip of the catalogue."})
	}
	g := sheet.Grid{Heads: []string{"Key", "Slip", "Pupils", "The surest"}, Shares: []float64{0.7, 4, 1, 3}}
	var keys, long []string
	rows := map[string][]float64{}
	var order []string
	for i, s := range p.Slips {
		if i == mostColumns {
			out = append(out, sheet.Words{Text: fmt.Sprintf("%s of fewer pupils are left out here.", counted(len(p.Slips)-i, "slip"))})
			break
		}
		keys, long = append(keys, string(rune('A'+i))), append(long, s.Title)
		var surest []string
		for k, w := range s.Who {
			if rows[w.Pupil] == nil {
				rows[w.Pupil] = make([]float64, min(mostColumns, len(p.Slips)))
				order = append(order, w.Pupil)
			}
			rows[w.Pupil][i] = w.Sure
			if k < 4 {
				surest = append(surest, w.Pupil+" "+HowSure(w.Sure))
			}
		}
		if len(s.Who) > 4 {
			surest = append(surest, "…")
		}
		g.Rows = append(g.Rows, []string{keys[i], s.Title, fmt.Sprint(len(s.Who)), strings.Join(surest, ", ")})
	}
	out = append(out, g)
	var list []chart.Row
	for _, name := range order {
		list = append(list, chart.Row{Name: name, Sure: rows[name]})
	}
	for part := range slices.Chunk(list, mostRows) {
		out = append(out, drawn(func(o chart.Options) *draw.Picture { return chart.Matrix(keys, long, part, o) }))
	}
	return out
}

func (c *Class) groupPieces() ([]sheet.Piece, error) {
	p := &c.Picture
	if len(p.Groups)+len(p.Single)+len(p.Unclear)+len(p.Small) == 0 {
		return nil, nil
	}
	var out []sheet.Piece
	if len(p.Groups) > 0 {
		out = append(out, sheet.Heading{Text: "Five minutes for a group"},
			sheet.Words{Text: "Groups are by cause, not by total, and a pupil sits in one."})
	}
	for i := range p.Groups {
		g := &p.Groups[i]
		out = append(out, sheet.Heading{Text: fmt.Sprintf("Group %d: %s", i+1, lowerFirst(g.Cause.Title))},
			sheet.Words{Text: counted(g.All(), "pupil") + ": " + names(g.Who) + "."})
		if len(g.Then) > 0 {
			out = append(out, sheet.Words{Text: "Afterwards, with the same plan: " + names(g.Then) + "."})
		}
		if g.Whole {
			out = append(out, sheet.Words{Text: "That is more than half of the class: take it up with everybody.", Bold: true})
		}
		out = append(out, sheet.Words{Text: "Their working suggests: " + titles(g.Slips) + "."}, sheet.List{Items: g.Cause.Plan})
		if c.Shelf == nil {
			continue
		}
		name, _, err := c.Shelf.Next(homework.Afterwards(g.Slips), g.Slips)
		if err != nil {
			return nil, err
		}
		if name != "" {
			out = append(out, sheet.Words{Text: "To follow, in another scene, with numbers of their own:"})
			out = append(out, c.Follow(name, g.All(), g.Cause.Name+"-1")...)
		}
	}
	var single []string
	for _, s := range p.Single {
		single = append(single, s.Pupil+": "+lowerFirst(s.Cause.Title))
	}
	if len(single) > 0 {
		out = append(out, sheet.Heading{Text: "A word with single pupils"}, sheet.List{Items: single})
	}
	if len(p.Small) > 0 {
		out = append(out, sheet.Heading{Text: "No slip in the mechanics"},
			sheet.Words{Text: "Marks were lost through a unit, arithmetic, copying or a part left out: " + strings.Join(p.Small, ", ") + "."})
	}
	if len(p.Unclear) == 0 {
		return out, nil
	}
	out = append(out, sheet.Heading{Text: "Not enough to tell"},
		sheet.Words{Text: "Marks were lost here, but the work doesn't say why: " + strings.Join(p.Unclear, ", ") + ". Ask them for their working, line by line."})
	if c.Shelf == nil {
		return out, nil
	}
	left := together(c.Results, func(name string) bool { return slices.Contains(p.Unclear, name) })
	name, settles, err := c.Shelf.Next(left, homework.StillOpen(left))
	if err != nil {
		return nil, err
	}
	if name != "" {
		out = append(out, sheet.Words{Text: fmt.Sprintf("Of the bank's questions, %s would tell most: its answers are expected to settle %.0f %% of what is open.", name, 100*settles)})
		out = append(out, c.Follow(name, len(p.Unclear), "open-1")...)
	}
	return out, nil
}

// together is the mean of what is known of several pupils.
func together(results []class.Result, who func(name string) bool) []mark.Suspect {
	var out []mark.Suspect
	n := 0
	for i := range results {
		if !who(results[i].Name) {
			continue
		}
		n++
		for _, s := range results[i].Suspects {
			k := slices.IndexFunc(out, func(o mark.Suspect) bool { return o.Name == s.Name })
			if k < 0 {
				k = len(out)
				out = append(out, mark.Suspect{Name: s.Name})
			}
			out[k].Probability += s.Probability
		}
	}
	for k := range out {
		out[k].Probability /= float64(n)
	}
	return out
}

// titles are slips in words.
func titles(names []string) string {
	var out []string
	for _, n := range names {
		if s := slip.Named(n); s != nil {
			out = append(out, "“"+s.Title+"”")
		}
	}
	return strings.Join(out, ", ")
}

func lowerFirst(s string) string {
	if s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}

// HowSure writes a probability; none is shown as certain.
func HowSure(p float64) string { return fmt.Sprintf("%.2f", min(max(p, 0.01), 0.99)) }

// names lists pupils, with how sure it is.
func names(who []class.Suspicion) string {
	var out []string
	for _, w := range who {
		out = append(out, w.Pupil+" ("+HowSure(w.Sure)+")")
	}
	return strings.Join(out, ", ")
}

// mostSteps is how many pupils the chart of changes shows: those who changed most.
const mostSteps = 40

func changePieces(c *class.Change) []sheet.Piece {
	out := []sheet.Piece{sheet.Heading{Text: "Since last time"}}
	if len(c.Steps) == 0 {
		return append(out, sheet.Words{Text: "Nobody has marks from both times; are names and codes the same as then?"})
	}
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
		counted(len(c.Steps), "pupil"), 100*c.Before, 100*c.Now, up, down)
	if c.New > 0 {
		words += fmt.Sprintf(" %s without marks from last time.", counted(c.New, "pupil"))
	}
	out = append(out, sheet.Words{Text: words + " Two pieces of work are seldom equally hard, so a small change says little."})
	steps := shown(c.Steps)
	if len(steps) < len(c.Steps) {
		out = append(out, sheet.Words{Text: fmt.Sprintf("The chart shows the %d pupils who changed most.", len(steps))})
	}
	for part := range slices.Chunk(steps, mostRows) {
		out = append(out, drawn(func(o chart.Options) *draw.Picture { return chart.Change(part, o) }))
	}
	if len(c.Slips) == 0 {
		return out
	}
	g := sheet.Grid{Heads: []string{"Slip", "Then", "Now", "Both"}, Shares: []float64{5, 1, 1, 1}}
	for _, s := range c.Slips {
		g.Rows = append(g.Rows, []string{s.Title, fmt.Sprint(s.Before), fmt.Sprint(s.Now), fmt.Sprint(s.Both)})
	}
	return append(out, sheet.Words{Text: "Pupils whose work suggests a slip:"}, g)
}

// shown are the steps that the chart shows, in class order.
func shown(steps []class.Step) []chart.Step {
	least := 0.0
	if len(steps) > mostSteps {
		sizes := make([]float64, len(steps))
		for i, s := range steps {
			sizes[i] = math.Abs(s.Now - s.Before)
		}
		slices.Sort(sizes)
		least = sizes[len(sizes)-mostSteps]
	}
	var out []chart.Step
	for _, s := range steps {
		if math.Abs(s.Now-s.Before) >= least && len(out) < mostSteps {
			out = append(out, chart.Step{Name: s.Pupil, Before: s.Before, Now: s.Now})
		}
	}
	return out
}

func counted(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}
