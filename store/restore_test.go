package store_test

import (
	"bytes"
	"compress/gzip"
	"io"
	"testing"

	"steelyard/store"
)

// What is no backup is refused, whatever it is: nothing panics, and what comes out of a restore verifies.
func FuzzRestore(f *testing.F) {
	s := filled(f, f.TempDir(), 2)
	if _, err := s.HandIn(f.Context(), pupilBy(0), sixParts(0, "k")); err != nil {
		f.Fatal(err)
	}
	var b bytes.Buffer
	if err := s.Backup(f.Context(), &b); err != nil {
		f.Fatal(err)
	}
	const first = "steelyard backup 1\n"
	z, err := gzip.NewReader(bytes.NewReader(b.Bytes()[len(first):]))
	if err != nil {
		f.Fatal(err)
	}
	lines, err := io.ReadAll(z)
	if err != nil {
		f.Fatal(err)
	}
	f.Add(lines)
	f.Add([]byte(`{"form":1,"schema":1,"taken":"2027-03-04T09:30:00Z"}` + "\n" + `{"end":"all","rows":0}` + "\n"))
	f.Add([]byte(`{"form":1,"schema":2}` + "\n" + `{"table":"settings","columns":["name","value"]}` + "\n" + `["a",1]` + "\n" + `{"end":"settings","rows":1,"sha256":""}` + "\n"))
	f.Add([]byte(`{"form":2,"schema":1}`))
	f.Add([]byte("[]"))
	f.Fuzz(func(t *testing.T, lines []byte) {
		var b bytes.Buffer
		b.WriteString(first)
		z := gzip.NewWriter(&b)
		z.Write(lines)
		z.Close()
		store.Restore(t.Context(), &b, t.TempDir(), nil)
	})
}
