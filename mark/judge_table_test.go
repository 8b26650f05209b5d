package mark

import (
	"bytes"
	"fmt"
	"os"
	"strings"
	"testing"

	"steelyard/question"
	"steelyard/script"
)

// testdata/judged.txt holds working over questions of the bank, each line with what is to be said of it, judged by
// hand: "# question part" begins a part, "--" the next pupil. STEELYARD_UPDATE=1 writes what is said now.
func TestJudgedByHand(t *testing.T) {
	const path = "testdata/judged.txt"
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	_, keys := bankKeys(t)
	var got bytes.Buffer
	var k *Key
	var part *question.Part
	var typed []string
	flush := func() {
		for _, j := range judgeTyped(k, part, typed) {
			verdict := [...]string{"not read", "right", "carried", "wrong", "statement"}[j.Verdict]
			said := []string{verdict}
			for _, s := range []string{j.Means, j.Off, j.Slip} {
				if s != "" {
					said = append(said, s)
				}
			}
			fmt.Fprintf(&got, "%s\t%s\n", j.Line.Text, strings.Join(said, "; "))
		}
		typed = nil
	}
	for line := range strings.Lines(string(want)) {
		line = strings.TrimRight(line, "\n")
		switch text, _, _ := strings.Cut(line, "\t"); {
		case strings.HasPrefix(line, "# "):
			flush()
			f := strings.Fields(line)
			k, part = keys[f[1]], keys[f[1]].Question.Part(f[2])
			fmt.Fprintln(&got, line)
		case line == "--":
			flush()
			fmt.Fprintln(&got, line)
		case text != "":
			typed = append(typed, text)
		}
	}
	flush()
	if os.Getenv("STEELYARD_UPDATE") != "" {
		if err := os.WriteFile(path, got.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if got.String() == string(want) {
		return
	}
	a, b := strings.Split(got.String(), "\n"), strings.Split(string(want), "\n")
	for i := range max(len(a), len(b)) {
		if i >= len(a) || i >= len(b) || a[i] != b[i] {
			t.Errorf("line %d\n got %q\nwant %q", i+1, at(a, i), at(b, i))
		}
	}
}

func at(list []string, i int) string {
	if i < len(list) {
		return list[i]
	}
	return ""
}

func judgeTyped(k *Key, part *question.Part, typed []string) []Judged {
	if len(typed) == 0 {
		return nil
	}
	return k.Judge(part, script.Read(strings.Join(typed, "\n")), nil)
}

// Whatever is typed, judging it neither fails nor calls wrong what was not read.
func FuzzJudge(f *testing.F) {
	src, err := os.ReadFile("../bank/stall-sign.moments")
	if err != nil {
		f.Fatal(err)
	}
	q, err := question.Parse("stall-sign", string(src))
	if err != nil {
		f.Fatal(err)
	}
	k, err := NewKey(q, Policy{})
	if err != nil {
		f.Fatal(err)
	}
	for _, s := range []string{"T sin40 x 1.4 = 60 x 0.7 + 80 x 1.1", "T = 130/0.9 = 144.5 N", "H = T cos 40\nV = 140 - T sin 40", "R = √(110.7² + 47.1²)", "θ = tan⁻¹(V/H)", "x = x", "T/0 = 1", "T^T = T"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		lines := script.Read(s)
		for i, j := range k.Judge(q.Part("a"), lines, nil) {
			if lines[i].Kind == script.NotRead && j.Verdict != NotRead {
				t.Errorf("%q was not read, but is judged %d", lines[i].Text, j.Verdict)
			}
		}
	})
}
