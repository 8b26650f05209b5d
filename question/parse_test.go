package question

import (
	"errors"
	"flag"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
)

func goodFiles(t testing.TB) []string {
	t.Helper()
	files, _ := filepath.Glob("testdata/good/*.moments")
	if len(files) < 15 {
		t.Fatalf("only %d question files under testdata/good", len(files))
	}
	return files
}

func read(t testing.TB, file string) string {
	t.Helper()
	b, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

func mustParse(t testing.TB, file, src string) *Question {
	t.Helper()
	q, err := Parse(file, src)
	if err != nil {
		if f, ok := err.(Faults); ok {
			t.Fatal("\n" + f.Shown())
		}
		t.Fatal(err)
	}
	return q
}

// Every good file is read without a fault.
func TestGoodFilesAreRead(t *testing.T) {
	for _, file := range goodFiles(t) {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".moments"), func(t *testing.T) {
			mustParse(t, filepath.Base(file), read(t, file))
		})
	}
}

var update = flag.Bool("update", false, "rewrite the golden files of this package")

// Every broken file gets the faults in its .want file, each with its line and a caret.
func TestFaults(t *testing.T) {
	files, _ := filepath.Glob("testdata/bad/*.moments")
	if len(files) < 60 {
		t.Fatalf("only %d broken files", len(files))
	}
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".moments"), func(t *testing.T) {
			_, err := Parse(filepath.Base(file), read(t, file))
			var faults Faults
			if !errors.As(err, &faults) {
				t.Fatalf("no fault was found (%v)", err)
			}
			golden(t, strings.TrimSuffix(file, ".moments")+".want", faults.Shown())
			for _, f := range faults {
				if strings.HasSuffix(f.What, ".") || strings.HasSuffix(f.Mend, ".") || f.What == "" {
					t.Errorf("a fault has no full stop and says something: %q", f.Error())
				}
			}
		})
	}
}

func golden(t *testing.T, path, got string) {
	t.Helper()
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if want := read(t, path); got != want {
		t.Errorf("%s has changed; if you meant it, run go test -update and read it\ngot:\n%s\nwant:\n%s", path, got, want)
	}
}

// Megabytes of anything are refused at once, with few faults and little memory.
func TestGarbageIsRefusedAtOnce(t *testing.T) {
	tests := map[string]string{
		"random bytes":    strings.Repeat("\x8f\x01\xfe z", 2<<20),
		"letters":         strings.Repeat("abcdefgh ", 1<<20),
		"short lines":     strings.Repeat("body\n", 50_000),
		"one long line":   "question " + strings.Repeat("x", 200_000),
		"many quotes":     strings.Repeat(`"`, 200_000),
		"many parens":     "body a: " + strings.Repeat("(", 3000),
		"many clauses":    "body a: " + strings.Repeat("uniform, ", 400),
		"many bodies":     strings.Repeat("body a: uniform, length 1 m, weight 1 N\n", 5000),
		"empty lines":     strings.Repeat("\n", 200_000),
		"only zero bytes": strings.Repeat("\x00", 200_000),
	}
	for name, src := range tests {
		t.Run(name, func(t *testing.T) {
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			_, err := Parse("garbage.moments", src)
			runtime.ReadMemStats(&after)
			if n := after.TotalAlloc - before.TotalAlloc; n > 8<<20 {
				t.Errorf("%d kB were allocated", n>>10)
			}
			var faults Faults
			if !errors.As(err, &faults) || len(faults) > mostFaults {
				t.Fatalf("%d faults, %.200v", len(faults), err)
			}
			if n := len(faults.Shown()); n > 40_000 {
				t.Errorf("%d bytes of faults", n)
			}
		})
	}
}
