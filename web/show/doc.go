// Package show is the room for explaining a question in front of a class: a step at a time on the projector, and what
// to say in a second window. Every step is a page of its own with links to the others; the script keeps the next one
// ready, and both windows together.
package show
