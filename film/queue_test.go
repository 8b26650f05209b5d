package film_test

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"steelyard/film"
)

// A hand is a clock that the test moves.
type hand struct {
	sync.Mutex
	at time.Time
}

func (h *hand) now() time.Time { h.Lock(); defer h.Unlock(); return h.at }

func (h *hand) pass(d time.Duration) { h.Lock(); defer h.Unlock(); h.at = h.at.Add(d) }

// run runs a queue until the function that it gives is called, or the test ends.
func run(t *testing.T, q *film.Queue, folder string) (end func()) {
	t.Helper()
	ctx, stop := context.WithCancel(context.Background())
	done := make(chan error, 1)
	go func() {
		done <- q.Run(ctx, folder, func(id string, err error) { t.Errorf("film %s: %v", id, err) })
	}()
	var once sync.Once
	end = func() {
		once.Do(func() {
			stop()
			if err := <-done; err != nil {
				t.Error(err)
			}
		})
	}
	t.Cleanup(end)
	return end
}

// until waits for the stage of the only film of an owner.
func until(t *testing.T, q *film.Queue, owner string, stage film.Stage) film.State {
	t.Helper()
	var list []film.State
	for began := time.Now(); time.Since(began) < time.Minute; time.Sleep(5 * time.Millisecond) {
		if list = q.Of(owner); len(list) == 1 && list[0].Stage == stage {
			return list[0]
		}
	}
	t.Fatalf("the films of %s are %v", owner, list)
	return film.State{}
}

// silence is a voice that says nothing, as long as the film.
func silence(f *film.Film) []byte {
	n := uint32(f.Times.End.Seconds() * film.VoiceRate)
	b := []byte("RIFF")
	b = binary.LittleEndian.AppendUint32(b, 36+2*n)
	b = append(b, "WAVEfmt \x10\x00\x00\x00\x01\x00\x01\x00\x80\x3e\x00\x00\x00\x7d\x00\x00\x02\x00\x10\x00data"...)
	b = binary.LittleEndian.AppendUint32(b, 2*n)
	return append(b, make([]byte, 2*n)...)
}

func brief(t testing.TB) *film.Film {
	f := of(t, "balanced-rule.moments")
	f.Talk.Steps = f.Talk.Steps[:2]
	f.Times = everySeconds(f, 0.5)
	return f
}

// inside lists what is in a folder of films and in those of the runs within.
func inside(t *testing.T, folder string) (names []string) {
	t.Helper()
	list, err := os.ReadDir(folder)
	if err != nil && !errors.Is(err, os.ErrNotExist) {
		t.Fatal(err)
	}
	for _, f := range list {
		if strings.HasPrefix(f.Name(), "run-") {
			names = append(names, inside(t, filepath.Join(folder, f.Name()))...)
			continue
		}
		names = append(names, f.Name())
	}
	return names
}

// What a program that was killed has left is removed at the start; of a film that is made only the film stays, nobody else
// may read it, and the end of the program removes that too.
func TestAQueueLeavesNothing(t *testing.T) {
	need(t, "ffmpeg")
	folder := filepath.Join(t.TempDir(), "films")
	if err := os.MkdirAll(filepath.Join(folder, ".film-left"), 0o700); err != nil {
		t.Fatal(err)
	}
	for _, left := range []string{"a.wav", "b.mp4", ".film-left/voice"} {
		if err := os.WriteFile(filepath.Join(folder, left), []byte("left"), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	q := film.NewQueue(time.Now)
	f := brief(t)
	if _, err := q.Add(film.Order{Owner: "vera", Film: f, Format: film.MP4}, bytes.NewReader(silence(f))); !errors.Is(err, film.ErrStopped) {
		t.Errorf("a voice is taken before there is a place for it: %v", err)
	}
	if _, err := q.Add(film.Order{Owner: "vera", Film: f, Format: film.MP4}, nil); err != nil {
		t.Fatal(err)
	}
	end := run(t, q, folder)
	s := until(t, q, "vera", film.Ready)
	if got := inside(t, folder); len(got) != 1 || got[0] != s.ID+".mp4" {
		t.Errorf("in the folder are %v", got)
	}
	if info, err := os.Stat(folder); err != nil || info.Mode().Perm() != 0o700 {
		t.Errorf("the folder is %v, %v", info.Mode(), err)
	}
	q.Drop(s.ID)
	if got := inside(t, folder); len(got) != 0 || len(q.Of("vera")) != 0 {
		t.Errorf("%v is left", got)
	}
	if _, err := q.Add(film.Order{Owner: "vera", Film: f, Format: film.WebM}, bytes.NewReader(silence(f))); err != nil {
		t.Fatal(err)
	}
	until(t, q, "vera", film.Ready)
	end()
	if _, err := os.Stat(folder); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("the folder is still there: %v", err)
	}
	if len(q.Of("vera")) != 0 {
		t.Error("the film is still told of")
	}
}

// After an hour a film goes, fetched or not; so does one that is being made.
func TestNothingStaysLongerThanAnHour(t *testing.T) {
	need(t, "ffmpeg")
	clock := &hand{at: time.Now()}
	q := film.NewQueue(clock.now)
	folder := filepath.Join(t.TempDir(), "films")
	run(t, q, folder)
	if _, err := q.Add(film.Order{Owner: "vera", Film: brief(t), Format: film.MP4}, nil); err != nil {
		t.Fatal(err)
	}
	s := until(t, q, "vera", film.Ready)
	clock.pass(film.Keep - time.Second)
	if q.Owner(s.ID) != "vera" {
		t.Error("it has gone before its time")
	}
	clock.pass(time.Second)
	if _, _, err := q.Open(s.ID); !errors.Is(err, os.ErrNotExist) || q.Owner(s.ID) != "" {
		t.Errorf("it can still be had: %v", err)
	}
	if got := inside(t, folder); len(got) != 0 {
		t.Errorf("%v is left", got)
	}
}

// One is made at a time, the others know their places, and one that is given up while it is made leaves nothing.
func TestFilmsStandInLine(t *testing.T) {
	need(t, "ffmpeg")
	q := film.NewQueue(time.Now)
	long := of(t, "find-the-bag.moments")
	add := func(owner string, f *film.Film) string {
		t.Helper()
		id, err := q.Add(film.Order{Owner: owner, Film: f, Format: film.MP4}, nil)
		if err != nil {
			t.Fatal(err)
		}
		return id
	}
	first := add("vera", long)
	add("jonas", brief(t))
	if got := q.Of("jonas")[0]; got.Place != 2 || got.Stage != film.Waiting {
		t.Errorf("the second is %v", got)
	}
	folder := filepath.Join(t.TempDir(), "films")
	run(t, q, folder)
	until(t, q, "vera", film.Making)
	if got := q.Of("jonas")[0]; got.Stage == film.Waiting && got.Place != 2 {
		t.Errorf("the second is %v while the first is made", got)
	}
	q.Drop(first)
	s := until(t, q, "jonas", film.Ready)
	if got := inside(t, folder); len(got) != 1 || got[0] != s.ID+".mp4" {
		t.Errorf("in the folder are %v", got)
	}
	if len(q.Of("tove")) != 0 {
		t.Error("somebody sees the films of others")
	}
}

func TestALineHasAnEnd(t *testing.T) {
	q := film.NewQueue(time.Now)
	add := func(owner string) error {
		_, err := q.Add(film.Order{Owner: owner, Film: brief(t), Format: film.MP4}, nil)
		return err
	}
	for range 3 {
		if err := add("vera"); err != nil {
			t.Fatal(err)
		}
	}
	if err := add("vera"); !errors.Is(err, film.ErrOwnersMost) {
		t.Errorf("a fourth of one owner: %v", err)
	}
	var err error
	for n := 3; n < 20 && err == nil; n++ {
		err = add(string(rune('a' + n)))
	}
	if !errors.Is(err, film.ErrLine) {
		t.Errorf("twenty wait: %v", err)
	}
}

// A voice is a WAV file as the page writes it, as long as its film; of any other nothing stays.
func TestVoicesAreLookedAt(t *testing.T) {
	q := film.NewQueue(time.Now)
	folder := filepath.Join(t.TempDir(), "films")
	run(t, q, folder)
	f := brief(t)
	good := silence(f)
	stereo := bytes.Clone(good)
	stereo[22] = 2
	for name, voice := range map[string][]byte{"nothing": nil, "a page": []byte("<html>"), "short": good[:len(good)/2], "stereo": stereo,
		"longer than it says": append(bytes.Clone(good), 0, 0), "another film's": silence(of(t, "balanced-rule.moments"))} {
		var err error
		for began := time.Now(); time.Since(began) < 10*time.Second; time.Sleep(time.Millisecond) {
			if _, err = q.Add(film.Order{Owner: "vera", Film: f, Format: film.MP4}, bytes.NewReader(voice)); !errors.Is(err, film.ErrStopped) {
				break // it runs
			}
		}
		if !errors.Is(err, film.ErrVoice) {
			t.Errorf("%s: %v", name, err)
		}
	}
	broken := errors.New("the cable is out")
	if _, err := q.Add(film.Order{Owner: "vera", Film: f, Format: film.MP4}, io.MultiReader(bytes.NewReader(good[:100]), failing{broken})); !errors.Is(err, broken) {
		t.Errorf("a voice that breaks off: %v", err)
	}
	if got := inside(t, folder); len(got) != 0 {
		t.Errorf("%v is left", got)
	}
}

type failing struct{ err error }

func (f failing) Read([]byte) (int, error) { return 0, f.err }

// The times of steps with clips follow the clips; the others keep the pace.
func TestTimesFollowClips(t *testing.T) {
	f := of(t, "balanced-rule.moments")
	steps := f.Talk.Steps
	read := film.Read(f.Talk, film.Pace)
	got := film.Spoken(f.Talk, map[string]time.Duration{steps[0].ID: 1500 * time.Millisecond, steps[2].ID: 2000100 * time.Microsecond}, film.Pace)
	if got.Start[1] != 1900*time.Millisecond || got.Spoke[0] != 1500*time.Millisecond {
		t.Errorf("the first step ends at %s, spoken till %s", got.Start[1], got.Spoke[0])
	}
	if was, is := read.Start[2]-read.Start[1], got.Start[2]-got.Start[1]; was != is {
		t.Errorf("a silent step takes %s, not %s", is, was)
	}
	if long := got.Start[3] - got.Start[2]; long != 2401*time.Millisecond {
		t.Errorf("the third step takes %s", long)
	}
	if none := film.Spoken(f.Talk, nil, film.Pace); none.End != read.End {
		t.Errorf("without clips it ends at %s, not %s", none.End, read.End)
	}
}

// Killed while it makes a film, the program leaves nothing but its folder, which the next start clears.
func TestAKilledQueueLeavesOnlyItsFolder(t *testing.T) {
	need(t, "ffmpeg")
	home := t.TempDir()
	folder := filepath.Join(home, "films")
	c := exec.Command(os.Args[0], "-test.run", "^TestAQueueToBeKilled$")
	c.Env = append(os.Environ(), "STEELYARD_TEST_QUEUE="+folder, "TMPDIR="+home)
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	encodes := func() bool { // as Linux tells; elsewhere it is as if it did
		if runtime.GOOS != "linux" {
			return len(inside(t, folder)) > 1
		}
		lists, _ := filepath.Glob("/proc/[0-9]*/cmdline")
		return slices.ContainsFunc(lists, func(list string) bool {
			line, _ := os.ReadFile(list)
			return bytes.Contains(line, []byte(folder))
		})
	}
	for began := time.Now(); !encodes(); time.Sleep(2 * time.Millisecond) {
		if time.Since(began) > time.Minute {
			c.Process.Kill()
			t.Fatal("it makes no film")
		}
	}
	c.Process.Kill()
	c.Wait()
	for began := time.Now(); runtime.GOOS == "linux" && encodes(); time.Sleep(2 * time.Millisecond) {
		if time.Since(began) > 2*time.Second {
			t.Fatal("ffmpeg goes on without the program that started it")
		}
	}
	if got := inside(t, home); len(got) != 1 || got[0] != "films" {
		t.Errorf("left are %v", got)
	}
	run(t, film.NewQueue(time.Now), folder)()
	if got := inside(t, home); len(got) != 0 {
		t.Errorf("after the next start %v is left", got)
	}
}

// TestAQueueToBeKilled is no test of its own: it is the program that the one above kills.
func TestAQueueToBeKilled(t *testing.T) {
	folder := os.Getenv("STEELYARD_TEST_QUEUE")
	if folder == "" {
		t.Skip("another test starts it")
	}
	q := film.NewQueue(time.Now)
	run(t, q, folder)
	f := of(t, "find-the-bag.moments")
	for began := time.Now(); time.Since(began) < time.Minute; time.Sleep(time.Millisecond) {
		q.Add(film.Order{Owner: "vera", Film: f, Format: film.WebM}, bytes.NewReader(silence(f)))
	}
}

// Two programs that share a folder of data leave each other's films alone; the last to end takes the folder away.
func TestTwoProgramsShareAFolder(t *testing.T) {
	need(t, "ffmpeg")
	folder := filepath.Join(t.TempDir(), "films")
	one, other := film.NewQueue(time.Now), film.NewQueue(time.Now)
	endOne := run(t, one, folder)
	if _, err := one.Add(film.Order{Owner: "vera", Film: brief(t), Format: film.MP4}, nil); err != nil {
		t.Fatal(err)
	}
	s := until(t, one, "vera", film.Ready)
	endOther := run(t, other, folder)
	if _, err := other.Add(film.Order{Owner: "jonas", Film: brief(t), Format: film.MP4}, nil); err != nil {
		t.Fatal(err)
	}
	until(t, other, "jonas", film.Ready)
	f, _, err := one.Open(s.ID)
	if err != nil {
		t.Fatalf("the second program has taken the first one's film: %v", err)
	}
	f.Close()
	endOther()
	if got := inside(t, folder); len(got) != 1 || got[0] != s.ID+".mp4" {
		t.Errorf("after the second has ended there is %v", got)
	}
	endOne()
	if _, err := os.Stat(folder); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("after both have ended the folder is still there: %v", err)
	}
}

// pretend puts a program in ffmpeg's place.
func pretend(t *testing.T, script string) {
	t.Helper()
	if _, err := os.Stat("/bin/sh"); err != nil {
		t.Skip("there is no /bin/sh")
	}
	bin := t.TempDir()
	if err := os.WriteFile(filepath.Join(bin, "ffmpeg"), []byte("#!/bin/sh\n"+script+"\n"), 0o700); err != nil {
		t.Fatal(err)
	}
	t.Setenv("PATH", bin+":/usr/bin:/bin")
}

// One who hangs, with a child of its own that holds the pipes, is ended after half an hour, though nobody looks, and the
// next film is made.
func TestAnEncoderThatHangsIsEnded(t *testing.T) {
	pretend(t, "sleep 1000 & wait")
	clock := &hand{at: time.Now()}
	q := film.NewQueue(clock.now)
	ctx, stop := context.WithCancel(t.Context())
	failed, done := make(chan error, 9), make(chan error, 1)
	go func() {
		done <- q.Run(ctx, filepath.Join(t.TempDir(), "films"), func(_ string, err error) { failed <- err })
	}()
	for _, owner := range []string{"vera", "jonas"} {
		if _, err := q.Add(film.Order{Owner: owner, Film: brief(t), Format: film.MP4}, nil); err != nil {
			t.Fatal(err)
		}
	}
	until(t, q, "vera", film.Making)
	clock.pass(31 * time.Minute)
	select {
	case err := <-failed:
		if !strings.Contains(err.Error(), "not made within 30m") {
			t.Errorf("what is told of it: %v", err)
		}
	case <-time.After(time.Minute):
		t.Fatal("it is not ended")
	}
	until(t, q, "vera", film.Failed)
	until(t, q, "jonas", film.Making)
	stop()
	select {
	case err := <-done:
		if err != nil {
			t.Error(err)
		}
	case <-time.After(time.Minute):
		t.Fatal("the queue does not end")
	}
}

// What ffmpeg complains of is kept short, and one that is killed makes a film that failed, not a queue that stands still.
func TestAnEncoderThatFails(t *testing.T) {
	for name, script := range map[string]string{"complains without end": "yes complaint | head -c 3000000 >&2; exit 1", "is killed": "kill -9 $$",
		"writes one line without end": "head -c 3000000 /dev/zero; exit 1"} {
		t.Run(name, func(t *testing.T) {
			pretend(t, script)
			err := brief(t).Encode(t.Context(), film.MP4, filepath.Join(t.TempDir(), "x.mp4"), nil)
			if err == nil || len(err.Error()) > 2500 {
				t.Errorf("the error is %.100v", err)
			}
		})
	}
}

// Where there can be no folder, films are refused and none waits for ever; so it is after the end.
func TestAQueueWithoutAFolderTakesNothing(t *testing.T) {
	file := filepath.Join(t.TempDir(), "films")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	q := film.NewQueue(time.Now)
	o := film.Order{Owner: "vera", Film: brief(t), Format: film.MP4}
	if _, err := q.Add(o, nil); err != nil {
		t.Fatal(err)
	}
	if err := q.Run(t.Context(), file, nil); err == nil {
		t.Error("a file is taken for a folder")
	}
	if _, err := q.Add(o, nil); !errors.Is(err, film.ErrStopped) || len(q.Of("vera")) != 0 {
		t.Errorf("%v; %v wait", err, q.Of("vera"))
	}
	q = film.NewQueue(time.Now)
	run(t, q, filepath.Join(t.TempDir(), "films"))()
	if _, err := q.Add(o, nil); !errors.Is(err, film.ErrStopped) {
		t.Errorf("after the end: %v", err)
	}
}

func TestAFilmOfHoursIsNotTaken(t *testing.T) {
	f := brief(t)
	f.Times = everySeconds(f, 1801)
	if _, err := film.NewQueue(time.Now).Add(film.Order{Owner: "vera", Film: f, Format: film.MP4}, nil); !errors.Is(err, film.ErrLong) {
		t.Errorf("got %v", err)
	}
}
