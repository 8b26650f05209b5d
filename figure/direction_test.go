package figure

import (
	"fmt"
	"strings"
	"testing"

	"steelyard/draw"
)

// TestEveryDirectionIsShown: an angle that a direction is given by stands in the sketch, with its arc, and
// in the words and the table beside it; right angles to a slanting body are marked.
func TestEveryDirectionIsShown(t *testing.T) {
	const head = "question \"Arm\"\nbody arm: uniform, length 2.00 m, weight 80 N%s\nsupport H: hinge, on arm at left end\n"
	ways := []string{"47 deg above left", "47 deg above right", "47 deg left of up", "47 deg right of up", "at 47 deg to arm"}
	var lines []string
	for _, way := range ways {
		for _, place := range []string{"right end", "1.20 m"} {
			lines = append(lines,
				"cable T: on arm at "+place+", pulls "+way,
				"strut S: on arm at "+place+", pushes "+way,
				"link L: on arm at "+place+", pulls "+way,
				"support R: roller, on arm at "+place+", pushes "+way,
				"support R: rest, on arm at "+place+", pushes "+way,
				"support M: force meter, on arm at "+place+", pulls "+way,
				"support M: spring, on arm at "+place+", pulls "+way,
				"load E: force 30 N "+way+", on arm at "+place,
				"load E: force 30 N "+strings.Replace(way, "above", "below", 1)+", on arm at "+place)
		}
	}
	for _, lean := range []string{"", ", angle 25 deg"} {
		for _, line := range lines {
			line = strings.Replace(line, "load E: force", "force E:", 1)
			src := fmt.Sprintf(head, lean) + line + "\npart a: find force H\n"
			l := lay(t, src)
			p := Draw(l, Options{})
			svg := string(draw.SVG(p))
			if !strings.Contains(svg, "47°") || !strings.Contains(svg, `id="angle-`+slug(strings.Trim(strings.Fields(line)[1], ":"))) {
				t.Errorf("%s: the angle is not in the sketch", line)
			}
			rows := fmt.Sprint(Rows(l))
			if !strings.Contains(p.Description, "47°") && !strings.Contains(p.Description, "47 degrees") {
				t.Errorf("%s: the angle is not in the words: %s", line, p.Description)
			}
			if !strings.Contains(rows, "47°") && !strings.Contains(rows, "47 degrees") {
				t.Errorf("%s: the angle is not in the table: %s", line, rows)
			}
		}
	}
	l := lay(t, fmt.Sprintf(head, ", angle 35 deg")+"force E: unknown at right angles to arm, on arm at right end\npart a: find force E\n")
	if svg := string(draw.SVG(Draw(l, Options{}))); !strings.Contains(svg, `id="angle-E"`) {
		t.Error("the right angle between the force and the arm is not marked")
	}
}
