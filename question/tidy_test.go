package question

import (
	"path/filepath"
	"reflect"
	"strings"
	"testing"
)

// without returns a copy of the question without its spans, its file and its lines.
func without(q *Question) *Question {
	c := *q
	c.File, c.lines = "", nil
	v := reflect.ValueOf(&c).Elem()
	return strip(v).Addr().Interface().(*Question)
}

// strip copies v deeply and leaves all spans 0.
func strip(v reflect.Value) reflect.Value {
	out := reflect.New(v.Type()).Elem()
	switch v.Kind() {
	case reflect.Struct:
		if v.Type() == reflect.TypeFor[Span]() {
			return out
		}
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				out.Field(i).Set(strip(v.Field(i)))
			}
		}
	case reflect.Slice:
		if v.IsNil() {
			return out
		}
		out.Set(reflect.MakeSlice(v.Type(), v.Len(), v.Len()))
		for i := range v.Len() {
			out.Index(i).Set(strip(v.Index(i)))
		}
	case reflect.Pointer:
		if v.IsNil() {
			return out
		}
		p := reflect.New(v.Type().Elem())
		p.Elem().Set(strip(v.Elem()))
		out.Set(p)
	default:
		out.Set(v)
	}
	return out
}

// The standard form says the same as the file, and is its own standard form.
func TestTidyIsSettled(t *testing.T) {
	for _, file := range goodFiles(t) {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".moments"), func(t *testing.T) {
			src := read(t, file)
			q := mustParse(t, file, src)
			tidy := q.String()
			again := mustParse(t, "tidy.moments", tidy)
			if got := again.String(); got != tidy {
				t.Errorf("tidy of tidy differs:\n%s\nfrom\n%s", got, tidy)
			}
			if !reflect.DeepEqual(without(q), without(again)) {
				t.Errorf("the standard form says something else:\n%s\nthan\n%s\n%+v\n%+v", tidy, src, without(again), without(q))
			}
			if strings.Count(src, "#") != strings.Count(tidy, "#") {
				t.Errorf("comments got lost:\n%s", tidy)
			}
			fresh := without(q) // as built by a program
			if _, err := Parse("fresh.moments", fresh.String()); err != nil {
				t.Errorf("%v in\n%s", err, fresh)
			}
		})
	}
}
