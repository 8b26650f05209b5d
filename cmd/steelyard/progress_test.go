//go:build linux

package main

import (
	"bytes"
	"fmt"
	"os"
	"strings"
	"testing"
	"time"

	"golang.org/x/sys/unix"
)

// terminal opens a pair as terminals are made: what is written to the one end, a person would see at the other.
func terminal(t *testing.T) (person, program *os.File) {
	t.Helper()
	person, err := os.OpenFile("/dev/ptmx", os.O_RDWR, 0)
	if err != nil {
		t.Skipf("this machine gives no terminals: %v", err)
	}
	t.Cleanup(func() { person.Close() })
	fd := int(person.Fd())
	n, err := unix.IoctlGetInt(fd, unix.TIOCGPTN)
	if err == nil {
		err = unix.IoctlSetPointerInt(fd, unix.TIOCSPTLCK, 0)
	}
	if err == nil {
		err = unix.IoctlSetWinsize(fd, unix.TIOCSWINSZ, &unix.Winsize{Row: 24, Col: 80})
	}
	if err != nil {
		t.Skipf("this machine gives no terminals: %v", err)
	}
	program, err = os.OpenFile(fmt.Sprintf("/dev/pts/%d", n), os.O_RDWR, 0)
	if err != nil {
		t.Skipf("this machine gives no terminals: %v", err)
	}
	t.Cleanup(func() { program.Close() })
	return person, program
}

// work is a job of three steps that has taken more than a second by the second one.
func work(s streams) {
	p := s.progress(3)
	p.step()
	p.start = p.start.Add(-2 * time.Second)
	p.step()
	time.Sleep(300 * time.Millisecond) // a bar is drawn some ten times a second
	p.step()
	p.end()
}

func TestProgressIsShownOnATerminal(t *testing.T) {
	person, program := terminal(t)
	go func() {
		work(streams{err: program})
		tell, end := streams{err: program}.waiting("choosing numbers")
		tell(7, 30)
		time.Sleep(1400 * time.Millisecond)
		end()
		fmt.Fprintln(program, "all is done")
	}()
	var seen strings.Builder
	buf := make([]byte, 4096)
	for !strings.Contains(seen.String(), "all is done") {
		n, err := person.Read(buf)
		if err != nil {
			t.Fatalf("%v after %q", err, seen.String())
		}
		seen.Write(buf[:n])
	}
	for _, want := range []string{"of 3 pupils", "choosing numbers, 7 of 30 pupils"} {
		if !strings.Contains(seen.String(), want) {
			t.Errorf("%q is not shown: %q", want, seen.String())
		}
	}
}

func TestNoProgressElsewhere(t *testing.T) {
	var out bytes.Buffer
	work(streams{err: &out})
	_, end := streams{err: &out}.waiting("choosing numbers")
	end()
	file, err := os.Create(t.TempDir() + "/errors")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	work(streams{err: file})
	if info, err := file.Stat(); err != nil || info.Size() != 0 || out.Len() != 0 {
		t.Errorf("something is shown where nobody watches: %q, %v", &out, err)
	}
}
