package page

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"io/fs"
	"mime"
	"net/http"
	"path"
	"strconv"
	"strings"
)

//go:embed assets
var files embed.FS

// An asset is a style sheet, a script, a font or a picture, as it is sent.
type asset struct {
	kind          string
	plain, packed []byte // packed is nil where it would save nothing
}

// assets are those that may be asked for, by name, and the stamp that stands in their addresses: it changes when
// any of them does. They share one, so that style sheets and scripts can name others by name alone.
var assets, stamp = func() (map[string]asset, string) {
	list, sum := map[string]asset{}, sha256.New()
	names, _ := fs.Glob(files, "assets/*.*")
	for _, name := range names { // in order
		b, err := files.ReadFile(name)
		if err != nil {
			panic(err)
		}
		sum.Write([]byte(name))
		sum.Write(b)
		list[path.Base(name)] = asset{kind: kind(name), plain: b, packed: pack(name, b)}
	}
	return list, hex.EncodeToString(sum.Sum(nil)[:6])
}()

// kind is the media type: our own few, since a computer's list of types may lack or change them.
func kind(name string) string {
	switch path.Ext(name) {
	case ".css":
		return "text/css; charset=utf-8"
	case ".js":
		return "text/javascript; charset=utf-8"
	case ".svg":
		return "image/svg+xml"
	case ".woff2":
		return "font/woff2"
	}
	return mime.TypeByExtension(path.Ext(name))
}

func pack(name string, b []byte) []byte {
	if path.Ext(name) == ".woff2" {
		return nil
	}
	var to bytes.Buffer
	w, _ := gzip.NewWriterLevel(&to, gzip.BestCompression)
	w.Write(b)
	w.Close()
	return to.Bytes()
}

// Asset is the address of a style sheet, a script or a picture.
func Asset(name string) string { return "/assets/" + stamp + "/" + name }

// ServeAsset serves the assets; they may be kept by browsers for ever.
func ServeAsset(w http.ResponseWriter, r *http.Request, _ *Viewer) error {
	a, ok := assets[r.PathValue("name")]
	if !ok || r.PathValue("hash") != stamp {
		return NotFound
	}
	h, body := w.Header(), a.plain
	h.Set("Content-Type", a.kind)
	h.Set("Cache-Control", "public, max-age=31536000, immutable")
	h.Set("Vary", "Accept-Encoding")
	if a.packed != nil && strings.Contains(r.Header.Get("Accept-Encoding"), "gzip") {
		h.Set("Content-Encoding", "gzip")
		body = a.packed
	}
	h.Set("Content-Length", strconv.Itoa(len(body)))
	_, err := w.Write(body)
	return err
}
