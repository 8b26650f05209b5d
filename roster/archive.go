package roster

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"io/fs"
	"path"
	"strings"
)

// Limits of an archive: bytes packed and unpacked, files, and how many times smaller packing may have made a file.
const (
	LargestArchive = 20 << 20
	largestContent = 100 << 20
	mostFiles      = 2000
	mostRatio      = 100
)

// An archive is a zip whose files have been counted and whose names are harmless. Nothing of it goes to the disk.
type archive map[string]*zip.File

func openArchive(b []byte) (archive, error) {
	refuse := func(what, mend string) (archive, error) { return nil, Faults{{What: what, Mend: mend}} }
	if len(b) > LargestArchive {
		return refuse("the zip is larger than 20 MB", "is it the right file?")
	}
	z, err := zip.NewReader(bytes.NewReader(b), int64(len(b)))
	if err != nil {
		return refuse("this is no zip, or a broken one", "fetch it from the school's system again")
	}
	if len(z.File) > mostFiles {
		return refuse(fmt.Sprintf("the zip has %d files, and may have %d", len(z.File), mostFiles), "is it the right file?")
	}
	a, total := archive{}, uint64(0)
	var faults Faults
	for _, f := range z.File {
		name := f.Name
		fault := func(what, mend string) {
			faults = append(faults, Fault{File: short(printableName(name)), What: what, Mend: mend})
		}
		total += f.UncompressedSize64
		switch {
		case total > largestContent:
			return refuse("the zip unpacks to more than 100 MB", "is it the right file?")
		case f.UncompressedSize64 > 4096 && f.UncompressedSize64 > mostRatio*f.CompressedSize64:
			fault("it unpacks to more than 100 times its size", "a list of pupils doesn't; is it the right file?")
		case f.Flags&1 != 0:
			fault("it is locked with a password", "make the zip without one")
		case f.Mode()&fs.ModeType&^fs.ModeDir != 0:
			fault("it is a link or a device, not a file", "put the file itself into the zip")
		case strings.ContainsAny(name, `\:`) || !fs.ValidPath(strings.TrimSuffix(name, "/")):
			fault("its name leads out of the zip", "put the files into it by their plain names")
		case strings.HasPrefix(path.Base(name), ".") || strings.HasPrefix(name, "__MACOSX/"):
			// What computers add of their own accord is passed over.
		case strings.Contains(name, "/"):
			fault("it stands in a folder", "put the CSV files into the zip by themselves, without a folder around them")
		case strings.EqualFold(path.Ext(name), ".zip"):
			fault("it is a zip within the zip", "unpack that one first")
		case a[name] != nil:
			fault("it is there twice", "take one out")
		default:
			a[name] = f
		}
		if len(faults) > 20 {
			break
		}
	}
	if len(faults) > 0 {
		return nil, faults
	}
	return a, nil
}

func printableName(s string) string {
	return strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f {
			return '?'
		}
		return r
	}, strings.ToValidUTF8(s, "?"))
}

// read unpacks a file, never more of it than it said that it holds.
func (a archive) read(name string) ([]byte, error) {
	f := a[name]
	r, err := f.Open()
	if err != nil {
		return nil, Faults{{File: name, What: "it can't be unpacked", Mend: "make the zip again, with the usual kind of packing"}}
	}
	defer r.Close()
	b, err := io.ReadAll(io.LimitReader(r, int64(f.UncompressedSize64)+1))
	if err != nil || uint64(len(b)) != f.UncompressedSize64 {
		return nil, Faults{{File: name, What: "it is broken or not what the zip says it is", Mend: "fetch it from the school's system again"}}
	}
	return b, nil
}
