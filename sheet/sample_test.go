package sheet

import (
	"math"

	"steelyard/draw"
	"steelyard/formula"
	"steelyard/solution"
)

// plankPicture is a drawing by hand, so that this package is tested without package figure.
func plankPicture(d Drawing) *draw.Picture {
	s := d.TextSize
	w, base := d.Width, 5*s
	line := draw.Style{Stroke: draw.Black, Width: s / 9}
	thin := draw.Style{Stroke: draw.Grey, Width: s / 14}
	at := func(metres float64) float64 { return s + (w-2*s)*metres/4.8 }
	rest := func(x float64) draw.Mark {
		return draw.Line{Points: []draw.Point{{X: x, Y: base + s*0.8}, {X: x - s*0.8, Y: base + 2.4*s}, {X: x + s*0.8, Y: base + 2.4*s}},
			Closed: true, Style: draw.Style{Stroke: draw.Black, Width: s / 9, Fill: draw.Mist}}
	}
	name := func(x, y float64, text string) draw.Mark {
		return draw.Text{At: draw.Point{X: x, Y: y}, Anchor: draw.Centre, Size: s, Ink: draw.Black, Runs: []draw.Run{{Text: text}}}
	}
	length := func(from, to, y float64, text string) draw.Mark {
		return draw.Group{Class: "dimension", Marks: []draw.Mark{
			draw.Line{Points: []draw.Point{{X: at(from), Y: y}, {X: at(to), Y: y}}, Style: thin},
			draw.Line{Points: []draw.Point{{X: at(from), Y: y - s/2}, {X: at(from), Y: y + s/2}}, Style: thin},
			draw.Line{Points: []draw.Point{{X: at(to), Y: y - s/2}, {X: at(to), Y: y + s/2}}, Style: thin},
			name((at(from)+at(to))/2, y-0.35*s, text),
		}}
	}
	return &draw.Picture{
		Width: w, Height: 12.5 * s, Title: "A level plank on two sills, with a keeper standing on it",
		Description: "Plank 4.80 m long, uniform, weight 310 N. Distances from its left end: sill P 0.60 m; lock keeper K 1.50 m, weight 540 N; sill Q 4.20 m.",
		Marks: []draw.Mark{
			draw.Line{Points: []draw.Point{{X: at(0), Y: base}, {X: at(4.8), Y: base}, {X: at(4.8), Y: base + 0.8*s}, {X: at(0), Y: base + 0.8*s}}, Closed: true,
				Style: draw.Style{Stroke: draw.Black, Width: s / 9, Fill: draw.Shade}},
			rest(at(0.6)), rest(at(4.2)), name(at(0.6), base+3.6*s, "P"), name(at(4.2), base+3.6*s, "Q"),
			draw.Arc{Centre: draw.Point{X: at(1.5), Y: base - 2.6*s}, Radius: 0.5 * s, From: 0, To: 2 * math.Pi, Style: line},
			draw.Line{Points: []draw.Point{{X: at(1.5), Y: base - 2.1*s}, {X: at(1.5), Y: base - 0.9*s}, {X: at(1.5) - 0.5*s, Y: base}}, Style: line},
			draw.Line{Points: []draw.Point{{X: at(1.5), Y: base - 0.9*s}, {X: at(1.5) + 0.5*s, Y: base}}, Style: line},
			name(at(1.5), base-3.6*s, "K, 540\u00a0N"),
			length(0, 0.6, base+5.6*s, "0.60\u00a0m"), length(0.6, 1.5, base+5.6*s, "0.90\u00a0m"), length(0, 4.8, base+7.2*s, "4.80\u00a0m"),
		},
	}
}

func num(digits, unit string) formula.Node { return formula.Given(digits, unit) }

func force(name string) formula.Node {
	return formula.Symbol("R", name, "the force at "+name, math.NaN())
}

// footbridge is a question with its solution, all by hand.
func footbridge() Item {
	moments := formula.Equal(
		formula.Times(force("Q"), num("3.60", "m")),
		formula.Add(formula.Times(num("540", "N"), num("0.90", "m")), formula.Times(num("310", "N"), num("1.80", "m"))))
	solved := formula.Equal(force("Q"),
		formula.Frac(formula.Add(formula.Times(num("540", "N"), num("0.90", "m")), formula.Times(num("310", "N"), num("1.80", "m"))), num("3.60", "m")))
	result := formula.Equal(force("Q"), formula.Rounded("290", "N"))
	arm := formula.Equal(formula.Add(num("4.20", "m"), formula.Minus(num("0.60", "m"))), num("3.60", "m"))
	say := func(text string) solution.Piece { return solution.Piece{Text: text} }
	math := func(n formula.Node) solution.Piece { return solution.Piece{Math: &n} }
	routeQ := solution.Route{Name: "moments about P", Steps: []solution.Step{
		{Kind: solution.Setting, Say: []solution.Piece{say("The plank is in equilibrium under four forces: its weight, the lock keeper's weight, and the forces of the two sills.")},
			View: &solution.View{Body: "plank", PivotName: "P"}},
		{Kind: solution.Choosing, Say: []solution.Piece{say("Take moments about P: the force "), math(force("P")), say(" passes through P, so it has no moment there, and "),
			math(force("Q")), say(" is the only unknown left. Its perpendicular distance from P is "), math(arm), say(".")}},
		{Kind: solution.Stating, Say: []solution.Piece{say("Principle of moments: for a body in equilibrium, the total anticlockwise moment about any point equals the total clockwise moment about that point.")}},
		{Kind: solution.Writing, Lines: []solution.Line{{Formula: moments, Marks: []solution.Mark{
			{Code: "M1", For: "moments about P, all three terms", Guidance: "allow one wrong distance"},
			{Code: "A1", For: "all distances right"}}}}},
		{Kind: solution.Solving, Lines: []solution.Line{{Formula: solved}}},
		{Kind: solution.Result, Lines: []solution.Line{{Formula: result, Note: "upwards, on the plank", Marks: []solution.Mark{{Code: "A1", For: "value with unit", Guidance: "accept 289 N to 291 N; follow-through from one wrong distance in the line before"}}}}},
	}}
	other := solution.Route{Name: "moments about the middle, with the balance of forces", Steps: []solution.Step{
		{Kind: solution.Writing, Lines: []solution.Line{{Formula: formula.Equal(formula.Times(force("P"), num("1.80", "m")),
			formula.Add(formula.Times(force("Q"), num("1.80", "m")), formula.Times(num("540", "N"), num("0.90", "m")))),
			Marks: []solution.Mark{{Code: "M1", For: "moments about the middle"}}}}}}}
	ladder := formula.Equal(formula.Symbol("F", "", "the friction", 0), formula.Times(formula.Symbol("μ", "", "mu", 0), formula.Symbol("N", "", "the normal force", 0)))
	third := solution.Route{Name: "Newton's third law", Steps: []solution.Step{
		{Kind: solution.Reading, Say: []solution.Piece{say("The plank pushes on Q as hard as Q pushes on the plank, the other way: 290\u00a0N downwards, on the sill.")},
			Lines: []solution.Line{{Formula: formula.Equal(force("Q"), formula.Sqrt(formula.Add(formula.Square(formula.Symbol("X", "", "X", 0)), formula.Square(formula.Frac(num("3", "N"), num("4", "")))))),
				Marks: []solution.Mark{{Code: "B1", For: "size and direction, on the sill"}}}, {Formula: ladder}}}}}
	return Item{
		Title: "Lock footbridge",
		Wording: []string{
			"A uniform plank of length 4.80 m and weight 310 N rests on two sills, P at 0.60 m and Q at 4.20 m from its left end. It serves as a footbridge over a lock.",
			"A lock keeper K of weight 540 N stands 1.50 m from the left end. Take g = 9.81 N/kg.",
		},
		Parts: []Part{
			{Name: "a", Text: "Find the force of the sill Q on the plank.", Marks: 3, Label: "force of Q on the plank", Unit: "N", Answer: "290 N upwards"},
			{Name: "b", Text: "Write down the size and the direction of the force of the plank on the sill Q, and name the law that you used.", Marks: 1, Prose: true, Answer: "290 N downwards"},
			{Name: "c", Text: "How far towards the left end can the lock keeper walk before the plank begins to tip? Give the distance from the left end.", Marks: 3, Label: "distance from the left end", Unit: "m", Answer: "0 m"},
		},
		Picture: plankPicture,
		View: func(v solution.View, d Drawing) *draw.Picture {
			p := plankPicture(d)
			p.Title = "Forces on the " + v.Body + ", moments about " + v.PivotName
			return p
		},
		Solution: &solution.Solution{
			Question: "Lock footbridge",
			Parts: []solution.Worked{
				{Name: "a", Asked: "force of Q on the plank", Routes: []solution.Route{routeQ, other}, Answer: solution.Answer{Formula: result, Words: "290 N upwards, on the plank"}},
				{Name: "b", Asked: "force of the plank on Q", Routes: []solution.Route{third}, Answer: solution.Answer{Words: "290 N downwards, on the sill Q"}},
			},
			Check: []solution.Step{{Kind: solution.Checking, Say: []solution.Piece{say("About the left end, a point not used so far:")},
				Lines: []solution.Line{{Formula: formula.Equal(formula.Add(formula.Times(num("560", "N"), num("0.60", "m")), formula.Times(num("290", "N"), num("4.20", "m"))),
					formula.Add(formula.Times(num("540", "N"), num("1.50", "m")), formula.Times(num("310", "N"), num("2.40", "m"))), formula.Rounded("1554", "N m"))}}}},
			Safety: "If you try this with a real plank, keep it low, one person at a time, with somebody beside it; your school's own rules decide.",
		},
	}
}

func sampleSet() Set {
	second := footbridge()
	second.Title, second.Safety = "Mooring plank", "Lift planks with two people, backs straight."
	second.Parts = second.Parts[:2]
	return Set{Title: "Moments: two supports", Code: "Numbers 017", Items: []Item{footbridge(), second}}
}
