package question

import (
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
)

// Refusing is fine, panicking is not; what is read has a settled standard form that says the same.
func FuzzParse(f *testing.F) {
	files, _ := filepath.Glob("testdata/*/*.moments")
	for _, file := range files {
		b, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(b))
	}
	f.Fuzz(func(t *testing.T, src string) {
		q, err := Parse("fuzz.moments", src)
		if err != nil {
			faults := err.(Faults)
			if len(faults) == 0 || len(faults) > mostFaults || faults.Shown() == "" {
				t.Fatalf("%d faults", len(faults))
			}
			return
		}
		tidy := q.String()
		again, err := Parse("fuzz.moments", tidy)
		if err != nil {
			t.Fatalf("the standard form is refused: %v\n%s", err, tidy)
		}
		if again.String() != tidy {
			t.Fatalf("the standard form is not settled:\n%s\n%s", tidy, again)
		}
		if !reflect.DeepEqual(without(q), without(again)) {
			t.Fatalf("the standard form says something else:\n%s", tidy)
		}
		for _, p := range Wording(q) {
			if strings.Contains(p, "unknown") && strings.Contains(p, "{") {
				t.Fatalf("a placeholder is left: %s", p)
			}
		}
		for _, a := range q.Parts {
			if PartWording(q, a) == "" {
				t.Fatalf("part %s has no wording:\n%s", a.Name, tidy)
			}
		}
		q.Warnings()
	})
}

func BenchmarkParse(b *testing.B) {
	src := read(b, "testdata/good/lock-footbridge.moments")
	b.SetBytes(int64(len(src)))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Parse("lock-footbridge.moments", src); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkTidy(b *testing.B) {
	q := mustParse(b, "lock-footbridge.moments", read(b, "testdata/good/lock-footbridge.moments"))
	b.ReportAllocs()
	for b.Loop() {
		_ = q.String()
	}
}

func BenchmarkWording(b *testing.B) {
	q := mustParse(b, "lock-footbridge.moments", read(b, "testdata/good/lock-footbridge.moments"))
	b.ReportAllocs()
	for b.Loop() {
		Wording(q)
	}
}
