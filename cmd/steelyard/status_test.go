package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// The exit statuses are those that the README and --help promise, and a reason is given where they are not 0.
func TestExitStatus(t *testing.T) {
	dir := t.TempDir()
	good, faulty, tips := filepath.Join(dir, "good.moments"), filepath.Join(dir, "faulty.moments"), filepath.Join(dir, "tips.moments")
	const lines = `question "Bridge"
body plank: uniform, length 4.00 m, weight 260 N
support P: rest, on plank at 0.60 m
support Q: rest, on plank at 3.00 m
`
	for file, text := range map[string]string{
		good:   lines + "part a: find force P marks 3\n",
		faulty: lines + "part a: find forces P marks 3\n",
		tips:   lines + "load K: weight 650 N, on plank at 3.80 m\npart a: find force P marks 3\n",
	} {
		if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	tests := []struct {
		args string
		want int
	}{
		{"solve " + good, done},
		{"check " + good, done},
		{"version", done},
		{"solve --help", done},
		{"solve " + faulty, refused},
		{"check " + faulty, refused},
		{"tidy " + faulty, refused},
		{"solve " + tips, refused}, // no answer of the kind asked
		{"vary --pupils 3 --seed s -o " + filepath.Join(dir, "set") + " " + good, refused}, // no vary lines
		{"bank list --idea friction --level 14-16", refused},
		{"solve " + filepath.Join(dir, "nowhere.moments"), misused},
		{"solve " + dir, misused},
		{"solve --jsn " + good, misused},
		{"slove " + good, misused},
		{"print " + good, misused}, // no -o
		{"draw --view inside " + good, misused},
		{"explain --about Z " + good, misused},
		{"print --size 3 -o - " + good, misused},
		{"vary --seed s -o " + filepath.Join(dir, "set") + " " + good, misused},
		{"bank show nothing", misused},
		{"bank list --kind ladders", misused},
	}
	for _, test := range tests {
		var out, errs bytes.Buffer
		got := run(strings.Fields(test.args), streams{in: strings.NewReader(""), out: &out, err: &errs})
		if got != test.want {
			t.Errorf("%s: status %d, want %d: %s", test.args, got, test.want, &errs)
		}
		if got != done && out.Len()+errs.Len() == 0 {
			t.Errorf("%s: status %d without a word", test.args, got)
		}
	}
}
