package question

import (
	"path/filepath"
	"reflect"
	"testing"
)

// Whatever a file can vary or name in its wording is found, and changing it changes the question.
func TestValueIsFoundAndChanged(t *testing.T) {
	q := mustParse(t, "lock-footbridge.moments", read(t, "testdata/good/lock-footbridge.moments"))
	c := q.Clone()
	for _, v := range c.Vary {
		now := c.Value(v.Thing, v.Attribute)
		if now == nil || !now.Known() {
			t.Fatalf("%s.%s is not found", v.Thing, v.Attribute)
		}
		now.Quantity = v.To.Quantity
	}
	if q.Load("K").Weight.SI() != 540 || c.Load("K").Weight.SI() != 620 || c.Support("Q").On.At.SI() != 4.4 {
		t.Errorf("the copy has %v and %v, the question %v", c.Load("K").Weight, c.Support("Q").On.At, q.Load("K").Weight)
	}
	again := mustParse(t, "changed.moments", c.String())
	if again.Load("K").Weight.String() != "620 N" {
		t.Errorf("the change is not written:\n%s", c)
	}
	for _, name := range []string{"P.colour", "Z.weight"} {
		thing, attribute, _ := cutDot(name)
		if q.Value(thing, attribute) != nil {
			t.Errorf("%s was found", name)
		}
	}
}

// A copy says the same and shares no memory with the question.
func TestCloneSharesNothing(t *testing.T) {
	for _, file := range goodFiles(t) {
		q := mustParse(t, file, read(t, file))
		c := q.Clone()
		if !reflect.DeepEqual(q, c) {
			t.Errorf("%s: the copy differs", filepath.Base(file))
		}
		if path := shared(reflect.ValueOf(q).Elem(), reflect.ValueOf(c).Elem(), "q"); path != "" {
			t.Errorf("%s: %s is shared with the copy", filepath.Base(file), path)
		}
	}
}

// shared returns the path of a pointer or slice that a and b share.
func shared(a, b reflect.Value, path string) string {
	switch a.Kind() {
	case reflect.Pointer:
		if a.IsNil() {
			return ""
		}
		if a.Pointer() == b.Pointer() {
			return path
		}
		return shared(a.Elem(), b.Elem(), path)
	case reflect.Slice:
		if a.Len() > 0 && a.Pointer() == b.Pointer() {
			return path
		}
		for i := range a.Len() {
			if s := shared(a.Index(i), b.Index(i), path+"[]"); s != "" {
				return s
			}
		}
	case reflect.Struct:
		for i := range a.NumField() {
			if s := shared(a.Field(i), b.Field(i), path+"."+a.Type().Field(i).Name); s != "" {
				return s
			}
		}
	}
	return ""
}
