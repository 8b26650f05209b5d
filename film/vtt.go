package film

import (
	"bytes"
	"fmt"
	"strings"
	"time"
)

// Captions are the captions of a film as WebVTT.
func (f *Film) Captions() []byte { return vtt(f.Cues()) }

// ChapterTrack are the chapters of a film as WebVTT.
func (f *Film) ChapterTrack() []byte { return vtt(f.Chapters()) }

// vtt writes cues. Styles are left out: ffmpeg 5.1 reads nothing after them.
func vtt(cues []Cue) []byte {
	var b bytes.Buffer
	b.WriteString("WEBVTT\n")
	for _, c := range cues {
		fmt.Fprintf(&b, "\n%s\n%s --> %s\n", c.ID, stamp(c.Start), stamp(c.End))
		for _, l := range c.Lines {
			b.WriteString(escaped.Replace(strings.ToValidUTF8(l, "\ufffd")) + "\n")
		}
	}
	return b.Bytes()
}

var escaped = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", "\n", " ", "\r", " ", "\x00", "\ufffd")

// stamp is a time with its hours, as every reader takes it.
func stamp(d time.Duration) string {
	ms := d.Milliseconds()
	return fmt.Sprintf("%02d:%02d:%02d.%03d", ms/3_600_000, ms/60_000%60, ms/1000%60, ms%1000)
}

// clock is a time as people write it.
func clock(d time.Duration) string {
	s := int(d.Round(time.Second).Seconds())
	if s >= 3600 {
		return fmt.Sprintf("%d:%02d:%02d", s/3600, s/60%60, s%60)
	}
	return fmt.Sprintf("%d:%02d", s/60, s%60)
}
