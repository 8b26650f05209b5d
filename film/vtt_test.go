package film_test

import (
	"fmt"
	"os/exec"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"steelyard/bank"
	"steelyard/film"
	"steelyard/show"
)

// A cue as it is read back.
type cue struct {
	id         string
	start, end time.Duration
	text       string
}

var timing = regexp.MustCompile(`^(?:(\d{2,}):)?([0-5]\d):([0-5]\d)\.(\d{3})[ \t]+-->[ \t]+(?:(\d{2,}):)?([0-5]\d):([0-5]\d)\.(\d{3})$`)

// readVTT reads WebVTT strictly, and of it only what we write: no styles, regions, settings, comments or tags.
//
// Source: W3C, "WebVTT: The Web Video Text Tracks Format", sections on the file structure and on cue payloads.
func readVTT(text string) (out []cue, err error) {
	if !utf8.ValidString(text) {
		return nil, fmt.Errorf("it is not UTF-8")
	}
	lines := strings.Split(text, "\n")
	if lines[0] != "WEBVTT" || len(lines) < 2 || lines[1] != "" {
		return nil, fmt.Errorf("it begins with %q", lines[0])
	}
	ids := map[string]bool{}
	var last time.Duration
	for _, block := range strings.Split(strings.Trim(strings.Join(lines[2:], "\n"), "\n"), "\n\n") {
		if block == "" {
			break
		}
		c, err := readCue(strings.Split(block, "\n"))
		switch {
		case err != nil:
			return nil, fmt.Errorf("%q: %w", block, err)
		case ids[c.id]:
			return nil, fmt.Errorf("there are two cues %s", c.id)
		case c.start < last:
			return nil, fmt.Errorf("cue %s begins before the one before it", c.id)
		}
		ids[c.id], last = true, c.start
		out = append(out, c)
	}
	return out, nil
}

func readCue(lines []string) (cue, error) {
	if len(lines) < 3 {
		return cue{}, fmt.Errorf("no identifier, times and text")
	}
	c := cue{id: lines[0]}
	if strings.Contains(c.id, "-->") {
		return c, fmt.Errorf("an arrow in the identifier")
	}
	m := timing.FindStringSubmatch(lines[1])
	if m == nil {
		return c, fmt.Errorf("these are no times")
	}
	c.start, c.end = at(m[1:5]), at(m[5:9])
	if c.end <= c.start {
		return c, fmt.Errorf("it ends before it begins")
	}
	for _, l := range lines[2:] {
		bare := strings.NewReplacer("&amp;", "", "&lt;", "", "&gt;", "").Replace(l)
		if strings.TrimSpace(l) == "" || strings.ContainsAny(bare, "&<>\r") {
			return c, fmt.Errorf("a line is empty, or has a sign in it that must be escaped")
		}
	}
	c.text = strings.NewReplacer("&amp;", "&", "&lt;", "<", "&gt;", ">").Replace(strings.Join(lines[2:], "\n"))
	return c, nil
}

func at(m []string) time.Duration {
	var n [4]int
	for i, s := range m {
		fmt.Sscan(strings.TrimLeft(s, "0")+" ", &n[i])
	}
	return time.Duration(n[0])*time.Hour + time.Duration(n[1])*time.Minute + time.Duration(n[2])*time.Second + time.Duration(n[3])*time.Millisecond
}

var broken = regexp.MustCompile(`\d\n(newton|kilonewton|metre|centimetre|millimetre|degree|kilogram|gram|tonne)`)

// Of every question of the bank: the file is strict WebVTT, the captions are the script, of at most two lines of 40
// characters, up to 8 s and no more than 20 characters a second; no line ends between a number and what it counts.
// Lengths and pace are common practice, no source.
func TestCaptionsOfTheBank(t *testing.T) {
	for _, name := range bank.Names() {
		f := of(t, name)
		cues, err := readVTT(string(f.Captions()))
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		var all []string
		for i, c := range cues {
			all = append(all, c.text)
			lines := strings.Split(c.text, "\n")
			for _, l := range lines {
				if n := utf8.RuneCountInString(l); n > 40 {
					t.Errorf("%s %s: %d characters in %q", name, c.id, n, l)
				}
			}
			length := c.end - c.start
			if pace := float64(utf8.RuneCountInString(c.text)) / length.Seconds(); len(lines) > 2 || length > 8*time.Second || pace > 20 {
				t.Errorf("%s %s: %d lines, %s, %.0f characters a second", name, c.id, len(lines), length, pace)
			}
			if i > 0 && c.start < cues[i-1].end {
				t.Errorf("%s %s: it begins before the one before it ends", name, c.id)
			}
			if i > 0 && broken.MatchString(cues[i-1].text+"\n"+c.text) {
				t.Errorf("%s %s: a number and its unit are apart: %q", name, c.id, c.text)
			}
		}
		var script []string
		for i := range f.Talk.Steps {
			s := &f.Talk.Steps[i]
			script = append(script, s.Say)
			if !strings.HasSuffix(s.Say, s.Ask) {
				script = append(script, s.Ask)
			}
		}
		if got, want := plain(strings.Join(all, " ")), plain(strings.Join(script, " ")); got != want {
			t.Errorf("%s: the captions say\n%s\nand the script\n%s", name, got, want)
		}
		chapters, err := readVTT(string(f.ChapterTrack()))
		if err != nil || len(chapters) != len(f.Chapters()) || chapters[len(chapters)-1].end != f.Times.End {
			t.Errorf("%s: %d chapters, %v", name, len(chapters), err)
		}
		for i := 1; i < len(chapters); i++ {
			if chapters[i].start != chapters[i-1].end {
				t.Errorf("%s: chapter %s does not begin where the one before ends", name, chapters[i].id)
			}
		}
	}
}

func plain(s string) string { return strings.Join(strings.Fields(s), " ") }

// ffmpeg's own reader finds as many cues.
func TestAnotherReaderFindsAllCaptions(t *testing.T) {
	need(t, "ffmpeg")
	f := of(t, "allotment-gate.moments")
	c := exec.Command("ffmpeg", "-v", "error", "-f", "webvtt", "-i", "pipe:0", "-f", "srt", "-")
	c.Stdin = strings.NewReader(string(f.Captions()))
	out, err := c.Output()
	if got, want := strings.Count(string(out), " --> "), len(f.Cues()); err != nil || got != want {
		t.Errorf("%d captions, want %d; %v", got, want, err)
	}
}

// What a question's own words bring in does no harm to a file of captions.
func FuzzCaptions(f *testing.F) {
	k := talk(f, "balanced-rule.moments")
	for _, s := range []string{"Take moments about Q.", "a --> b & <i>c</i>", "x\n\ny", "WEBVTT\n\nNOTE", "9.81 newtons per kilogram, 30 degrees", strings.Repeat("long", 40), "", "\u00a0", "\u2028"} {
		f.Add(s, "title "+s)
	}
	f.Fuzz(func(t *testing.T, say, title string) {
		if len(say) > 2000 || len(title) > 2000 {
			return
		}
		one := &show.Talk{Title: title, Steps: slices.Clone(k.Steps[:2])}
		one.Steps[0].Say, one.Steps[0].Title, one.Steps[0].Ask = say, title, ""
		made := film.New(one, film.Pace)
		cues, err := readVTT(string(made.Captions()))
		if err != nil {
			t.Fatal(err)
		}
		if len(cues) != len(made.Cues()) {
			t.Errorf("%d cues read, %d written", len(cues), len(made.Cues()))
		}
		if _, err := readVTT(string(made.ChapterTrack())); err != nil {
			t.Fatal(err)
		}
	})
}

func FuzzReadVTT(f *testing.F) {
	f.Add("WEBVTT\n\na\n00:00.000 --> 00:01.000\nx\n")
	f.Add("WEBVTT\n\n00:00.000 --> 00:01.000\nx\n")
	f.Add("WEBVTT\n\nSTYLE\n")
	f.Fuzz(func(t *testing.T, text string) {
		cues, err := readVTT(text)
		if err == nil && len(cues) != strings.Count(text, "-->") {
			t.Errorf("%d cues of %q", len(cues), text)
		}
	})
}

// The captions that the strict reader refuses.
func TestReaderIsStrict(t *testing.T) {
	for _, text := range []string{
		"", "WEBVTT", "WEBVT\n\n", "\ufeffWEBVTT\n\na\n00:00.000 --> 00:01.000\nx\n",
		"WEBVTT\n\na\n00:00.00 --> 00:01.000\nx\n", "WEBVTT\n\na\n00:00.000 -> 00:01.000\nx\n", "WEBVTT\n\na\n0:00:00.000 --> 00:01.000\nx\n",
		"WEBVTT\n\na\n00:61.000 --> 02:01.000\nx\n", "WEBVTT\n\na\n00:01.000 --> 00:01.000\nx\n", "WEBVTT\n\na\n00:00.000 --> 00:01.000\n",
		"WEBVTT\n\na\n00:00.000 --> 00:01.000\nx & y\n", "WEBVTT\n\na\n00:00.000 --> 00:01.000\nx\n\na\n00:02.000 --> 00:03.000\ny\n",
		"WEBVTT\n\na\n00:02.000 --> 00:03.000\nx\n\nb\n00:01.000 --> 00:03.000\ny\n",
	} {
		if cues, err := readVTT(text); err == nil {
			t.Errorf("%q is read as %v", text, cues)
		}
	}
}
