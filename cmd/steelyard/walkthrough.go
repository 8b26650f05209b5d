package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"

	"steelyard/answer"
	"steelyard/film"
	"steelyard/show"
	"steelyard/solution"
)

type walkthroughCommand struct {
	File   string   `arg:"" optional:"" help:"Question file; none or - reads standard input."`
	Output string   `short:"o" required:"" help:"Folder that the files are written to; it is made where there is none." placeholder:"DIR"`
	Stop   stopFlag `help:"Stop before the first arithmetic, for pupils to finish it themselves; --stop=b before that of part (b)."`
	NoFilm bool     `help:"Make no MP4 and WebM, which take the longest and need ffmpeg."`
	Pace   float64  `default:"150" help:"Words a minute at which the script is read."`
	Voice  string   `help:"A recording of the script: WebM, Ogg, MP4, WAV, FLAC or MP3. It needs --times." placeholder:"FILE"`
	Times  string   `help:"When each step begins: a line for each, with its ID and the second, such as \"a-1 12.35\", perhaps \"say\" and what you say in place of the script, and a last line such as \"end 183.2\"." placeholder:"FILE"`
}

// Help shows examples.
func (walkthroughCommand) Help() string {
	return `Writes into the folder, under the question's name: a page that plays offline (.html), a transcript (.txt),
captions (.vtt) and chapters (.chapters.vtt), a poster (.png), and where ffmpeg is installed a film (.mp4, .webm).

Examples:
  steelyard walkthrough bridge.moments -o walkthrough --no-film
  steelyard walkthrough bridge.moments -o walkthrough --no-film --stop`
}

// Run makes a walkthrough.
func (c walkthroughCommand) Run(s streams) error {
	if !(c.Pace >= 60 && c.Pace <= 300) { // NaN too
		return usage("the pace must be from 60 to 300 words a minute; 150 is usual")
	}
	if (c.Voice == "") != (c.Times == "") {
		return usage("--voice and --times go together: the recording, and when each step begins in it")
	}
	talk, err := c.talk(s)
	if err != nil {
		return err
	}
	f := film.New(talk, c.Pace)
	if c.Voice != "" {
		if err := c.record(f); err != nil {
			return err
		}
	}
	return c.write(s, f)
}

// talk explains the question.
func (c walkthroughCommand) talk(s streams) (*show.Talk, error) {
	q, err := s.read(c.File)
	if err != nil {
		return nil, err
	}
	if faults, _ := answer.Check(q); len(faults) > 0 {
		return nil, s.refuse(faults)
	}
	a, err := answer.Solve(q)
	if err != nil {
		return nil, s.refuse(err)
	}
	sol, err := solution.Solve(a)
	if err != nil {
		return nil, err
	}
	talk, err := show.Make(a, sol)
	if err != nil {
		return nil, err
	}
	return c.Stop.cut(talk)
}

// largestVoice is the most that is read of a recording, in bytes: some hours of speech.
const largestVoice = 200 << 20

// record gives the film the voice and its times.
func (c walkthroughCommand) record(f *film.Film) error {
	times, err := readUpTo(c.Times, largest)
	if err != nil {
		return err
	}
	if f.Times, err = film.ParseTimes(f.Talk, string(times)); err != nil {
		return usage(c.Times + ": " + err.Error())
	}
	if f.Voice, err = readUpTo(c.Voice, largestVoice); err != nil {
		return err
	}
	if film.Sound(f.Voice) == "" {
		return usage(c.Voice + ": no recording that can be used; save it as WebM, Ogg, MP4, WAV, FLAC or MP3")
	}
	return nil
}

func readUpTo(file string, most int64) ([]byte, error) {
	f, err := os.Open(file)
	if err != nil {
		return nil, usage("reading " + err.Error())
	}
	defer f.Close()
	b, err := io.ReadAll(io.LimitReader(f, most+1))
	if err != nil {
		return nil, fmt.Errorf("reading %s: %w", file, err)
	}
	if int64(len(b)) > most {
		return nil, usage(fmt.Sprintf("%s is longer than %d MB", file, most>>20))
	}
	return b, nil
}

// write writes all files, and says which.
func (c walkthroughCommand) write(s streams, f *film.Film) error {
	base := filepath.Join(c.Output, c.name())
	page, err := f.HTML()
	if err != nil {
		return err
	}
	poster, err := f.Poster()
	if err != nil {
		return err
	}
	for _, file := range []struct {
		ending  string
		content []byte
	}{
		{".html", page}, {".txt", []byte(f.Transcript())}, {".vtt", f.Captions()}, {".chapters.vtt", f.ChapterTrack()}, {".png", poster},
	} {
		if err := s.write(base+file.ending, file.content); err != nil {
			return err
		}
		fmt.Fprintln(s.out, base+file.ending)
	}
	if c.NoFilm {
		return nil
	}
	return c.films(s, f, base)
}

// name is that of the question file without its ending.
func (c walkthroughCommand) name() string {
	name := filepath.Base(c.File)
	name = strings.TrimSuffix(name, filepath.Ext(name))
	if c.File == "" || c.File == "-" || name == "" {
		return "walkthrough"
	}
	return name
}

// films makes the film files, and tells how far it has come; without ffmpeg it says so, and that is no fault. Whatever ends it,
// nothing half made is left.
func (c walkthroughCommand) films(s streams, f *film.Film, base string) error {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM, syscall.SIGPIPE)
	defer stop()
	for _, format := range []film.Format{film.MP4, film.WebM} {
		path, tenth := base+"."+string(format), 0
		err := f.Encode(ctx, format, path, func(done float64) {
			if now := int(done * 10); now > tenth {
				tenth = now
				fmt.Fprintf(s.err, "%s: %d %%\n", path, 10*tenth)
			}
		})
		if errors.Is(err, film.ErrNoEncoder) {
			fmt.Fprintln(s.err, "no film was made:", err)
			return nil
		}
		if err != nil {
			return err
		}
		fmt.Fprintln(s.out, path)
	}
	return nil
}
