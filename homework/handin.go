package homework

import "time"

// An Answer is what a pupil has for one part of one item.
type Answer struct {
	Item    int    // counts from 0
	Part    string // "a"
	Answer  string
	Working string // lines separated by line breaks
}

// A Draft is an answer that is not handed in yet.
type Draft struct {
	Set, Pupil string
	Answer
	Rev int64 // counts the pupil's changes; an older one never replaces a newer one
	At  time.Time
}

// A HandIn is all that a pupil hands in for a set, at once. Until the set closes a later one replaces it; all are kept.
type HandIn struct {
	ID, Set, Pupil string
	Key            string // made by the page: the same key twice is the same hand-in
	Receipt        string // what the pupil is given to quote
	At             time.Time
	Answers        []Answer
}

// A Marking is what the marker made of one part of a hand-in, kept as it was said.
type Marking struct {
	HandIn, Set, Pupil string
	Item               int
	Part               string
	Marks, Of          int
	Asks               bool   // the marker wants a person to look
	Record             string // JSON, as mark.Part writes it
}

// A Decision is what a teacher decided about one part; the last one counts, all are kept.
type Decision struct {
	ID, Set, Pupil string
	HandIn         string // what the teacher looked at
	Item           int
	Part           string
	Mark           int
	Reason         string
	By             string // the teacher's ID
	At             time.Time
}
