package slides

import (
	"strings"
	"testing"

	"steelyard/bank"
	"steelyard/bank/banktest"
	"steelyard/formula"
	"steelyard/show"
)

func explained(t *testing.T, name string) *show.Talk {
	t.Helper()
	k, err := show.Explain(banktest.Text(t, name))
	if err != nil {
		t.Fatal(err)
	}
	return k
}

// Blocks stand below each other or beside, each in its place, and none is left out. A formula of two levels is as large as
// words on a slide have to be at least, or it is written in a line.
func TestBlocksKeepToTheirPlaces(t *testing.T) {
	formulas, lines := 0, 0
	for _, name := range bank.Names() {
		for i, v := range onSlides(explained(t, name)) {
			list, size := v.paragraphs()
			all := blocks(list, size)
			count := 0
			for k := range all {
				a := &all[k]
				if a.left < workingLeft || a.top < top || a.bottom > top+room+1 || a.width() <= 0 || a.height() <= 0 {
					t.Errorf("%s, slide %d: a block stands at %v", name, i+1, a.box)
				}
				for j := range all[:k] {
					b := &all[j]
					if a.left < b.right-0.01 && b.left < a.right-0.01 && a.top < b.bottom-0.01 && b.top < a.bottom-0.01 {
						t.Errorf("%s, slide %d: blocks stand on each other: %v %v", name, i+1, a.box, b.box)
					}
				}
				if a.built() == nil {
					for _, p := range a.list {
						for _, r := range p.runs {
							lines += strings.Count(r.Text, "\u00a0/\u00a0")
						}
					}
					count += len(a.list)
					continue
				}
				formulas++
				count++
				if a.right > wide-margin+0.01 {
					t.Errorf("%s, slide %d: a formula ends at %.0f", name, i+1, a.right)
				}
				if _, k := a.list[0].built2D(size); k*size < least2D {
					t.Errorf("%s, slide %d: a formula of %.1f points", name, i+1, k*size)
				}
			}
			for _, p := range list { // signs and tails have boxes of their own
				if p.built != nil && p.fresh {
					count--
				}
				if p.built != nil && p.tail != "" {
					count--
				}
			}
			if count != len(list) {
				t.Errorf("%s, slide %d: %d of %d paragraphs are laid out", name, i+1, count, len(list))
			}
		}
	}
	if formulas < 10*lines || lines == 0 {
		t.Errorf("%d fractions of two levels, and %d in a line: the first should be nearly all", formulas, lines)
	}
}

// Every fraction on slides is a formula that can be edited, the new ones black and the others grey, and with it a line for
// programs that know no formulas.
func TestFractionsCanBeEdited(t *testing.T) {
	k := explained(t, "awning-arm.moments")
	want, fresh := 0, 0
	for _, s := range k.Steps {
		for i, l := range s.Lines {
			if strings.Contains(formula.Text(l.Formula), " / ") {
				want++
				if i >= len(s.Lines)-s.New {
					fresh++
				}
			}
		}
	}
	if want < 2 || fresh < 2 || fresh == want {
		t.Fatalf("%d fractions, %d new: too few to tell", want, fresh)
	}
	slideParts := ""
	for _, v := range onSlides(k) {
		slideParts += string(v.pptxSlide())
	}
	if got := strings.Count(slideParts, "<m:f>"); got != want {
		t.Errorf("pptx: %d fractions, want %d", got, want)
	}
	lines := 0
	for _, after := range strings.Split(slideParts, "<mc:Fallback>")[1:] {
		in, _, _ := strings.Cut(after, "</mc:Fallback>")
		lines += strings.Count(in, "\u00a0/\u00a0")
	}
	if lines != want {
		t.Errorf("pptx: %d lines stand for %d formulas", lines, want)
	}
	d := &odpDrawer{odf: newODF(), dashes: map[string]string{}}
	for i, v := range onSlides(k) {
		d.slide(&v, i+1)
	}
	got, black := 0, 0
	for _, f := range d.extra {
		body := string(f.Body)
		got += strings.Count(body, "<mfrac>")
		black += strings.Count(body, `mathcolor="#1A1A1A"`)
		if strings.Contains(body, "<mfrac>") && !strings.Contains(body, `</mfrac><mspace width="0em"/></mrow>`) {
			t.Errorf("a bare fraction: LibreOffice takes what follows into its denominator: %s", body)
		}
	}
	if got != want || black != fresh {
		t.Errorf("odp: %d fractions, %d in black; want %d and %d", got, black, want, fresh)
	}
}

// The paper behind a label stands in the label's group, before it, without an outline.
func TestPaperGoesWithItsLabel(t *testing.T) {
	found := 0
	for _, v := range onSlides(explained(t, "library-ladder.moments")) {
		for _, group := range strings.Split(string(v.pptxSlide()), "<p:grpSp>") {
			_, after, yes := strings.Cut(group, `name="paper behind a label"`)
			if !yes {
				continue
			}
			found++
			paper, rest, _ := strings.Cut(after, "</p:sp>")
			label, _, _ := strings.Cut(rest, "</p:grpSp>")
			if !strings.Contains(paper, `<a:ln><a:noFill/></a:ln>`) || !strings.Contains(label, `name="label"`) {
				t.Errorf("the paper is outlined, or its label stands elsewhere: %s", after)
			}
		}
	}
	if found == 0 {
		t.Error("no label of this question has paper behind it: the test looks in the wrong place")
	}
}
