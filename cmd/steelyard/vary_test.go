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
