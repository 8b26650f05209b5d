package classes

import (
	"reflect"
	"strings"
	"testing"

	"steelyard/roster"
)

// What the teacher looks at is what is carried out.
func TestListsArePackedAndUnpacked(t *testing.T) {
	lists := []roster.List{{Title: "12B", Source: "cl-12b", Whole: true, Pupils: []roster.Pupil{{Name: "Zoë <em>", Source: "u-9"}, {Source: "u-10", Left: true}}, Notes: []string{"Read."}}}
	packed, err := packLists(lists)
	if err != nil {
		t.Fatal(err)
	}
	if got, err := unpackLists(packed); err != nil || !reflect.DeepEqual(got, lists) {
		t.Errorf("%+v, %v", got, err)
	}
	huge, err := packLists([]roster.List{{Title: strings.Repeat("x", mostUnpacked)}})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := unpackLists(huge); err == nil {
		t.Error("a field that unpacks to more than it may is read")
	}
}

func FuzzUnpackLists(f *testing.F) {
	packed, _ := packLists([]roster.List{{Title: "12B", Pupils: []roster.Pupil{{Name: "A"}}}})
	f.Add(packed)
	f.Add("H4sIAAAAAAAA")
	f.Fuzz(func(t *testing.T, s string) {
		lists, err := unpackLists(s)
		for _, l := range lists {
			if err == nil && l.Check() != nil {
				t.Errorf("a list that can't be kept: %+v", l)
			}
		}
	})
}
