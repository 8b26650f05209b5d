package font

import (
	"math"
	"sync"
	"testing"
)

// Times New Roman and Arial are the metric models of Liberation Serif and Sans, and Adobe's core
// metrics for Times-Roman and Helvetica agree with them to a unit. Widths below: Adobe Font Metrics
// Times-Roman.afm, Helvetica.afm (WX values, thousandths of an em), from memory.
func TestAdvancesAgreeWithTheMetricModels(t *testing.T) {
	tests := []struct {
		face *Face
		sign rune
		want float64
	}{
		{Serif, 'A', 722}, {Serif, 'm', 778}, {Serif, '0', 500}, {Serif, ' ', 250}, {Serif, 'x', 500},
		{Sans, 'A', 667}, {Sans, 'm', 833}, {Sans, '0', 556}, {Sans, ' ', 278}, {Sans, 'i', 222},
		{SerifItalic, 'A', 611}, {SerifBold, 'A', 722}, {SansBold, 'A', 722}, {SansItalic, 'A', 667},
	}
	for _, c := range tests {
		if got := c.face.Units(c.face.GlyphIndex(c.sign)); math.Abs(got-c.want) > 1 {
			t.Errorf("%s %q is %.1f wide, want %.0f", c.face.Name(), c.sign, got, c.want)
		}
	}
}

func TestWidthIsTheSumOfItsGlyphs(t *testing.T) {
	for _, f := range Faces() {
		for _, text := range []string{"", "beam", "AVATAR To Wa", "240 N × 1.20 m", "½ − ° ≤"} {
			var want float64
			for _, run := range f.Runs(text) {
				for _, g := range run.Face.Glyphs(run.Text) {
					want += run.Face.Units(g.ID) + g.Kern
				}
			}
			if got := f.Width(text, 12); math.Abs(got-want*12/1000) > 1e-9 {
				t.Errorf("%s: %q is %g wide, its glyphs %g", f.Name(), text, got, want*12/1000)
			}
		}
	}
}

func TestPairsThatNeedItAreKerned(t *testing.T) {
	for _, f := range []*Face{Serif, SerifItalic, SerifBold, Sans, SansItalic, SansBold} {
		if got := f.Kern(f.GlyphIndex('A'), f.GlyphIndex('V')); got >= 0 {
			t.Errorf("%s: AV is not drawn together (%g)", f.Name(), got)
		}
	}
}

// Every sign that the program prints must be in the face or in Signs.
func TestNoSignOfTheTradeIsMissing(t *testing.T) {
	const signs = "×−±·≤≥<>≈≠=°½¼¾²³⁻¹µμθαβ√∑Δ∴⇒→←↑↓↶↷⟲⟳∠⊥∥–—‘’“”…•′″\u00a0\u2009\u202f"
	for _, f := range Faces() {
		for _, run := range f.Runs(signs) {
			for _, r := range run.Text {
				if r == '\uFFFD' || run.Face.GlyphIndex(r) == 0 {
					t.Errorf("%s: a sign of %q is missing from Signs as well", f.Name(), signs)
				}
			}
		}
	}
	if runs := Serif.Runs("a\U000F0000b"); len(runs) != 3 || runs[1].Text != "\uFFFD" {
		t.Errorf("an unknown sign gives %v, want a replacement sign between a and b", runs)
	}
}

func TestHeightsAreSensible(t *testing.T) {
	for _, f := range Faces() {
		m := f.Metrics()
		if !(0.4 < m.XHeight && m.XHeight < m.CapHeight && m.CapHeight < m.Ascent && m.Descent > 0.1) {
			t.Errorf("%s: %+v", f.Name(), m)
		}
		if f.Italic() != (m.Slant < 0) {
			t.Errorf("%s slants by %g", f.Name(), m.Slant)
		}
	}
}

// The outline of H is a closed shape as high as the capitals and no wider than its advance.
func TestOutlineOfH(t *testing.T) {
	for _, f := range Faces() {
		outline, err := f.Outline(f.GlyphIndex('H'))
		if err != nil || len(outline) < 12 || outline[0].Op != Move {
			t.Fatalf("%s: %v, %d segments", f.Name(), err, len(outline))
		}
		low, high := math.Inf(1), math.Inf(-1)
		for _, s := range outline {
			low, high = min(low, s.To.Y), max(high, s.To.Y)
		}
		if math.Abs(low) > 0.01 || math.Abs(high-f.CapHeight(1)) > 0.03 {
			t.Errorf("%s: H reaches from %g to %g, capitals to %g", f.Name(), low, high, f.CapHeight(1))
		}
	}
	if outline, err := Serif.Outline(Serif.GlyphIndex(' ')); err != nil || len(outline) != 0 {
		t.Errorf("a space has %d segments (%v)", len(outline), err)
	}
}

func TestManyAtOnce(t *testing.T) {
	var wait sync.WaitGroup
	for range 8 {
		wait.Go(func() {
			for _, f := range Faces() {
				f.Width("The quick brown fox ≤ 1.20 m", 11)
				f.Outline(f.GlyphIndex('g'))
			}
		})
	}
	wait.Wait()
}

func BenchmarkWidth(b *testing.B) {
	for b.Loop() {
		Serif.Width("A uniform plank of weight 310 N rests on two sills P and Q.", 11)
	}
}
