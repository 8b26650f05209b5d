// Package record is where a teacher speaks a walkthrough: a step at a time, each with its own clip, so that one can be
// said again by itself. The voice stays in the browser; what leaves the page is the file that the teacher saves, a single
// page that plays offline. Opened here again, it gives back its clips, so that a question that was mended needs no new
// recording: steps are known by their IDs, and those whose words have changed are marked.
//
// Times, captions and all files but the voice come from the server, which is told how long each clip is and what the teacher
// says in place of the prepared words. For an MP4 or WebM the voice is sent along; see [film.Queue] for how long it stays.
package record
