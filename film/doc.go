// Package film makes a talk into something that plays by itself: a single page that needs no network, a film,
// captions, chapters, a transcript and a poster.
//
// A film without a voice keeps the pace of somebody who reads its script aloud; one with a voice follows the times at
// which its steps were taken. Everything but the film files is computed here; those are made by the program ffmpeg,
// where it is there, as a process of its own.
//
// Sources: W3C, "WebVTT: The Web Video Text Tracks Format" (captions, chapters); WCAG 2.2, guideline 1.2 (what films owe
// those who can't hear or see them). Pace, length and breaks of captions are common practice, no source.
package film
