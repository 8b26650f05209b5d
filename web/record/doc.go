// Package record is where a teacher speaks a walkthrough: a step at a time, each with its own clip, so that one can be
// said again by itself. The voice stays in the browser; what leaves the page is the file that the teacher saves, a single
// page that plays offline. Opened here again, it gives back its clips, so that a question that was mended needs no new
// recording: steps are known by their IDs, and those whose words have changed are marked.
package record
