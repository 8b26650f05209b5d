// Package slides gives the explanation of a question for taking away: slides, presentations and documents, whole or as
// far as the arithmetic. The steps are those of the show; the script is in the notes.
package slides
