package homework

import (
	"fmt"
	"testing"
)

func TestSenseOf(t *testing.T) {
	for shown, want := range map[string]string{
		"99.5 N m clockwise":                 "99.5|clockwise|true",
		"534 N up":                           "534|up|true",
		"234 N to the left":                  "234|to the left|true",
		"4.05 m from the left-hand end":      "||false",
		"137 N at 20° above the horizontal":  "||false",
		"it stays at rest":                   "||false",
		"12 N":                               "||false",
		"120 N down, acting 0.725 m from it": "||false",
	} {
		size, sense, ok := senseOf(shown)
		if !ok {
			size, sense = "", ""
		}
		if got := fmt.Sprintf("%s|%s|%t", size, sense, ok); got != want {
			t.Errorf("%s: %s, want %s", shown, got, want)
		}
	}
}
