package report

import (
	"fmt"
	"slices"
	"strings"

	"steelyard/chart"
	"steelyard/class"
	"steelyard/draw"
	"steelyard/homework"
	"steelyard/mark"
	"steelyard/sheet"
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
		Kind:  fmt.Sprintf("%s, %s", Counted(p.Pupils, "pupil", "pupils"), Counted(p.Of, "mark", "marks")),
	}
	put := func(pieces ...sheet.Piece) { r.Pieces = append(r.Pieces, pieces...) }
	if !c.Plain {
		put(sheet.Words{Text: AboutPicture})
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
	return []sheet.Piece{
		sheet.Heading{Text: SpreadHead},
		drawn(func(o chart.Options) *draw.Picture { return chart.Spread(p.Marks, p.Of, o) }),
		sheet.Words{Text: Spread(p)},
	}
}

func partPieces(p *class.Picture) []sheet.Piece {
	g := sheet.Grid{Heads: []string{"Part", "Mean", "Blank", "What it tells"}, Shares: []float64{1, 1.6, 1, 5}}
	bars := make([]chart.Bar, len(p.Parts))
	for i, row := range p.Parts {
		bars[i] = chart.Bar{Name: "(" + row.Name + ")", Facility: row.Facility, Discrimination: row.Discrimination}
		g.Rows = append(g.Rows, []string{"(" + row.Name + ")", fmt.Sprintf("%s of %d", Tenth(row.Mean), row.Of), fmt.Sprint(row.Blank), partTells(&row)})
	}
	return []sheet.Piece{
		sheet.Heading{Text: PartsHead},
		sheet.Words{Text: AboutParts},
		drawn(func(o chart.Options) *draw.Picture { return chart.Parts(bars, o) }),
		g,
	}
}

// partTells says in words what a part's numbers tell, and how many pupils the marker asks about.
func partTells(r *class.PartRow) string {
	out := r.Tells()
	if r.Asked > 0 {
		out = append(out, Counted(r.Asked, "pupil", "pupils")+" for you to look at")
	}
	return Upper(strings.Join(out, "; "))
}

// Limits on the matrix, so that it can be read: columns, and rows to a picture.
const (
	mostColumns = 12
	mostRows    = 15 // so that it fits on a page of large print too
)

func slipPieces(p *class.Picture) []sheet.Piece {
	out := []sheet.Piece{sheet.Heading{Text: SlipsHead}}
	if len(p.Slips) == 0 {
		return append(out, sheet.Words{Text: NoSlips})
	}
	g := sheet.Grid{Heads: []string{"Key", "Slip", "Pupils", "The surest"}, Shares: []float64{0.7, 4, 1, 3}}
	var keys, long []string
	rows := map[string][]float64{}
	var order []string
	for i, s := range p.Slips {
		if i == mostColumns {
			out = append(out, sheet.Words{Text: fmt.Sprintf("%s of fewer pupils are left out here.", Counted(len(p.Slips)-i, "slip", "slips"))})
			break
		}
		keys, long = append(keys, string(rune('A'+i))), append(long, s.Title)
		for _, w := range s.Who {
			if rows[w.Pupil] == nil {
				rows[w.Pupil] = make([]float64, min(mostColumns, len(p.Slips)))
				order = append(order, w.Pupil)
			}
			rows[w.Pupil][i] = w.Sure
		}
		g.Rows = append(g.Rows, []string{keys[i], s.Title, fmt.Sprint(len(s.Who)), Surest(s.Who)})
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
		out = append(out, sheet.Heading{Text: GroupsHead}, sheet.Words{Text: AboutGroups})
	}
	for i := range p.Groups {
		g := &p.Groups[i]
		out = append(out, sheet.Heading{Text: fmt.Sprintf("Group %d: %s", i+1, Lower(g.Cause.Title))},
			sheet.Words{Text: Who(g)})
		if then := Then(g); then != "" {
			out = append(out, sheet.Words{Text: then})
		}
		if g.Whole {
			out = append(out, sheet.Words{Text: WholeClass, Bold: true})
		}
		out = append(out, sheet.Words{Text: Suggests(g)}, sheet.List{Items: g.Cause.Plan})
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
		single = append(single, s.Pupil+": "+Lower(s.Cause.Title))
	}
	if len(single) > 0 {
		out = append(out, sheet.Heading{Text: SingleHead}, sheet.List{Items: single})
	}
	if len(p.Small) > 0 {
		out = append(out, sheet.Heading{Text: SmallHead},
			sheet.Words{Text: Small(p)})
	}
	if len(p.Unclear) == 0 {
		return out, nil
	}
	out = append(out, sheet.Heading{Text: UnclearHead},
		sheet.Words{Text: Unclear(p)})
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

func changePieces(c *class.Change) []sheet.Piece {
	out := []sheet.Piece{sheet.Heading{Text: "Since last time"}}
	if len(c.Steps) == 0 {
		return append(out, sheet.Words{Text: "Nobody has marks from both times; are names and codes the same as then?"})
	}
	out = append(out, sheet.Words{Text: Changed(c)})
	steps := Steps(c.Steps)
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
