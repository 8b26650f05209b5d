package web_test

import (
	"bytes"
	"io"
	"mime/multipart"
	"net/http"
	"os"
	"path/filepath"
	"testing"
	"time"

	"steelyard/web"
	"steelyard/web/webtest"
)

// A voice that is on its way for longer than a request may take has its film put in line, and the page is told so.
func TestAVoiceMayTakeLongerThanARequest(t *testing.T) {
	const within = 300 * time.Millisecond
	web.Slow(t, within)
	bin := t.TempDir()
	if err := os.WriteFile(filepath.Join(bin, "ffmpeg"), []byte("#!/bin/sh\n"), 0o700); err != nil {
		t.Fatal(err)
	}
	t.Setenv("PATH", bin)
	site := webtest.New(t) // nothing is made here, so it waits
	var b bytes.Buffer
	w := multipart.NewWriter(&b)
	w.WriteField("told", `{"steps":{}}`)
	w.WriteField("format", "mp4")
	begun := b.Len()
	w.Close()
	body, way := io.Pipe()
	go func() {
		way.Write(b.Bytes()[:begun])
		time.Sleep(3 * within)
		way.Write(b.Bytes()[begun:])
		way.Close()
	}()
	site.Teacher.Do(http.MethodPost, "/record/bank/lock-footbridge/film", w.FormDataContentType(), body).Want(http.StatusOK).Has("Waits, next in line")
}
