package film_test

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"image"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"steelyard/film"
)

// need skips a test where a program is missing; in CI it fails.
func need(t testing.TB, program string) {
	t.Helper()
	if _, err := exec.LookPath(program); err != nil {
		if os.Getenv("CI") != "" {
			t.Fatalf("%s is missing", program)
		}
		t.Skipf("%s is missing", program)
	}
}

// probed is what ffprobe tells of a film.
type probed struct {
	Streams []struct {
		Type          string `json:"codec_type"`
		Name          string `json:"codec_name"`
		Width, Height int
		Tags          map[string]string
	}
	Chapters []struct {
		Start string `json:"start_time"`
		Tags  map[string]string
	}
	Format struct{ Duration string }
}

func probe(t *testing.T, path string) (p probed) {
	t.Helper()
	out, err := exec.Command("ffprobe", "-v", "error", "-show_streams", "-show_chapters", "-show_format", "-of", "json", path).Output()
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(out, &p); err != nil {
		t.Fatal(err)
	}
	return p
}

// tone is a sound of a length, made by ffmpeg.
func tone(t *testing.T, seconds float64, codec, format string) []byte {
	t.Helper()
	out, err := exec.Command("ffmpeg", "-v", "error", "-f", "lavfi", "-i", fmt.Sprintf("sine=frequency=300:duration=%g", seconds), "-c:a", codec, "-f", format, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// Length, size, captions and chapters are as the film says, and every step is seen, as it was drawn, from within 50 ms
// of its time on.
func TestFilmsShowEachStepAtItsTime(t *testing.T) {
	need(t, "ffmpeg")
	short := of(t, "balanced-rule.moments")
	short.Talk.Steps = short.Talk.Steps[:7]
	short.Times = everySeconds(short, 1.37)
	voiced := *short
	voiced.Voice = tone(t, voiced.Times.End.Seconds(), "libopus", "webm")
	for name, f := range map[string]*film.Film{"silent": short, "with a voice": &voiced} {
		for _, format := range []film.Format{film.MP4, film.WebM} {
			t.Run(name+" "+string(format), func(t *testing.T) {
				path := filepath.Join(t.TempDir(), "out."+string(format))
				last := 0.0
				if err := f.Encode(context.Background(), format, path, func(done float64) { last = done }); err != nil {
					t.Fatal(err)
				}
				if last < 0.9 {
					t.Errorf("the last progress told is %.2f", last)
				}
				checkStreams(t, f, path)
				checkCaptions(t, f, path)
				checkFrames(t, f, path)
				if left, _ := filepath.Glob(filepath.Join(filepath.Dir(path), ".*")); len(left) > 0 {
					t.Errorf("%v is left", left)
				}
			})
		}
	}
}

// everySeconds gives all steps the same time.
func everySeconds(f *film.Film, s float64) film.Times {
	var out film.Times
	d := time.Duration(s * float64(time.Second))
	for i := range f.Talk.Steps {
		out.Start = append(out.Start, time.Duration(i)*d)
		out.Spoke = append(out.Spoke, time.Duration(i+1)*d)
	}
	out.End = time.Duration(len(f.Talk.Steps)) * d
	return out
}

func checkStreams(t *testing.T, f *film.Film, path string) {
	t.Helper()
	p := probe(t, path)
	var kinds []string
	for _, s := range p.Streams {
		kinds = append(kinds, s.Type)
		if s.Type == "video" && (s.Width != film.Width || s.Height != film.Height) {
			t.Errorf("it is %d by %d pixels", s.Width, s.Height)
		}
		if s.Type == "subtitle" && s.Tags["language"] != "eng" {
			t.Errorf("its captions are tagged %v", s.Tags)
		}
	}
	want := []string{"video", "subtitle"}
	if len(f.Voice) > 0 {
		want = append(want, "audio")
	}
	for _, w := range want {
		if !slices.Contains(kinds, w) {
			t.Errorf("no %s in %v", w, kinds)
		}
	}
	var seconds float64
	fmt.Sscan(p.Format.Duration, &seconds)
	if math.Abs(seconds-f.Times.End.Seconds()) > 0.1 {
		t.Errorf("it lasts %s s, want %s", p.Format.Duration, f.Times.End)
	}
	chapters := f.Chapters()
	if len(p.Chapters) != len(chapters) {
		t.Fatalf("%d chapters, want %d", len(p.Chapters), len(chapters))
	}
	for i, c := range chapters {
		var at float64
		fmt.Sscan(p.Chapters[i].Start, &at)
		if p.Chapters[i].Tags["title"] != c.Lines[0] || math.Abs(at-c.Start.Seconds()) > 0.002 {
			t.Errorf("chapter %d is %v at %v, want %s at %s", i, p.Chapters[i].Tags, at, c.Lines[0], c.Start)
		}
	}
}

// checkCaptions reads the captions out of the film: all are there.
func checkCaptions(t *testing.T, f *film.Film, path string) {
	t.Helper()
	out, err := exec.Command("ffmpeg", "-v", "error", "-i", path, "-map", "0:s:0", "-f", "webvtt", "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	if got, want := strings.Count(string(out), " --> "), len(f.Cues()); got != want {
		t.Errorf("%d captions in the film, want %d", got, want)
	}
}

// checkFrames compares the film 50 ms after the beginning of each step, and 50 ms before its end, with what was drawn:
// it is that, and nearer to it than to the step before.
func checkFrames(t *testing.T, f *film.Film, path string) {
	t.Helper()
	var before *image.RGBA
	for i, start := range f.Times.Start {
		want, err := f.Frame(i)
		if err != nil {
			t.Fatal(err)
		}
		end := f.Times.End
		if i+1 < len(f.Times.Start) {
			end = f.Times.Start[i+1]
		}
		for _, at := range []time.Duration{start + 50*time.Millisecond, end - 50*time.Millisecond} {
			got := frameAt(t, path, at)
			d := difference(want, got)
			if d > 1.5 {
				t.Errorf("step %d at %s: pixels differ by %.2f of 255 on the mean", i, at, d)
			}
			if before != nil && difference(before, got) <= d {
				t.Errorf("step %d at %s: the step before is seen", i, at)
			}
		}
		before = want
	}
}

func frameAt(t *testing.T, path string, at time.Duration) *image.RGBA {
	t.Helper()
	out, err := exec.Command("ffmpeg", "-v", "error", "-ss", fmt.Sprintf("%.3f", at.Seconds()), "-i", path, "-frames:v", "1",
		"-f", "rawvideo", "-pix_fmt", "rgba", "-").Output()
	if err != nil || len(out) != 4*film.Width*film.Height {
		t.Fatalf("the frame at %s: %d bytes, %v", at, len(out), err)
	}
	return &image.RGBA{Pix: out, Stride: 4 * film.Width, Rect: image.Rect(0, 0, film.Width, film.Height)}
}

// difference is the mean difference of the values of two pictures, of 255.
func difference(a, b *image.RGBA) float64 {
	sum := 0
	for i := range a.Pix {
		sum += max(int(a.Pix[i])-int(b.Pix[i]), int(b.Pix[i])-int(a.Pix[i]))
	}
	return float64(sum) / float64(len(a.Pix))
}

func TestWithoutTheEncoderTheErrorSaysWhatToInstall(t *testing.T) {
	t.Setenv("PATH", t.TempDir())
	err := of(t, "balanced-rule.moments").Encode(context.Background(), film.MP4, filepath.Join(t.TempDir(), "x.mp4"), nil)
	if !errors.Is(err, film.ErrNoEncoder) || !strings.Contains(err.Error(), "apt-get install ffmpeg") {
		t.Errorf("got %v", err)
	}
}

func TestACancelledFilmLeavesNothing(t *testing.T) {
	need(t, "ffmpeg")
	dir := t.TempDir()
	ctx, cancel := context.WithCancel(context.Background())
	err := of(t, "balanced-rule.moments").Encode(ctx, film.MP4, filepath.Join(dir, "x.mp4"), func(float64) { cancel() })
	if !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
	if left, _ := os.ReadDir(dir); len(left) > 0 {
		t.Errorf("%v is left", left)
	}
}

func TestAVoiceThatIsNoSoundIsRefused(t *testing.T) {
	need(t, "ffmpeg")
	f := of(t, "balanced-rule.moments")
	f.Voice = []byte("#EXTM3U\nhttp://127.0.0.1/x\n")
	if err := f.Encode(context.Background(), film.MP4, filepath.Join(t.TempDir(), "x.mp4"), nil); err == nil || !strings.Contains(err.Error(), "WebM, Ogg") {
		t.Errorf("got %v", err)
	}
	if _, err := f.HTML(); err == nil {
		t.Error("the page was made")
	}
}

// A folder may be called like an option or like an address.
func TestAFolderOfAnyNameIsAFolder(t *testing.T) {
	need(t, "ffmpeg")
	t.Chdir(t.TempDir())
	for _, name := range []string{"-y", "concat:a|b", "data:,x"} {
		if err := os.Mkdir(name, 0o700); err != nil {
			t.Fatal(err)
		}
		f := brief(t)
		f.Voice = tone(t, 1, "pcm_s16le", "wav")
		if err := f.Encode(t.Context(), film.MP4, filepath.Join(name, "x.mp4"), nil); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// Each kind of sound that ffmpeg makes is known by its first bytes.
func TestSoundsAreKnown(t *testing.T) {
	need(t, "ffmpeg")
	for _, c := range []struct{ codec, format, want string }{
		{"libopus", "webm", "audio/webm"}, {"libopus", "ogg", "audio/ogg"}, {"pcm_s16le", "wav", "audio/wav"},
		{"flac", "flac", "audio/flac"}, {"libmp3lame", "mp3", "audio/mpeg"}, {"aac", "adts", ""},
	} {
		if got := film.Sound(tone(t, 0.3, c.codec, c.format)); got != c.want {
			t.Errorf("%s in %s is %q, want %q", c.codec, c.format, got, c.want)
		}
	}
	if film.Sound([]byte("<html>")) != "" || film.Sound(nil) != "" {
		t.Error("what is no sound is taken for one")
	}
}

// A film of three minutes and twenty steps.
func BenchmarkMP4(b *testing.B) {
	need(b, "ffmpeg")
	f := of(b, "find-the-bag.moments")
	f.Talk.Steps = f.Talk.Steps[:20]
	f.Times = everySeconds(f, 9)
	for b.Loop() {
		if err := f.Encode(context.Background(), film.MP4, filepath.Join(b.TempDir(), "x.mp4"), nil); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(f.Times.End.Seconds()*float64(b.N)/b.Elapsed().Seconds(), "x-real-time")
}

func BenchmarkFrame(b *testing.B) {
	f := of(b, "find-the-bag.moments")
	for b.Loop() {
		if _, err := f.Frame(5); err != nil {
			b.Fatal(err)
		}
	}
}
