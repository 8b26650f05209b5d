package office_test

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"io"
	"testing"

	"steelyard/office"
)

// Whatever words are written, they come out again as words, less what no XML may hold.
func FuzzEscape(f *testing.F) {
	for _, s := range []string{"", `<em>&"'`, "]]>", "\x00\x1f\xff", "a\tb\nc", "\uFFFD\uFFFE", "−½ μ"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		b := office.NewPart().Open("a").Leaf("b", text, "c", text).Bytes()
		var got struct {
			B struct {
				C    string `xml:"c,attr"`
				Text string `xml:",chardata"`
			} `xml:"b"`
		}
		if err := xml.Unmarshal(b, &got); err != nil {
			t.Fatalf("%q became %q: %v", text, b, err)
		}
		if got.B.C != got.B.Text {
			t.Errorf("%q in an attribute, %q as text", got.B.C, got.B.Text)
		}
		if len(text) > 0 && bytes.IndexFunc([]byte(text), func(r rune) bool { return r < ' ' || r > '~' }) < 0 && got.B.Text != text {
			t.Errorf("%q became %q", text, got.B.Text)
		}
	})
}

func TestPackKeepsOrderAndBytes(t *testing.T) {
	files := []office.File{{Name: "mimetype", Body: []byte("text/plain"), Stored: true}, {Name: "b/a.xml", Body: bytes.Repeat([]byte("word "), 500)}}
	one, err := office.Pack(files)
	two, _ := office.Pack(files)
	if err != nil || !bytes.Equal(one, two) || string(one[30:48]) != "mimetypetext/plain" {
		t.Fatalf("%v, begins with %q", err, one[:60])
	}
	z, err := zip.NewReader(bytes.NewReader(one), int64(len(one)))
	if err != nil || z.File[1].Name != "b/a.xml" || z.File[1].Modified.Year() != 1980 {
		t.Fatal(err, z.File[1].Modified)
	}
	r, err := z.File[1].Open()
	if err != nil {
		t.Fatal(err)
	}
	if body, err := io.ReadAll(r); err != nil || !bytes.Equal(body, files[1].Body) {
		t.Error(err)
	}
	for _, bad := range []string{"", "/a", "mimetype"} {
		if _, err := office.Pack(append(files[:1:1], office.File{Name: bad})); err == nil {
			t.Errorf("an entry named %q was taken", bad)
		}
	}
}
