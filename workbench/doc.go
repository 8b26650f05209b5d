// Package workbench shows and edits a question while it is being made: a text in, and everything about it out; a text
// and an edit in, and the new text out.
//
// Places, lengths and steps of handles are in SI units (metres; radians for angles), what is on a picture in points, y down.
// Edits change as few characters as they can: the writer's unit, figures, spaces and comments stay. What would leave the
// text unreadable is refused.
package workbench
