package web_test

import (
	"image"
	"image/draw"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"steelyard/store"
	"steelyard/web/browse"
	"steelyard/web/sign"
	"steelyard/web/webtest"
)

// TestReadmePicture takes the README's pictures of pages, with the README's question, for `make pictures`.
func TestReadmePicture(t *testing.T) {
	folder := os.Getenv("STEELYARD_PICTURES")
	if folder == "" {
		t.Skip("make pictures runs it")
	}
	text, err := os.ReadFile(filepath.Join(folder, "bridge.moments"))
	if err != nil {
		t.Fatal(err)
	}
	site := webtest.New(t)
	q := store.Question{ID: store.NewID(), Owner: site.Head.ID, Title: "Lock footbridge", Text: string(text)}
	if err := site.Store.AddQuestion(t.Context(), store.By{Role: site.Head.Role, Who: site.Head.ID, At: site.Clock.Now()}, q); err != nil {
		t.Fatal(err)
	}
	tab := browse.New(t, browse.Window{Name: "readme", Width: 1200, Height: 800, Still: true})
	tab.Cookie(site.URL, sign.Cookie(site.Desk), site.Token(site.Teacher))
	tab.Go(site.URL + "/questions/" + q.ID)
	tab.Wait("document.querySelector('svg [role=slider]')")
	crop(t, tab.Shot("workbench"), filepath.Join(folder, "workbench.png"), 700)

	tab.Go(site.URL + "/show/own/" + q.ID + "/a-9")
	tab.Wait("document.querySelector('#step svg')")
	crop(t, tab.Shot("board"), filepath.Join(folder, "board.png"), 640)

	tab.Go(site.URL + "/try/own/" + q.ID + "?see=away&do=away%7CP&shown=yes")
	tab.Wait("document.querySelector('#trial svg')")
	crop(t, tab.Shot("trial"), filepath.Join(folder, "trial.png"), 640)
}

// crop keeps the upper part of a picture.
func crop(t *testing.T, from, to string, height int) {
	f, err := os.Open(from)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	whole, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	part := image.NewRGBA(image.Rect(0, 0, whole.Bounds().Dx(), height))
	draw.Draw(part, part.Bounds(), whole, whole.Bounds().Min, draw.Src)
	out, err := os.Create(to)
	if err != nil {
		t.Fatal(err)
	}
	if err := (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(out, part); err != nil {
		t.Fatal(err)
	}
	if err := out.Close(); err != nil {
		t.Fatal(err)
	}
}
