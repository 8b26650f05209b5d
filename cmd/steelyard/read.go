package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"steelyard/question"
)

// largest is the most that is read of one question file, in bytes.
const largest = 1 << 20

// read reads and parses a question file; "-" or "" is standard input. What is wrong with it has
// been printed when the error is errRefused.
func (s streams) read(file string) (*question.Question, error) {
	name, text, err := s.text(file)
	if err != nil {
		return nil, err
	}
	q, err := question.Parse(name, text)
	if err != nil {
		return nil, s.refuse(err)
	}
	return q, nil
}

// text reads a question file without parsing it.
func (s streams) text(file string) (name, text string, err error) {
	var r io.Reader = s.in
	name = "standard input"
	if file != "" && file != "-" {
		f, err := os.Open(file)
		switch {
		case errors.Is(err, fs.ErrNotExist):
			return file, "", usage(fmt.Sprintf("there is no file %s", file))
		case err != nil:
			return file, "", err
		}
		defer f.Close()
		r, name = f, file
	}
	b, err := io.ReadAll(io.LimitReader(r, largest+1))
	if file != "" && folder(file) {
		return name, "", usage(fmt.Sprintf("%s is a folder; name a question file in it", file))
	}
	if err != nil {
		return name, "", fmt.Errorf("reading %s: %w", name, err)
	}
	if len(b) > largest {
		fmt.Fprintf(s.err, "%s: longer than a question file can be (%d kB); is it the right file?\n", name, largest/1024)
		return name, "", errRefused
	}
	s.source[name] = string(b)
	return name, string(b), nil
}

// refuse prints the faults of a question, each with its line, and returns errRefused.
func (s streams) refuse(err error) error {
	var faults question.Faults
	if errors.As(err, &faults) {
		fmt.Fprint(s.err, s.withLines(faults).Shown())
		return errRefused
	}
	return err
}

// withLines puts the line that a fault stands on into faults that don't carry it: those that only
// mechanics found.
func (s streams) withLines(faults question.Faults) question.Faults {
	out := make(question.Faults, len(faults))
	for i, f := range faults {
		if lines := strings.Split(s.source[f.File], "\n"); f.Line == "" && f.Span.Line > 0 && f.Span.Line <= len(lines) {
			f.Line = lines[f.Span.Line-1]
		}
		out[i] = f
	}
	return out
}

// warn prints warnings.
func (s streams) warn(warnings question.Faults) {
	for _, w := range s.withLines(warnings) {
		fmt.Fprint(s.err, "warning: "+w.Shown())
	}
}

// each runs f on every file, or on standard input if there is none; it goes on after a refusal and
// returns the worst error.
func (s streams) each(files []string, f func(file string) error) error {
	if len(files) == 0 {
		files = []string{"-"}
	}
	var worst error
	for _, file := range files {
		if err := f(file); err != nil {
			if !errors.Is(err, errRefused) {
				return err
			}
			worst = err
		}
	}
	return worst
}

func folder(name string) bool {
	info, err := os.Stat(name)
	return err == nil && info.IsDir()
}

// write writes a file by way of a temporary one beside it, so that nothing is left half-written.
// "-" or "" writes to standard output. What stands there already and is no ordinary file, such as a
// device, is written to and never replaced.
func (s streams) write(file string, content []byte) error {
	if file == "" || file == "-" {
		_, err := s.out.Write(content)
		return err
	}
	if info, err := os.Stat(file); err == nil && !info.Mode().IsRegular() {
		if err := os.WriteFile(file, content, 0o644); err != nil {
			return fmt.Errorf("writing %s: %w", file, err)
		}
		return nil
	}
	dir := filepath.Dir(file)
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return fmt.Errorf("making the folder for %s: %w", file, err)
	}
	t, err := os.CreateTemp(dir, ".steelyard-*")
	if err != nil {
		return fmt.Errorf("writing %s: %w", file, err)
	}
	defer os.Remove(t.Name())
	if _, err := t.Write(content); err != nil {
		t.Close()
		return fmt.Errorf("writing %s: %w", file, err)
	}
	if err := t.Chmod(0o644); err != nil {
		t.Close()
		return fmt.Errorf("writing %s: %w", file, err)
	}
	if err := t.Close(); err != nil {
		return fmt.Errorf("writing %s: %w", file, err)
	}
	if err := os.Rename(t.Name(), file); err != nil {
		return fmt.Errorf("writing %s: %w", file, err)
	}
	return nil
}
