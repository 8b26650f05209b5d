package film

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"time"
)

// ErrNoEncoder says that films can't be made here.
var ErrNoEncoder = errors.New("the program ffmpeg is not installed (on Debian: apt-get install ffmpeg); all but the film can be made without it")

// Rate is how many frames a film has a second, so that a step is at most 20 ms from its time.
const Rate = 25

// A Format is a kind of film file.
type Format string

// The formats.
const (
	MP4  Format = "mp4"  // H.264, AAC
	WebM Format = "webm" // VP9, Opus
)

// codecs are how each is made: quickly, since its frames stand still.
var codecs = map[Format][]string{
	MP4: {"-c:v", "libx264", "-preset", "ultrafast", "-tune", "stillimage", "-crf", "18", "-g", "250",
		"-c:a", "aac", "-b:a", "96k", "-c:s", "mov_text", "-movflags", "+faststart"},
	WebM: {"-c:v", "libvpx-vp9", "-deadline", "realtime", "-cpu-used", "8", "-row-mt", "1", "-threads", "2", "-crf", "32", "-b:v", "0", "-g", "250",
		"-c:a", "libopus", "-b:a", "64k", "-c:s", "webvtt"},
}

// demuxers are the names by which ffmpeg reads each kind of sound, so that it guesses nothing of a file from outside.
var demuxers = map[string]string{"audio/webm": "matroska", "audio/ogg": "ogg", "audio/mp4": "mov", "audio/wav": "wav", "audio/flac": "flac", "audio/mpeg": "mp3"}

// CanEncode says whether films can be made here.
func CanEncode() bool {
	_, err := exec.LookPath("ffmpeg")
	return err == nil
}

// Encode writes the film to a file, which is there only once it is whole, with captions and chapters in it. Progress,
// from 0 to 1, is told from time to time; it may be nil. The error is ErrNoEncoder where ffmpeg is missing.
func (f *Film) Encode(ctx context.Context, format Format, path string, progress func(float64)) error {
	program, err := exec.LookPath("ffmpeg")
	if err != nil {
		return ErrNoEncoder
	}
	return f.encode(ctx, []string{program}, format, path, progress)
}

// encode is Encode with a command that begins so.
func (f *Film) encode(ctx context.Context, program []string, format Format, path string, progress func(float64)) error {
	work, err := os.MkdirTemp(filepath.Dir(path), ".film-*")
	if err != nil {
		return fmt.Errorf("making %s: %w", path, err)
	}
	defer os.RemoveAll(work)
	temporary := filepath.Join(work, "film."+string(format))
	args, err := f.arguments(format, work, temporary)
	if err != nil {
		return fmt.Errorf("making %s: %w", path, err)
	}
	args = append(program[1:len(program):len(program)], args...)
	if err := f.run(ctx, exec.CommandContext(ctx, program[0], args...), progress); err != nil {
		return fmt.Errorf("making %s: %w", path, err)
	}
	if err := os.Rename(temporary, path); err != nil {
		return fmt.Errorf("making %s: %w", path, err)
	}
	return nil
}

// arguments writes what ffmpeg reads besides the frames, and gives its command line.
func (f *Film) arguments(format Format, work, output string) ([]string, error) {
	files := map[string][]byte{"captions.vtt": f.Captions(), "chapters.txt": f.metadata()}
	if len(f.Voice) > 0 {
		files["voice"] = f.Voice
	}
	for name, content := range files {
		if err := os.WriteFile(filepath.Join(work, name), content, 0o600); err != nil {
			return nil, err
		}
	}
	only := []string{"-protocol_whitelist", "file,pipe"}
	in := func(name string) string { return "file:" + filepath.Join(work, name) } // whatever the folder is called, it is no option and no address
	args := []string{"-hide_banner", "-v", "error", "-nostats", "-progress", "pipe:1", "-y",
		"-f", "rawvideo", "-pix_fmt", "rgba", "-s", fmt.Sprintf("%dx%d", Width, Height), "-framerate", "1000", "-i", "pipe:0"}
	args = append(append(args, only...), "-f", "webvtt", "-i", in("captions.vtt"))
	args = append(append(args, only...), "-f", "ffmetadata", "-i", in("chapters.txt"))
	maps := []string{"-map", "0:v", "-map", "1:s", "-map_metadata", "2", "-map_chapters", "2"}
	if len(f.Voice) > 0 {
		demuxer, ok := demuxers[Sound(f.Voice)]
		if !ok {
			return nil, errors.New("the voice is no sound file that can be used: WebM, Ogg, MP4, WAV, FLAC or MP3")
		}
		args = append(append(args, only...), "-f", demuxer, "-i", in("voice"))
		maps = append(maps, "-map", "3:a")
	}
	args = append(append(args, maps...), "-filter:v", f.filter())
	args = append(append(args, codecs[format]...),
		"-pix_fmt", "yuv420p", "-colorspace", "bt709", "-color_primaries", "bt709", "-color_trc", "bt709", "-color_range", "tv",
		"-metadata:s:s:0", "language=eng", "-t", seconds(f.Times.End), "file:"+output)
	return args, nil
}

func seconds(d time.Duration) string { return strconv.FormatFloat(d.Seconds(), 'f', 3, 64) }

// filter gives each of the frames, which come once a step, its time, and repeats it until the next. Colours are
// converted before that, once a step.
func (f *Film) filter() string {
	var pts strings.Builder
	pts.WriteByte('0')
	for i := 1; i < len(f.Times.Start); i++ {
		fmt.Fprintf(&pts, "+gte(N,%d)*%s", i, seconds(f.Times.Start[i]-f.Times.Start[i-1]))
	}
	last := f.Times.End - f.Times.Start[len(f.Times.Start)-1]
	return fmt.Sprintf("scale=out_color_matrix=bt709:out_range=tv,format=yuv420p,setpts='(%s)/TB',tpad=stop_mode=clone:stop_duration=%s,fps=%d",
		pts.String(), seconds(last), Rate)
}

// metadata are title and chapters as ffmpeg reads them.
func (f *Film) metadata() []byte {
	var b bytes.Buffer
	clean := strings.NewReplacer("\\", `\\`, "=", `\=`, ";", `\;`, "#", `\#`, "\n", " ", "\r", " ")
	fmt.Fprintf(&b, ";FFMETADATA1\ntitle=%s\n", clean.Replace(f.Talk.Title))
	for _, c := range f.Chapters() {
		fmt.Fprintf(&b, "[CHAPTER]\nTIMEBASE=1/1000\nSTART=%d\nEND=%d\ntitle=%s\n", c.Start.Milliseconds(), c.End.Milliseconds(), clean.Replace(c.Lines[0]))
	}
	return b.Bytes()
}

// run runs ffmpeg, and gives it the frames.
func (f *Film) run(ctx context.Context, c *exec.Cmd, progress func(float64)) error {
	var said begun
	c.Stderr = &said
	c.WaitDelay = 5 * time.Second
	unlock := bind(c)
	defer unlock()
	frames, err := c.StdinPipe()
	if err != nil {
		return err
	}
	news, err := c.StdoutPipe()
	if err != nil {
		return err
	}
	if err := c.Start(); err != nil {
		return err
	}
	drawn := make(chan error, 1)
	go func() { drawn <- f.feed(frames) }()
	f.follow(news, progress)
	drawing := <-drawn
	if err := c.Wait(); err != nil {
		if ctx.Err() != nil {
			return context.Cause(ctx)
		}
		return fmt.Errorf("ffmpeg: %w: %s", err, said.String())
	}
	return drawing
}

// begun keeps the beginning of what is written to it: ffmpeg may complain of every sample of a broken sound.
type begun struct{ kept []byte }

func (b *begun) Write(p []byte) (int, error) {
	b.kept = append(b.kept, p[:min(len(p), 2000-len(b.kept))]...)
	return len(p), nil
}

func (b *begun) String() string { return strings.TrimSpace(strings.ToValidUTF8(string(b.kept), "")) }

// feed writes the frames, one a step.
func (f *Film) feed(to io.WriteCloser) error {
	defer to.Close()
	p := f.painter()
	for i := range f.Talk.Steps {
		img, err := p.frame(i)
		if err != nil {
			return err
		}
		if _, err := to.Write(img.Pix); err != nil {
			return fmt.Errorf("handing over step %d: %w", i+1, err)
		}
	}
	return nil
}

// follow reads how far ffmpeg has come.
func (f *Film) follow(news io.Reader, progress func(float64)) {
	lines := bufio.NewScanner(news)
	for lines.Scan() {
		at, ok := strings.CutPrefix(lines.Text(), "out_time_us=")
		us, err := strconv.ParseInt(at, 10, 64)
		if !ok || err != nil || progress == nil {
			continue
		}
		progress(min(1, max(0, float64(us)/float64(f.Times.End.Microseconds()))))
	}
	io.Copy(io.Discard, news) // a line that is too long ends the scanner, and ffmpeg is not to wait for a reader
}
