package script

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"
	"time"
)

var update = flag.Bool("update", false, "write what is read into testdata")

// testdata/lines.txt has what pupils type (a few lines of working apart by " // "), a tab, and how it is read, in the
// plain form of Line.String. All of it is our own, in the ways that pupils are known to type.
func TestLines(t *testing.T) { golden(t, "testdata/lines.txt", reading) }

// testdata/answers.txt has what stands in answer boxes: value, unit, figures and decimals, direction, words.
func TestAnswers(t *testing.T) {
	golden(t, "testdata/answers.txt", func(s string) string {
		a := ReadAnswer(s)
		return fmt.Sprintf("%v [%s] %d/%d %s {%s}", a.Value, a.UnitText, a.Figures, a.Decimals, a.Direction, strings.Join(a.Words, " "))
	})
}

func reading(s string) string {
	var list []string
	for _, l := range Read(strings.ReplaceAll(s, " // ", "\n")) {
		list = append(list, l.String())
	}
	return strings.Join(list, " // ")
}

func golden(t *testing.T, path string, read func(string) string) {
	t.Helper()
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	var got bytes.Buffer
	n := 0
	for line := range strings.Lines(string(want)) {
		line = strings.TrimRight(line, "\n")
		typed, as, _ := strings.Cut(line, "\t")
		if typed == "" || strings.HasPrefix(typed, "#") {
			fmt.Fprintln(&got, line)
			continue
		}
		n++
		now := read(typed)
		fmt.Fprintf(&got, "%s\t%s\n", typed, now)
		if now != as && !*update {
			t.Errorf("%q\n  is read as %s\n  want       %s", typed, now, as)
		}
	}
	if n < 20 {
		t.Errorf("%s has only %d lines", path, n)
	}
	if *update {
		if err := os.WriteFile(path, got.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// A megabyte of anything is read in bounded time: the time limit here is fifty times what it takes.
func TestMegabyte(t *testing.T) {
	for _, s := range []string{"(", ")", "x", "-", "sin", "2.4RB = ", "1 ", "=", "so ", "a,b=", "\n", "RB x 2.4 = 3\n", "²", "½", "°", "\xff", "_{", "about ", ":", "^", "√", "mgx", "is 5 "} {
		text := strings.Repeat(s, 1<<20/len(s))
		start := time.Now()
		Read(text)
		ReadAnswer(text)
		Read(strings.Repeat(s, longest/len(s)))
		if d := time.Since(start); d > 50*time.Second {
			t.Errorf("a megabyte of %q took %v", s, d)
		}
	}
}

func TestNotReadNamesThePiece(t *testing.T) {
	l := Read("RB = 5 @ 3")[0]
	if l.Kind != NotRead || l.Unread != "@" {
		t.Errorf("got %+v", l)
	}
}

func TestPlacesInTheLine(t *testing.T) {
	l := Read("  so RB × 2.4 = 364.5 N m")[0]
	e := l.Sides[0].Args[0]
	src := "so RB × 2.4 = 364.5 N m"
	if got := src[e.From:e.To]; got != "RB" {
		t.Errorf("the name stands at %q", got)
	}
}

// Reading what was read, written plainly, gives the same again.
func FuzzRead(f *testing.F) {
	for _, path := range []string{"testdata/lines.txt", "testdata/answers.txt"} {
		b, err := os.ReadFile(path)
		if err != nil {
			f.Fatal(err)
		}
		for line := range strings.Lines(string(b)) {
			typed, _, _ := strings.Cut(line, "\t")
			f.Add(strings.ReplaceAll(typed, " // ", "\n"))
		}
	}
	f.Fuzz(func(t *testing.T, s string) {
		for _, l := range Read(s) {
			if l.Kind == NotRead && l.Unread == "" {
				t.Errorf("%q is not read, but nothing is named", l.Text)
			}
			if (l.Kind == Equation || l.Kind == Inequality) && len(l.Sides) < 2 {
				t.Errorf("%q: an equation of %d sides", l.Text, len(l.Sides))
			}
			_ = l.String()
		}
		ReadAnswer(s)
	})
}

func BenchmarkRead(b *testing.B) {
	lines := []string{
		"RB x 2.4 = 180 x 1.3 + 45 x 2.9", "R_B = (180*1.3+45*2.9)/2.4 = 151.9 N", "taking moments about A: T sin 40 x 1.4 = 60 x 0.7 + 80 x 1.1", "so RA = 225 - 151.9 = 73.1 N upwards",
	}
	b.ReportAllocs()
	i := 0
	for b.Loop() {
		Read(lines[i%len(lines)])
		i++
	}
}
