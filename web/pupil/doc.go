// Package pupil holds the pupil's pages: sets to do, the page that they are worked on, and what came of it.
package pupil
