package question

import (
	"os"
	"path/filepath"
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
