package store_test

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"reflect"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"steelyard/store"
)

const (
	stormPupils  = 30
	stormWriters = 60
)

// storm is what a child process does: pupils hand in as fast as they can, and each key is printed once it is
// acknowledged. Each hand-in is sent twice at once, as an impatient pupil does.
func storm(where, run string) int {
	s, err := store.Open(context.Background(), where)
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	fmt.Println("ready")
	var mu sync.Mutex
	for w := range stormWriters {
		go func() {
			for n := 0; ; n++ {
				pupil := (w/2*7 + n) % stormPupils
				key := fmt.Sprintf("%s.%d.%d", run, w/2, n)
				if w%2 == 1 {
					time.Sleep(time.Duration(rand.IntN(300)) * time.Microsecond)
				}
				if _, err := s.HandIn(context.Background(), pupilBy(pupil), sixParts(pupil, key)); err != nil {
					continue // not acknowledged
				}
				mu.Lock()
				os.Stdout.WriteString(key + "\n")
				mu.Unlock()
			}
		}()
	}
	io.Copy(io.Discard, os.Stdin) // until it is killed
	return 0
}

// A child is a process of its own that storms.
type child struct {
	cmd  *exec.Cmd
	done chan []string // what was acknowledged, when it has ended
}

func startStorm(t *testing.T, where, run string) *child {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	c := &child{exec.Command(self, "storm", where, run), make(chan []string, 1)}
	c.cmd.Stderr = os.Stderr
	in, err := c.cmd.StdinPipe() // held open: a child whose parent is gone ends
	if err != nil {
		t.Fatal(err)
	}
	out, err := c.cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := c.cmd.Start(); err != nil {
		t.Fatal(err)
	}
	lines := bufio.NewReader(out)
	if first, err := lines.ReadString('\n'); err != nil || first != "ready\n" {
		t.Fatalf("the storm did not start: %q, %v", first, err)
	}
	go func() {
		defer in.Close()
		all, _ := io.ReadAll(lines)
		whole, _, _ := cutLast(string(all)) // a line that the kill cut short was not said
		c.done <- strings.Fields(whole)
	}()
	return c
}

func cutLast(s string) (before, after string, found bool) {
	i := strings.LastIndexByte(s, '\n')
	if i < 0 {
		return "", s, false
	}
	return s[:i+1], s[i+1:], true
}

// kill ends the child with SIGKILL and returns what it had acknowledged.
func (c *child) kill() []string {
	c.cmd.Process.Signal(syscall.SIGKILL)
	said := <-c.done
	c.cmd.Wait()
	return said
}

// kept checks that each acknowledged key is there once, whole, and none is there twice.
func kept(t *testing.T, s *store.Store, acknowledged []string) (there int) {
	t.Helper()
	times := map[string]int{}
	for i := range stormPupils {
		list, err := s.HandInsBy(t.Context(), setID, pupilID(i))
		if err != nil {
			t.Fatal(err)
		}
		for _, h := range list {
			times[h.Key]++
			want := sixParts(i, h.Key)
			want.ID = h.ID
			if !reflect.DeepEqual(h, want) {
				t.Errorf("hand-in %s is not as it was sent:\n%v\n%v", h.Key, h, want)
			}
		}
	}
	for key, n := range times {
		if n != 1 {
			t.Errorf("hand-in %s is there %d times", key, n)
		}
	}
	for _, key := range acknowledged {
		if times[key] == 0 {
			t.Errorf("hand-in %s was acknowledged and is lost", key)
		}
	}
	return len(times)
}

// full says whether the long forms of tests were asked for.
func full() bool { return os.Getenv("STEELYARD_FULL") != "" }

func TestWhatWasAcknowledgedSurvivesKillsInAStormOfHandIns(t *testing.T) {
	kills := 20
	if full() {
		kills = 200
	}
	const onOne = 10            // kills on one database
	acknowledged, there := 0, 0 // of acknowledgements and of hand-ins
	for round := range (kills + onOne - 1) / onOne {
		where := t.TempDir()
		filled(t, where, stormPupils).Close()
		var said []string
		for i := range onOne {
			c := startStorm(t, where, fmt.Sprint(round, "-", i))
			time.Sleep(20*time.Millisecond + rand.N(130*time.Millisecond))
			said = append(said, c.kill()...)
			s := opened(t, where)
			n := kept(t, s, said)
			noFaults(t, s)
			s.Close()
			if i == onOne-1 {
				there += n
			}
		}
		acknowledged += len(said)
	}
	if acknowledged == 0 {
		t.Error("nothing was acknowledged: the test shows nothing")
	}
	t.Logf("%d kills: %d acknowledgements of %d hand-ins, each sent twice; none lost, none doubled", kills, acknowledged, there)
}

func TestWhatWasAcknowledgedSurvivesPostgreSQLBeingKilled(t *testing.T) {
	postgres(t)
	own, err := newServer()
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(own.remove)
	kills := 4
	if full() {
		kills = 40
	}
	where := own.address("public")
	filled(t, where, stormPupils).Close()
	var said []string
	for i := range kills {
		c := startStorm(t, where, fmt.Sprint(i))
		time.Sleep(100*time.Millisecond + rand.N(200*time.Millisecond))
		if i%2 == 0 { // the database first, all its processes at once
			own.kill()
			said = append(said, c.kill()...)
			if err := own.start(); err != nil {
				t.Fatal(err)
			}
		} else {
			said = append(said, c.kill()...)
		}
		s := opened(t, where)
		kept(t, s, said)
		noFaults(t, s)
		s.Close()
	}
	if len(said) == 0 {
		t.Error("nothing was acknowledged: the test shows nothing")
	}
	t.Logf("%d kills: %d acknowledgements of hand-ins, each sent twice; none lost, none doubled", kills, len(said))
}

func TestARestartOfPostgreSQLIsSatOut(t *testing.T) {
	postgres(t)
	own, err := newServer()
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(own.remove)
	s := filled(t, own.address("public"), stormPupils)
	stop, done := make(chan struct{}), make(chan []string)
	var failed []error
	go func() {
		var said []string
		defer func() { done <- said }()
		for n := 0; ; n++ {
			select {
			case <-stop:
				return
			default:
			}
			key := fmt.Sprint("k", n)
			if _, err := s.HandIn(context.Background(), pupilBy(0), sixParts(0, key)); err != nil {
				failed = append(failed, err)
				continue
			}
			said = append(said, key)
		}
	}()
	for range 3 {
		time.Sleep(200 * time.Millisecond)
		if err := own.stop(syscall.SIGINT); err != nil {
			t.Fatal(err)
		}
		time.Sleep(300 * time.Millisecond)
		if err := own.start(); err != nil {
			t.Fatal(err)
		}
	}
	time.Sleep(200 * time.Millisecond)
	close(stop)
	said := <-done
	for _, err := range failed {
		t.Errorf("a hand-in did not sit out the restart: %v", err)
	}
	kept(t, s, said)
	noFaults(t, s)

	own.stop(syscall.SIGINT)
	ctx, cancel := context.WithTimeout(t.Context(), 2*time.Second)
	defer cancel()
	_, err = s.HandIn(ctx, pupilBy(0), sixParts(0, "late"))
	busy(t, err)
	busy(t, s.Ready(ctx))
	if err := own.start(); err != nil {
		t.Fatal(err)
	}
	if err := s.Ready(t.Context()); err != nil {
		t.Error(err)
	}
}
