package class

import "slices"

// A Cause is what several slips have in common, and what a teacher can do about it in five minutes.
//
// Causes and plans are common practice, no source: groups are made by cause, not by total.
type Cause struct {
	Name  string   // short, for files: "distances"
	Title string   // what the group's five minutes are about
	Slips []string // names of the catalogue
	Plan  []string // the five minutes, step by step
	Try   string   // the next thing for a pupil to try
}

// causes is the one table of causes. Each slip of the catalogue belongs to one.
var causes = []Cause{
	{
		Name: "distances", Title: "Where each distance starts and ends",
		Slips: []string{"all-from-the-end", "one-from-the-end", "midway-between-supports", "arm-to-other-support", "gap-to-neighbour",
			"length-for-span", "mark-for-span", "weight-at-far-end", "uniform-after-all", "middle-anyway", "counted-from-other-end",
			"diameter-for-radius", "two-pivots", "half-the-weight-each-side", "long-side-carries-weight", "spread-at-far-edge",
			"spread-from-the-pivot", "from-the-pivot", "added-not-subtracted"},
		Plan: []string{
			"1 minute: lay a ruler across a finger, with a rubber on it. Move the finger: what has changed, the rubber's place on the ruler or its distance from the finger?",
			"2 minutes: put up a drawing with four forces. Each pupil puts a finger on the pivot and says each distance aloud, from the finger to the line of the force.",
			"2 minutes: the same drawing, with the other support as the pivot. Which distances are new? Which force has none now?",
		},
		Try: "Put a finger on the point that you take moments about, and write beside each force how far it is from your finger.",
	},
	{
		Name: "forces", Title: "Every force once",
		Slips: []string{"weight-left-out-of-moments", "weight-left-out", "load-left-out-of-moments", "load-left-out", "pivot-force-given-moment",
			"other-push-forgotten-end", "other-push-forgotten-middle", "missing-from-balance", "cable-out-of-balance", "per-metre-as-force",
			"couple-of-one-force"},
		Plan: []string{
			"1 minute: show a drawing without forces. What touches the body? Each touch gives a force; then there is its weight.",
			"2 minutes: pupils draw all the forces and count them. Does everybody have as many?",
			"2 minutes: write the line of moments with one term for each force, and say why the force at the pivot has none. The count has to come out.",
		},
		Try: "Draw the body alone with every force on it, count them, and check that each one is in your line, or passes through the pivot.",
	},
	{
		Name: "sharing", Title: "How two supports share",
		Slips: []string{"equal-shares", "nearest-takes-all", "halves-for-the-loads", "half-for-the-weight", "pan-matches-pan", "direct-proportion",
			"force-plus-distance", "other-supports-number"},
		Plan: []string{
			"1 minute: two pupils hold the ends of a metre rule level; a book lies in the middle, then near one end. Who feels more?",
			"2 minutes: guess the two forces before working them out. Which of them is larger, and can either be nothing?",
			"2 minutes: moments about one support, then about the other. Do the two forces add up to the weights?",
		},
		Try: "Before you calculate, say which support pushes more, and why. Then take moments about one of the supports.",
	},
	{
		Name: "senses", Title: "Which way each force turns",
		Slips: []string{"turned-the-wrong-way", "all-turn-one-way", "minus-swept-away", "couple-halved", "couple-doubled", "couple-given-arm", "pair-misdescribed"},
		Plan: []string{
			"1 minute: pin a strip of card at one point and push it with a pencil at each force's place. Clockwise or anticlockwise?",
			"2 minutes: pupils mark each force of a drawing with a curved arrow about the pivot, without any numbers.",
			"2 minutes: write the clockwise terms on one side and the anticlockwise ones on the other. What does a minus sign in the answer say?",
		},
		Try: "Mark each force with a curved arrow for the way in which it would turn the body about your pivot, before you write the line.",
	},
	{
		Name: "angles", Title: "Forces at an angle",
		Slips: []string{"slant-lengths", "one-slant-length", "sine-for-cosine", "whole-force-turns", "whole-tension-in-balance", "hinge-only-up",
			"components-added", "radians", "rounded-too-soon"},
		Plan: []string{
			"1 minute: open a door by pushing along it, slantwise, then squarely. What counts?",
			"2 minutes: pupils draw the line along which a force acts and the shortest way to it from the pivot, and measure it.",
			"2 minutes: which angle of the drawing stands in that triangle? Say sine or cosine only after the triangle has been shaded.",
		},
		Try: "Draw the line along which the force acts, and the shortest way to it from the pivot. Shade the triangle, then choose sine or cosine.",
	},
	{
		Name: "limits", Title: "What happens at the limit",
		Slips: []string{"friction-at-its-limit", "normal-is-the-weight", "both-still-push", "wrong-edge"},
		Plan: []string{
			"1 minute: slide a ruler over a table's edge until it is about to tip. Where does the table still push?",
			"2 minutes: which force has become zero, and which has taken its share? For friction: what do we know before it slips, and what only when it is about to?",
			"2 minutes: pupils write the sentence 'about to tip, so … is zero', or 'about to slip, so …', before any numbers.",
		},
		Try: "Write down first what is true just then: which force has become zero, or which has reached its greatest value.",
	},
	{
		Name: "units", Title: "Mass, weight and units",
		Slips: []string{"mass-as-force", "one-mass-as-force", "times-g-again", "another-g", "length-not-converted", "kilo-lost", "figures-of-the-answer", "unit-of-the-answer"},
		Plan: []string{
			"1 minute: which of these are forces: 12 kg, 118 N, 340 g, 2.4 kN? How do you know?",
			"2 minutes: pupils put a unit behind every number of one line of moments. Does each product come out in the same unit?",
			"2 minutes: change only what has to be changed, and say whether the answer is about as heavy as a bag, a person or a car.",
		},
		Try: "Write the unit behind every number in your line. All the products need the same one.",
	},
	{
		Name: "last-line", Title: "From the line of moments to the answer",
		Slips: []string{"upside-down", "stopped-at-the-moment", "multiplied-not-divided"},
		Plan: []string{
			"1 minute: 6 = 2 × something. What did you do to find it? Now 468 = 2.6 × F.",
			"2 minutes: pupils solve three lines of moments that are already right, and only those.",
			"2 minutes: put each answer back into its line. Does it fit, and is its unit that of what was asked?",
		},
		Try: "Put your answer back into the line that it came from, and see whether both sides agree.",
	},
}

// Causes lists the causes that groups are made by.
func Causes() []Cause { return slices.Clone(causes) }

// causeOf finds the cause of a slip by its name; −1 if it has none.
func causeOf(name string) int {
	return slices.IndexFunc(causes, func(c Cause) bool { return slices.Contains(c.Slips, name) })
}
