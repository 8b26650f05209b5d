package homework

import "time"

// A Set is questions for a class, with the rules that they are worked and marked by.
type Set struct {
	ID, Class string
	Title     string
	Seed      string    // with a pupil's ID it fixes that pupil's numbers
	Practice  bool      // each line is marked at once, with hints; nothing counts
	Policy    string    // as mark.ParsePolicy reads it
	Opens     time.Time // zero: at once
	Closes    time.Time // zero: never
	Show      Show
	Items     []Item
	For       []string  // the pupils it is for, by ID; empty: the whole class
	Follows   string    // the set that this one follows up; may be empty
	Given     time.Time // when it was given out; zero: still a draft of the teacher's
	Released  time.Time // when marks were released; zero: not yet
	Version   int       // counts changes, so that two teachers cannot overwrite each other
}

// An Item is one question of a set. Its text is a copy: later changes to the question don't reach it.
type Item struct {
	Question string // ID of the teacher's question; "bank:NAME" for one of the bank
	Text     string // the notation
	Own      bool   // each pupil has numbers of their own
}

// A Show says when pupils see what.
type Show struct{ Hints, Marks, Feedback, Solution When }

// A When is a moment in the life of a set.
type When uint8

const (
	Never    When = iota
	Always        // as soon as it is open
	HandedIn      // once this pupil has handed in
	Closed        // once it has closed for this pupil
	Released      // once the teacher has released the marks
)

// Numbers are a pupil's own: the text of an item's question with that pupil's numbers.
type Numbers struct {
	Set   string
	Item  int // counts from 0
	Pupil string
	Text  string
}
