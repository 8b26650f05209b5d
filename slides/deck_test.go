package slides

import (
	"testing"

	"steelyard/bank"
	"steelyard/show"
)

// A ladder takes more than half of the height that there is for it, a beam the width, and nothing leaves its place. Within
// a part the picture holds still.
func TestPicturesFillTheirPlace(t *testing.T) {
	for name, least := range map[string]float64{"library-ladder": 0.5 * room, "lock-footbridge": 0.5 * pictureWidth, "puppet-plate": 0.25 * room} {
		src, err := bank.Files.ReadFile(name + ".moments")
		if err != nil {
			t.Fatal(err)
		}
		k, err := show.Explain(string(src))
		if err != nil {
			t.Fatal(err)
		}
		list := onSlides(k)
		for i := range list {
			v := &list[i]
			x, y := v.corner()
			at := extent(placed(v.picture.Marks, v.scale(), x, y))
			if at.left < margin-1 || at.right > margin+pictureWidth+1 || at.top < top-1 || at.bottom > top+room+1 {
				t.Errorf("%s, %s: the picture reaches from (%.0f, %.0f) to (%.0f, %.0f)", name, v.title, at.left, at.top, at.right, at.bottom)
			}
			if i > 0 && k.Steps[i].Part == k.Steps[i-1].Part && (v.scale() != list[i-1].scale() || v.drawn != list[i-1].drawn) {
				t.Errorf("%s, %s: the picture moves within its part", name, v.title)
			}
			if k.Steps[i].ID == "b-1" && v.bodies() < least {
				t.Errorf("%s, %s: the bodies are %.0f points large, not %.0f", name, v.title, v.bodies(), least)
			}
		}
	}
}
