package solution

import "steelyard/question"

// The ladders of hints for parts that are not worked out by an equation of equilibrium; {thing} is what the part
// is about and {about} its point.
//
// Common practice, no source.
var ladders = map[question.Ask][]string{
	question.AskMoment: {
		"What does a moment measure: how hard something pushes, or how strongly it turns?",
		"Which two quantities are multiplied to give a moment?",
		"Where is {about}, and where is the line of action of {thing}?",
		"Draw the line of action of {thing} and make it longer. Which point of it is nearest to {about}?",
		"At what angle does the shortest line from {about} meet the line of action?",
		"How long is that perpendicular distance? From where to where did you measure?",
		"Which way would {thing} alone turn the body about {about}?",
		"Has your answer a size, a unit and a sense?",
	},
	question.AskTotalMoment: {
		"Which forces have a moment about {about}, and does any of them pass through it?",
		"Which forces count here: all of them, or only the loads and weights?",
		"How far from {about} is each line of action?",
		"Does each distance start from {about}, or from the end of the body?",
		"Which of them turn the body clockwise about {about}, and which anticlockwise?",
		"What is each single moment?",
		"Which way do you count as positive? What do they add up to, signs included?",
		"Has your answer a size, a unit and a sense?",
	},
	question.AskResultant: {
		"What would one single force have to do to replace all of them?",
		"Which two things must be the same for that one force as for all of them together?",
		"How large is it, and which way does it point?",
		"About which point will you compare moments?",
		"What is the moment of each force about that point?",
		"What is the moment of all of them together, signs included?",
		"How far from that point must the one force act to have the same moment?",
		"From where is the position to be measured?",
	},
	question.AskCentre: centreLadder,
	question.AskMass:   centreLadder,
	question.AskAngle: {
		"How many forces act on the body, and where?",
		"If only two forces act and the body is at rest, what do you know about their lines of action?",
		"Where must the centre of mass be, compared with the point it hangs from?",
		"Draw the line from that point to the centre of mass. Which way does it point in space?",
		"How far is the centre of mass from the point, along each side of the body?",
		"Which right-angled triangle holds the angle that is asked for?",
		"Which side is opposite that angle, and which is next to it?",
		"Would the body look right, drawn at that angle?",
	},
	question.AskWhether: {
		"How could it start to move: turn about something, or slide?",
		"If it turned, which point would stay where it is?",
		"Which forces would turn it that way, and which would turn it back?",
		"How far from that point is each line of action?",
		"What are the two totals of moments about that point?",
		"Could a support make up the difference? Would it have to pull where it can only push?",
		"If something is rough: how much friction is needed, and how much can there be?",
		"Does your answer say what happens, which way, and why?",
	},
}

// centreLadder is the ladder of a body made of pieces.
var centreLadder = []string{
	"Which simple pieces is the body made of? Is any of them a hole?",
	"Where is the centre of mass of each piece on its own?",
	"What stands for the mass of each piece: its mass, its length or its area?",
	"From which corner do you measure, and in which two directions?",
	"Make a table: a row for each piece, its mass and the two distances. Is every distance measured from that corner?",
	"What is mass times distance for each row?",
	"How does the moment of the whole about the corner compare with the sum for the pieces?",
	"Does your point lie where you would try to balance the body?",
}

// rangeLadder is the ladder of a force that equilibrium leaves open.
var rangeLadder = []string{
	"Which forces are unknown? How many are there?",
	"How many independent equations does equilibrium give here?",
	"Can that many equations fix that many unknowns?",
	"What can a rest not do? What does that say about each force?",
	"Which other support has just lost contact when the force at {thing} is greatest?",
	"With that one gone, about which point would you take moments?",
	"Could the others hold the body without {thing}? What does that say about the least value?",
	"Does your answer give a least and a greatest value, and say why it cannot say more?",
}

// partsLadder is the ladder of a force that is put together from its two parts.
var partsLadder = []string{
	"Which parts of the force at {thing} do you know already?",
	"In which two directions do they point? What is the angle between them?",
	"Sketch the two as arrows, one starting where the other ends. Where does the resultant go?",
	"What kind of triangle is it? Which side is the resultant?",
	"How do you find the longest side of such a triangle from the other two?",
	"Which ratio of the two sides gives the angle to the horizontal?",
	"To which side, and above or below the horizontal, does the resultant point?",
	"Is it longer than each of the two, and shorter than both together?",
}

// plainLadder is the ladder of anything else.
var plainLadder = []string{
	"What is asked for: a force, a moment, a place, or a reason? What would its unit be?",
	"Sketch the body alone. Which things touch it?",
	"Which forces act on it, and where does each of them act?",
	"Which of these forces are given, and which can take any size that is needed?",
	"What can each support not do? Can it pull as well as push?",
	"What is about to change at the moment that is asked about?",
	"Which point, or which direction, leaves fewest unknowns?",
	"Does your answer say what happens, which way, and why?",
}
