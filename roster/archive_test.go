package roster

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io/fs"
	"strings"
	"testing"
)

// A zip that could do harm is refused, with the reason (OWASP ASVS 5.0.0, 5.2.3, 5.3.2, and its notes on decompression).
func TestArchivesThatAreRefused(t *testing.T) {
	set := sample(t)
	with := func(name, content string) []byte {
		more := map[string]string{name: content}
		for k, v := range set {
			more[k] = v
		}
		return packed(t, more)
	}
	link := func() []byte {
		var to bytes.Buffer
		z := zip.NewWriter(&to)
		h := &zip.FileHeader{Name: "users.csv"}
		h.SetMode(fs.ModeSymlink | 0o777)
		w, err := z.CreateHeader(h)
		if err != nil {
			t.Fatal(err)
		}
		w.Write([]byte("/etc/passwd"))
		z.Close()
		return to.Bytes()
	}
	many := map[string]string{}
	for i := range mostFiles + 1 {
		many[fmt.Sprintf("f%d.csv", i)] = ""
	}
	twice := func() []byte {
		var to bytes.Buffer
		z := zip.NewWriter(&to)
		for range 2 {
			w, _ := z.Create("users.csv")
			w.Write([]byte("x"))
		}
		z.Close()
		return to.Bytes()
	}
	// lying says that a file is small, and it is not.
	lying := packed(t, map[string]string{"manifest.csv": strings.Repeat("propertyName,value\n", 300)})
	if i := bytes.LastIndex(lying, []byte("PK\x01\x02")); i >= 0 {
		copy(lying[i+24:], []byte{19, 0, 0, 0})
	}
	for name, test := range map[string]struct {
		b    []byte
		want string
	}{
		"no zip":           {[]byte("name\nIlse Hart"), "no zip"},
		"cut off":          {packed(t, set)[:400], "no zip, or a broken one"},
		"too large":        {make([]byte, LargestArchive+1), "larger than 20 MB"},
		"bomb":             {with("orgs2.csv", strings.Repeat("0", 1<<20)), "more than 100 times its size"},
		"way out":          {with("../users.csv", "x"), "leads out of the zip"},
		"absolute":         {with("/users.csv", "x"), "leads out of the zip"},
		"backslash":        {with(`..\users.csv`, "x"), "leads out of the zip"},
		"drive":            {with(`c:users.csv`, "x"), "leads out of the zip"},
		"nested":           {with("more.zip", "x"), "a zip within the zip"},
		"folder":           {with("export/users.csv", "x"), "stands in a folder"},
		"link":             {link(), "a link or a device"},
		"too many":         {packed(t, many), "files, and may have 2000"},
		"twice":            {twice(), "there twice"},
		"lying about size": {lying, "not what the zip says it is"},
		"no manifest":      {packed(t, map[string]string{"users.csv": "x"}), "no manifest.csv"},
	} {
		if _, err := ReadOneRoster(test.b, day, Known{}); err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%s: %v, want %s", name, err, test.want)
		}
	}
	if _, err := ReadOneRoster(with("__MACOSX/._users.csv", "x"), day, Known{}); err != nil {
		t.Errorf("what a computer adds of its own accord: %v", err)
	}
}
