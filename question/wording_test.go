package question

import (
	"path/filepath"
	"strings"
	"testing"

	"steelyard/quantity"
)

// The wording of every good file stands beside it, to be read by a person.
func TestWording(t *testing.T) {
	for _, file := range goodFiles(t) {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".moments"), func(t *testing.T) {
			q := mustParse(t, filepath.Base(file), read(t, file))
			var b strings.Builder
			for _, p := range Wording(q) {
				b.WriteString(quantity.Plain(p) + "\n")
			}
			for _, a := range q.Parts {
				b.WriteString("(" + a.Name + ") " + quantity.Plain(PartWording(q, a)) + "\n")
			}
			for _, w := range q.Warnings() {
				b.WriteString("! " + w.Error() + "\n")
			}
			golden(t, strings.TrimSuffix(file, ".moments")+".words", b.String())
			for _, bad := range []string{"  ", " .", ",,", ", .", "unknown N", "{", " ,", "the the", "..", "NaN", "a a "} {
				if strings.Contains(b.String(), bad) {
					t.Errorf("%q stands in\n%s", bad, b.String())
				}
			}
		})
	}
}

// A stem states every number that is given and none that is unknown.
func TestWordingStatesWhatIsGiven(t *testing.T) {
	for _, file := range goodFiles(t) {
		q := mustParse(t, filepath.Base(file), read(t, file))
		q.Text = nil
		said := quantitiesIn(quantity.Plain(strings.Join(Wording(q), " ")))
		for _, v := range q.values() {
			if v.Unit.Dimension == quantity.Number || v.Value == 0 || v.Value < 0 {
				continue // stated without a unit, or as a side
			}
			found := false
			for _, s := range said {
				found = found || s.Unit.Dimension == v.Unit.Dimension && (s.SI() == v.SI() || v.Unit.Symbol == "°" && s.Value == 180-v.Value)
			}
			shown := false
			for _, a := range q.Parts {
				shown = shown || a.Show == v
			}
			for _, b := range q.Bodies {
				shown = shown || b.Rule == v || b.At != nil || b.Angle == v && v.Value == 90
			}
			if !found && !shown {
				t.Errorf("%s: %s (line %d) is not in the wording:\n%s", filepath.Base(file), v.Quantity, v.Span.Line, Wording(q)[0])
			}
		}
	}
}

// The author's wording is read against the arrangement.
func TestWarnings(t *testing.T) {
	src := `question "Mooring plank"
text "A plank {plank.length} long carries a crate of 250 N, 1.50 m from the left end."
body plank: uniform, length 5.00 m, weight 300 N
support N: rest, on plank at 0.50 m
support Q: rest, on plank at 3.50 m, coefficient 0.40
load K: mass 24 kg, on plank at 1.50 m, "crate"
part a: find force Q
vary K.at 1.50 m to 2.50 m step 0.50 m
`
	want := []string{
		"w.moments:4:9: the name N is easily read as the newton; choose another letter",
		"w.moments:7:6: part a has no marks; add marks 3 at the end of its line",
		"w.moments:2:1: the wording does not state the weight of plank, 300 N; add {plank.weight}",
		"w.moments:2:1: the wording does not say that plank is uniform; add the word uniform",
		"w.moments:2:1: the wording does not state the coefficient of friction at Q, 0.40; add {Q.coefficient}",
		"w.moments:2:1: the wording does not state the mass of K, 24 kg; add {K.mass}",
		"w.moments:2:1: the wording does not state g, which is needed; add g = {g}",
		"w.moments:2:1: the wording states 250 N, which is nowhere in the arrangement; correct it, or use a placeholder such as {K.weight}",
		"w.moments:2:1: the wording states 1.50 m itself, though the place of K varies; write {K.at}",
	}
	var got []string
	for _, w := range mustParse(t, "w.moments", src).Warnings() {
		got = append(got, w.Error())
	}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	fine := strings.NewReplacer("support N", "support P", "find force Q", "find force Q marks 3", "250 N, 1.50 m", "{K.mass}, {K.at}",
		"long carries", "long, uniform and of weight {plank.weight}, lies on two sills (coefficient of friction {Q.coefficient} at Q; g = {g}). It carries").Replace(src)
	for _, w := range mustParse(t, "w.moments", fine).Warnings() {
		t.Errorf("this wording leaves nothing out, yet: %v", w)
	}
}

// A place left of or below zero is said without its sign.
func TestWordingSaysNegativePlacesWithoutSign(t *testing.T) {
	q := mustParse(t, "w.moments", `question "Bracket"
text "A light arm, 1.20 m long, is hinged to a wall. A strut runs to it from a place 0.54 m below the hinge. A lamp of weight 45 N hangs from its end."
body arm: light, length 1.20 m
support H: hinge, on arm at left end
strut S: on arm at 0.72 m, from (0 m, -0.54 m)
load K: weight 45 N, hung from arm at right end
part a: find thrust S marks 3
`)
	for _, w := range q.Warnings() {
		t.Errorf("this wording says nothing else, yet: %v", w)
	}
}

// A body whose name is a letter is called a body: "the b" is no English.
func TestBodyCalledByALetter(t *testing.T) {
	q, err := Parse("letter.moments", "question \"Letter\"\nbody b: uniform, length 2.00 m, weight 30 N\nsupport P: rest, on b at 0.50 m\nsupport Q: rest, on b at 1.80 m\npart a: find force P marks 2\n")
	if err != nil {
		t.Fatal(err)
	}
	if got := PartWording(q, q.Parts[0]); !strings.Contains(got, "on the body b") {
		t.Errorf("%q does not say on the body b", got)
	}
}

// Of several words the one before a preposition tells whether there are many.
func TestPluralOfSeveralWords(t *testing.T) {
	for noun, want := range map[string]bool{"heap of rucksacks": false, "bags of cement": true, "trolley with boxes": false, "boxes on a trolley": true, "lock keeper": false, "books": true} {
		if plural(noun) != want {
			t.Errorf("plural(%q) is %v", noun, !want)
		}
	}
}
