package demo

import (
	"time"

	"steelyard/bank"
	"steelyard/homework"
)

// A plan is a set as the invented teacher has it in mind.
type plan struct {
	title         string
	items         []homework.Item
	opens, closes time.Duration // from the beginning of today
	never         bool          // it never closes
	practice      bool
	draft         bool // not given out yet
	handIn        int  // how many of a hundred pupils hand it in, of those who do
	drafts        int  // how many of a hundred of the others have begun
	decided       bool // the teacher has looked at what was asked, and released the marks
	second        bool // the colleague has marked some of it too
	leave         int  // so many of the last hand-ins are left for the marker
	again         bool // some hand in a second time
	policy        string
	show          homework.Show
	rumours       []rumour
}

// A rumour is what several pupils write in the same words, as friends do.
type rumour struct {
	item    int
	part    string
	answer  string // "" keeps the pupil's own
	working string
	every   int // how many pupils have one who writes it
}

const day, hour = 24 * time.Hour, time.Hour

// ofBank is a question of the bank, each pupil with numbers of their own.
func ofBank(name string) homework.Item {
	text, err := bank.Files.ReadFile(name + ".moments")
	if err != nil {
		panic(err) // the bank is built in
	}
	return homework.Item{Question: "bank:" + name, Text: string(text), Own: true}
}

func alike(it homework.Item) homework.Item {
	it.Own = false
	return it
}

// younger are two weeks of sets of the larger class; own is the teacher's own question.
func younger(own homework.Item) []plan {
	usual, practice := homework.UsualShow(false), homework.UsualShow(true)
	return []plan{
		{title: "Turning and balancing", items: []homework.Item{alike(ofBank("tea-tins")), ofBank("market-counter"), own}, opens: -13*day + 8*hour, closes: -6*day + 20*hour,
			handIn: 95, decided: true, second: true, again: true, show: usual},
		{title: "A beam on two supports", items: []homework.Item{ofBank("mooring-plank"), ofBank("choir-riser"), ofBank("lock-footbridge")}, opens: -7*day + 8*hour, closes: -day + 18*hour,
			handIn: 92, again: true, show: usual, rumours: []rumour{
				{item: 2, part: "d", answer: "same as part c", every: 4},
				{item: 1, part: "b", answer: "what is left", working: "all of it minus P", every: 5},
				{item: 0, part: "b", working: "P + Q = 0", every: 5},
			}},
		{title: "Where does it tip?", items: []homework.Item{ofBank("board-tips"), ofBank("jetty-board")}, opens: -2*day + 8*hour, closes: 4*day + 18*hour,
			handIn: 45, drafts: 50, leave: 2, show: usual},
		{title: "Practice: moments about any point", items: []homework.Item{alike(ofBank("puppet-rail")), alike(ofBank("boat-trailer"))}, opens: -10*day + 8*hour, never: true,
			practice: true, handIn: 45, drafts: 40, show: practice},
		{title: "Balances and unknown weights", items: []homework.Item{ofBank("herb-balance"), ofBank("mass-of-a-rule")}, opens: 3*day + 8*hour, closes: 10*day + 18*hour, show: usual},
		{title: "Before the test", items: []homework.Item{ofBank("sluice-bar"), ofBank("signal-arm")}, opens: 9*day + 8*hour, closes: 12*day + 18*hour, draft: true, show: usual},
	}
}

// older are those of the smaller class.
func older(own homework.Item) []plan {
	usual := homework.UsualShow(false)
	return []plan{
		{title: "Forces at an angle", items: []homework.Item{ofBank("stall-sign"), own}, opens: -12*day + 8*hour, closes: -4*day + 18*hour, handIn: 95, decided: true,
			policy: "unit needed: no", show: usual},
		{title: "Hinges and ladders", items: []homework.Item{ofBank("drying-rack"), ofBank("library-ladder")}, opens: -day + 8*hour, closes: 6*day + 18*hour, handIn: 35, drafts: 60, leave: 1, show: usual},
	}
}
