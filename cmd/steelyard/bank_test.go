package main

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"steelyard/slip"
	"steelyard/workbench"
)

var update = flag.Bool("update", false, "write docs/gallery.md and its drawings anew")

// The gallery in the documentation is what the program draws now: make gallery.
func TestGalleryPageIsUpToDate(t *testing.T) {
	const docs = "../../docs"
	files, err := galleryPage()
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, f := range files {
		file := filepath.Join(docs, filepath.FromSlash(f.name))
		names = append(names, filepath.Base(file))
		if *update {
			if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(file, f.content, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		if was, err := os.ReadFile(file); err != nil || !bytes.Equal(was, f.content) {
			t.Errorf("%s is not what the program makes now (%v); look at what has changed, then run make gallery", file, err)
		}
		if len(f.content) > 40_000 {
			t.Errorf("%s has %d bytes", file, len(f.content))
		}
	}
	there, _ := filepath.Glob(docs + "/gallery/*.svg")
	for _, file := range there {
		if slices.Contains(names, filepath.Base(file)) {
			continue
		}
		if *update {
			os.Remove(file)
		} else {
			t.Errorf("%s belongs to no question of the bank; run make gallery", file)
		}
	}
}

// What is counted as unknown, and which kind an arrangement is, as worked out by hand.
func TestKindsAndUnknowns(t *testing.T) {
	tests := []struct {
		name     string
		unknowns int
		why      string
		kinds    string
	}{
		{"tea-tins", 2, "the tin and the pivot's force", "one-pivot"},
		{"lock-footbridge", 2, "two rests", "two-supports, tipping"},
		{"stage-bar", 2, "two cables", "two-supports, overhang"},
		{"equal-shares", 3, "two rests and where the painter stands", "two-supports"},
		{"book-shelf", 2, "the wall's force and couple", "built-in"},
		{"bench-on-three-rests", 3, "three rests", "more-supports"},
		{"stall-sign", 3, "the cable and two parts of the hinge's force", "angle"},
		{"library-ladder", 3, "wall, normal force, friction", "angle, ladder, friction"},
		{"rough-wall", 5, "normal force and friction at both ends, and the angle", "angle, ladder, friction"},
		{"boat-trestle", 5, "two feet, the rope, two parts of the joint's force", "angle, several-bodies"},
		{"one-bar-on-another", 4, "two rests, the contact, the ledge", "more-supports, several-bodies"},
		{"rail-resultant", 0, "all forces are given", "couple"},
		{"crate-on-ramp", 3, "normal force, where it acts, friction", "tipping, angle, friction"},
		{"jetty-deck", 2, "two rests", "two-supports, overhang, spread-load"},
	}
	for _, tt := range tests {
		f, err := openFamily(tt.name)
		if err != nil {
			t.Fatal(err)
		}
		if f.unknowns != tt.unknowns {
			t.Errorf("%s has %d unknowns, want %d: %s", tt.name, f.unknowns, tt.unknowns, tt.why)
		}
		if got := strings.Join(f.kinds, ", "); got != tt.kinds {
			t.Errorf("%s is %s, want %s", tt.name, got, tt.kinds)
		}
	}
}

// Every kind is the kind of some question, so that no filter is empty, and every question has one.
func TestEveryKindHasAQuestion(t *testing.T) {
	used := map[string]bool{}
	for _, name := range familyNames() {
		f, err := openFamily(name)
		if err != nil {
			t.Fatal(err)
		}
		if len(f.kinds) == 0 {
			t.Errorf("%s is of no kind", name)
		}
		for _, k := range f.kinds {
			used[k] = true
		}
	}
	for _, k := range workbench.Kinds {
		if !used[k] {
			t.Errorf("no question of the bank is of the kind %s", k)
		}
	}
}

// Every trap is a slip of the catalogue, and most of a question's traps can be made in it; where some part
// is not worked out by equations, that they are in the catalogue has to do.
func TestTrapsAreSlips(t *testing.T) {
	for _, name := range familyNames() {
		f, err := openFamily(name)
		if err != nil {
			t.Fatal(err)
		}
		plan, _, err := slip.Make(f.question)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		var cannot []string
		for _, trap := range f.question.Traps {
			if slip.Named(trap) == nil {
				t.Errorf("%s: the catalogue has no slip %s", name, trap)
			}
			if !slices.ContainsFunc(plan.Cases, func(c slip.Case) bool { return c.Slip.Name == trap }) &&
				!slices.ContainsFunc(plan.Words, func(s slip.Slip) bool { return s.Name == trap }) {
				cannot = append(cannot, trap)
			}
		}
		switch {
		case len(plan.Without) > 0 || len(cannot) == 0:
		case 2*len(cannot) > len(f.question.Traps):
			t.Errorf("%s: these slips cannot be made in it: %s", name, strings.Join(cannot, ", "))
		default:
			t.Logf("%s: these slips cannot be made in it: %s", name, strings.Join(cannot, ", "))
		}
	}
}
