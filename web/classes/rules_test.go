package classes_test

import (
	"testing"

	"steelyard/web/webtest"
)

// A worked solution that pupils see while others are at work is warned of, as loudly as it is chosen.
func TestASolutionThatCanBeShownAroundIsWarnedOf(t *testing.T) {
	site := webtest.New(t)
	for _, x := range []struct {
		name     string
		practice bool
		value    string // of the form's field
		loud     bool
	}{
		{"with the release", false, "released", false},
		{"once it has closed", false, "closed", false},
		{"once handed in", false, "handed-in", true},
		{"from the start", false, "open", true},
		{"practice counts for nothing", true, "handed-in", false},
	} {
		t.Run(x.name, func(t *testing.T) {
			s := draft(t, site, "lock-footbridge")
			kind := "homework"
			if x.practice {
				kind = "practice"
			}
			site.Teacher.Get("/sets/"+s.ID+"/rules").Submit("Save", webtest.Values{"closes": "2026-12-09T16:00", "solution": x.value, "kind": kind}).Want(200)
			p := site.Teacher.Get("/sets/" + s.ID + "/rules").Want(200).Has("can be shown by that pupil to others who are still at work")
			if loud := len(p.All("p", "class", "notice query")) == 1; loud != x.loud {
				t.Errorf("warned of loudly: %v, want %v", loud, x.loud)
			}
		})
	}
}
