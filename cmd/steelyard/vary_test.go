package main

import (
	"bytes"
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"steelyard/bank"
	"steelyard/class"
	"steelyard/question"
	"steelyard/variant"
)

// A context that is stopped after some looks at it, as if somebody had pressed Ctrl-C then.
type stopping struct {
	context.Context
	looks int
}

func (c *stopping) Err() error {
	if c.looks--; c.looks < 0 {
		return context.Canceled
	}
	return nil
}

// Stopped anywhere, the same command goes on and leaves the same bytes as one that was never stopped.
func TestVaryGoesOnAfterAStop(t *testing.T) {
	src, err := os.ReadFile("../../docs/pictures/bridge.moments")
	if err != nil {
		t.Fatal(err)
	}
	q, err := question.Parse("bridge.moments", string(src))
	if err != nil {
		t.Fatal(err)
	}
	pupils := class.Numbered(4)
	var codes []string
	for _, p := range pupils {
		codes = append(codes, p.Code)
	}
	result, err := variant.Choose(q, "spring", codes, variant.Options{})
	if err != nil {
		t.Fatal(err)
	}
	make := func(dir string, ctx context.Context) error {
		p := pack{streams: streams{out: new(bytes.Buffer), err: new(bytes.Buffer)}, pupils: pupils, result: result,
			command: &varyCommand{Seed: "spring", Output: dir, Each: true, Size: 11, Paper: "a4"}}
		if err := p.claim(q); err != nil {
			return err
		}
		return p.write(ctx)
	}
	whole := t.TempDir()
	if err := make(whole, t.Context()); err != nil {
		t.Fatal(err)
	}
	want := contents(t, whole)
	if len(want) != 2*len(pupils)+5 {
		t.Fatalf("%d files are written", len(want))
	}
	// Four looks while the pupils' files are written, four more while the packs are.
	for looks := range 8 {
		dir := t.TempDir()
		if err := make(dir, &stopping{t.Context(), looks}); !errors.Is(err, context.Canceled) {
			t.Fatalf("stopped after %d looks: %v", looks, err)
		}
		if some := contents(t, dir); len(some) >= len(want) {
			t.Errorf("stopped after %d looks, %d files are there", looks, len(some))
		}
		if err := make(dir, t.Context()); err != nil {
			t.Fatal(err)
		}
		got := contents(t, dir)
		for name := range want {
			if got[name] != want[name] {
				t.Errorf("stopped after %d looks, then %s is another", looks, name)
			}
		}
		if len(got) != len(want) {
			t.Errorf("stopped after %d looks: %d files in the end, want %d", looks, len(got), len(want))
		}
	}
}

// contents are the files of a folder, by name.
func contents(t *testing.T, dir string) map[string]string {
	t.Helper()
	out := map[string]string{}
	if err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		b, err := os.ReadFile(path)
		out[strings.TrimPrefix(path, dir)] = string(b)
		return err
	}); err != nil {
		t.Fatal(err)
	}
	return out
}

// The key has an answer to every part of every family, also where it is words or two numbers.
func TestKeyAnswersEveryPart(t *testing.T) {
	for file, want := range map[string]string{
		"jetty-board":     "(a)=it does not stay at rest: the board turns clockwise about Q",
		"rail-resultant":  " N down, acting 0.",
		"puppet-plate":    "(a)",
		"plank-range":     "(a) low m",
		"lock-footbridge": "(b) N up",
	} {
		text, err := bank.Files.ReadFile(file + ".moments")
		if err != nil {
			t.Fatal(err)
		}
		q, err := question.Parse(file, string(text))
		if err != nil {
			t.Fatal(err)
		}
		r, err := variant.Choose(q, "key", []string{"1", "2", "3"}, variant.Options{Most: 200})
		if err != nil {
			t.Fatal(file, err)
		}
		p := pack{pupils: class.Numbered(3), result: r, command: &varyCommand{}}
		parts, heads := map[string]bool{}, ""
		for _, c := range p.columns() {
			name, _, _ := strings.Cut(c.Name, " ")
			parts[name] = true
			heads += strings.TrimSpace(c.Name+" "+c.Sense) + "=" + c.Cells[0] + "\n"
			for i, cell := range c.Cells {
				if cell == "" || strings.HasPrefix(cell, "-") {
					t.Errorf("%s, %s: pupil %d has the answer %q", file, c.Name, i+1, cell)
				}
			}
		}
		if len(parts) != len(q.Parts) || !strings.Contains(heads, want) {
			t.Errorf("%s: %d of %d parts are in the key, want %q among\n%s", file, len(parts), len(q.Parts), want, heads)
		}
		t.Logf("%s\n%s", file, heads)
	}
}

// A name that begins like a formula is no formula; two codes never meet in one file name.
func TestTypedCellsAndNames(t *testing.T) {
	for _, cell := range []string{"=1+1", "+1", "-1", "@x", "\tx", "\rx"} {
		if text(cell) != "'"+cell {
			t.Errorf("%q is written %q", cell, text(cell))
		}
	}
	if text("Ada = Bo") != "Ada = Bo" || text("") != "" {
		t.Error("a plain name is changed")
	}
	if a, b := fileName("a/b"), fileName("a b"); a == b || strings.ContainsAny(a+b, "/ ") || fileName("h-1") != "h-1" {
		t.Errorf("a/b and a b are called %s and %s", a, b)
	}
}
