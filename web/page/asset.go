package page

import (
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"io/fs"
	"net/http"
	"path"
	"strings"
)

//go:embed assets
var files embed.FS

// hashes are those of the assets, by name; a file's address changes when the file does.
var hashes = func() map[string]string {
	list := map[string]string{}
	fs.WalkDir(files, "assets", func(name string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		b, err := files.ReadFile(name)
		if err != nil {
			return err
		}
		sum := sha256.Sum256(b)
		list[strings.TrimPrefix(name, "assets/")] = hex.EncodeToString(sum[:6])
		return nil
	})
	return list
}()

// Asset is the address of a style sheet, a script or a picture.
func Asset(name string) string { return "/assets/" + hashes[name] + "/" + name }

// ServeAsset serves the assets; they may be kept by browsers for ever.
func ServeAsset(w http.ResponseWriter, r *http.Request, _ *Viewer) error {
	name := r.PathValue("name")
	if h, ok := hashes[name]; !ok || h != r.PathValue("hash") {
		return NotFound
	}
	w.Header().Set("Cache-Control", "public, max-age=31536000, immutable")
	http.ServeFileFS(w, r, files, path.Join("assets", name))
	return nil
}
