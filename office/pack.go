package office

import (
	"archive/zip"
	"bytes"
	"compress/flate"
	"fmt"
	"hash/crc32"
)

// A File is an entry of a pack.
type File struct {
	Name   string // ASCII, with / and no / at its start
	Body   []byte
	Stored bool // not compressed
}

// Pack makes a zip of files, in their order.
func Pack(files []File) ([]byte, error) {
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	seen := map[string]bool{}
	for _, f := range files {
		if f.Name == "" || f.Name[0] == '/' || seen[f.Name] {
			return nil, fmt.Errorf("packing: %q is no name for an entry, or stands twice", f.Name)
		}
		seen[f.Name] = true
		if err := add(z, f); err != nil {
			return nil, fmt.Errorf("packing %s: %w", f.Name, err)
		}
	}
	if err := z.Close(); err != nil {
		return nil, fmt.Errorf("packing: %w", err)
	}
	return out.Bytes(), nil
}

// add writes an entry with its sizes before it, so that readers find the first one's body at a fixed place.
func add(z *zip.Writer, f File) error {
	body, method := f.Body, zip.Store
	if !f.Stored {
		var small bytes.Buffer
		w, err := flate.NewWriter(&small, flate.BestCompression)
		if err != nil {
			return err
		}
		if _, err := w.Write(f.Body); err != nil {
			return err
		}
		if err := w.Close(); err != nil {
			return err
		}
		body, method = small.Bytes(), zip.Deflate
	}
	h := &zip.FileHeader{Name: f.Name, Method: method, CRC32: crc32.ChecksumIEEE(f.Body),
		CompressedSize64: uint64(len(body)), UncompressedSize64: uint64(len(f.Body))}
	//lint:ignore SA1019 Modified would add an extra field, which a mimetype may not have; this is 1 January 1980
	h.ModifiedDate = 1<<5 | 1
	w, err := z.CreateRaw(h)
	if err != nil {
		return err
	}
	_, err = w.Write(body)
	return err
}
