package film

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
)

// errHeld says that a folder is another program's.
var errHeld = errors.New("another program has it")

// A place is the folder of one run of a queue, within one that several programs may share.
type place struct {
	shared, own string
	held        *os.File
}

const ofARun = "run-"

// settle clears the shared folder of what programs that were killed have left, and makes a folder of its own in it.
func settle(shared string) (p place, err error) {
	for range 10 { // a program that ends takes the shared folder away, if it is the last
		if p, err = trySettle(shared); !errors.Is(err, os.ErrNotExist) {
			break
		}
	}
	return p, err
}

func trySettle(shared string) (p place, err error) {
	if err := os.MkdirAll(shared, 0o700); err != nil {
		return p, fmt.Errorf("making the folder of films: %w", err)
	}
	guard, err := hold(shared, true) // so that nobody takes a folder for left over that is not held yet
	if err != nil {
		return p, err
	}
	defer guard.Close()
	list, err := os.ReadDir(shared)
	if err != nil {
		return p, fmt.Errorf("reading the folder of films: %w", err)
	}
	for _, e := range list {
		if err := clearAway(filepath.Join(shared, e.Name()), e); err != nil {
			return p, fmt.Errorf("clearing the folder of films: %w", err)
		}
	}
	p.shared = shared
	if p.own, err = os.MkdirTemp(shared, ofARun); err != nil {
		return p, fmt.Errorf("making the folder of films: %w", err)
	}
	if p.held, err = hold(p.own, false); err != nil {
		os.Remove(p.own)
	}
	return p, err
}

// clearAway removes what is left over, but not what a program that runs has.
func clearAway(path string, e os.DirEntry) error {
	if e.IsDir() && strings.HasPrefix(e.Name(), ofARun) {
		held, err := hold(path, false)
		if errors.Is(err, errHeld) {
			return nil
		}
		if err == nil {
			defer held.Close()
		}
	}
	return os.RemoveAll(path)
}

// leave removes the run's folder, and the shared one if nobody else is in it.
func (p place) leave() {
	if guard, err := hold(p.shared, true); err == nil {
		defer guard.Close()
	}
	os.RemoveAll(p.own)
	p.held.Close()
	os.Remove(p.shared)
}
