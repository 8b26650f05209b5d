package figure

import (
	"regexp"
	"strings"
	"testing"

	"steelyard/draw"
)

const sledge = "question \"Sledge\"\nbody a: block 1.20 m by 0.30 m, uniform, weight 240 N, \"sledge\"\nsupport F: floor, on a, coefficient 0.30\nforce E: 60 N 25 deg above right, on a at (1.20 m, 0.20 m)\npart a: find friction F\n"

// TestLettersForLengths: where there is too little room for the lengths, letters stand for them, each
// explained once, none of them a name of the question; where there is room, the lengths stand themselves.
func TestLettersForLengths(t *testing.T) {
	l := lay(t, sledge)
	p := Draw(l, Options{Width: 495, TextSize: 24, Upright: true})
	if p.Width > 495.5 {
		t.Errorf("the picture is %.0f points wide, asked were 495", p.Width)
	}
	var texts []string
	for _, m := range regexp.MustCompile(`(?s)<text[^>]*>(.*?)</text>`).FindAllStringSubmatch(string(draw.SVG(p)), -1) {
		texts = append(texts, regexp.MustCompile(`<[^>]*>`).ReplaceAllString(m[1], ""))
	}
	all := "\n" + strings.Join(texts, "\n") + "\n"
	for _, length := range []string{"1.20\u00a0m", "0.30\u00a0m", "0.20\u00a0m"} {
		m := regexp.MustCompile(`([a-z]) = `+length).FindAllStringSubmatch(all, -1)
		if len(m) != 1 {
			t.Errorf("%s is explained %d times, want once in:%s", length, len(m), all)
			continue
		}
		if letter := m[0][1]; letter == "a" || letter == "e" || letter == "f" || !strings.Contains(all, "\n"+letter+"\n") {
			t.Errorf("%s is called %s: a name of the question, or not in the picture:%s", length, letter, all)
		}
	}
	if svg := string(draw.SVG(Draw(l, Options{}))); strings.Contains(svg, `id="key"`) {
		t.Error("there are letters for lengths in a picture that has room")
	}
}
