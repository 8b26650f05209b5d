package record_test

import (
	"bufio"
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"io"
	"log/slog"
	"mime/multipart"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"steelyard/film"
	"steelyard/show"
	"steelyard/web"
	"steelyard/web/webtest"
)

// need skips a test where a program is missing; in CI it fails.
func need(t testing.TB, program string) {
	t.Helper()
	if _, err := exec.LookPath(program); err != nil {
		if os.Getenv("CI") != "" {
			t.Fatalf("%s is missing", program)
		}
		t.Skipf("%s is missing", program)
	}
}

// making has films made, as the program does beside serving, and gives the folder.
func making(t *testing.T, site *webtest.Site) string {
	t.Helper()
	folder := filepath.Join(t.TempDir(), "films")
	ctx, stop := context.WithCancel(context.Background())
	done := make(chan struct{})
	go func() {
		defer close(done)
		if err := site.Desk.Films.Run(ctx, folder, func(_ string, err error) { t.Error(err) }); err != nil {
			t.Error(err)
		}
	}()
	t.Cleanup(func() { stop(); <-done })
	for began := time.Now(); time.Since(began) < 10*time.Second; time.Sleep(time.Millisecond) {
		empty := film.Order{Owner: "nobody", Film: &film.Film{Talk: &show.Talk{}}, Format: film.MP4}
		if _, err := site.Desk.Films.Add(empty, strings.NewReader("")); errors.Is(err, film.ErrVoice) { // it is looked at
			return folder
		}
	}
	t.Fatal("no films are made")
	return ""
}

// kept lists what is in the folder of films, and in those of the runs within.
func kept(t *testing.T, folder string) (list []string) {
	t.Helper()
	for _, within := range []string{"*", "run-*/*", "run-*/.*"} {
		found, err := filepath.Glob(filepath.Join(folder, within))
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, found...)
	}
	return slices.DeleteFunc(list, func(s string) bool { return strings.HasPrefix(filepath.Base(s), "run-") })
}

// order asks for a film as the page does; a part is left out if it is nil.
func order(t *testing.T, c *webtest.Client, told, format string, voice io.Reader) *webtest.Page {
	t.Helper()
	var b bytes.Buffer
	w := multipart.NewWriter(&b)
	w.WriteField("told", told)
	w.WriteField("format", format)
	if voice != nil {
		f, err := w.CreateFormFile("voice", "voice.wav")
		if err != nil {
			t.Fatal(err)
		}
		if _, err := io.Copy(f, voice); err != nil {
			t.Fatal(err)
		}
	}
	w.Close()
	return c.Do("POST", bridge+"/film", w.FormDataContentType(), &b)
}

// wave is silence of so many samples.
func wave(n uint32) io.Reader {
	b := []byte("RIFF")
	b = binary.LittleEndian.AppendUint32(b, 36+2*n)
	b = append(b, "WAVEfmt \x10\x00\x00\x00\x01\x00\x01\x00\x80\x3e\x00\x00\x00\x7d\x00\x00\x02\x00\x10\x00data"...)
	b = binary.LittleEndian.AppendUint32(b, 2*n)
	return io.MultiReader(bytes.NewReader(b), bytes.NewReader(make([]byte, 2*n)))
}

// ends says how long the bridge lasts when its first step takes a second.
func ends(t *testing.T) uint32 {
	t.Helper()
	q, err := os.ReadFile("../../bank/lock-footbridge.moments")
	if err != nil {
		t.Fatal(err)
	}
	talk, err := show.Explain(string(q))
	if err != nil {
		t.Fatal(err)
	}
	return uint32(film.Spoken(talk.Stopped(), map[string]time.Duration{"start": time.Second}, film.Pace).End.Seconds() * film.VoiceRate)
}

const short = `{"stop":true,"steps":{"start":{"clip":1,"words":""}}}`

// What is wrong with an order is said, and nothing of it stays.
func TestOrdersThatAreRefused(t *testing.T) {
	need(t, "ffmpeg")
	site := webtest.New(t)
	folder := making(t, site)
	for name, c := range map[string]struct {
		told, format string
		voice        io.Reader
		status       int
		says         string
	}{
		"no JSON":             {"{", "mp4", nil, 400, "could not be read"},
		"an unknown field":    {`{"stopp":true}`, "mp4", nil, 400, "stopp"},
		"two of them":         {short + short, "mp4", nil, 400, "follows its end"},
		"a clip of no time":   {`{"steps":{"start":{"clip":-1}}}`, "mp4", nil, 400, "an hour long at most"},
		"words without end":   {`{"steps":{"start":{"words":"` + strings.Repeat("ä", 4001) + `"}}}`, "mp4", nil, 400, "4000 are the most"},
		"another format":      {short, "exe", nil, 400, "could not be read"},
		"another voice":       {short, "mp4", strings.NewReader("#EXTM3U\nhttp://127.0.0.1/x\n" + strings.Repeat(" ", 100)), 400, "WAV"},
		"a voice of a second": {short, "mp4", wave(film.VoiceRate), 400, "as long as the film"},
		"hours of silence":    {`{"steps":{"start":{"clip":3600}}}`, "mp4", nil, 400, "lasts longer than 60 minutes"},
		"half an hour":        {short, "mp4", wave(30 * 60 * film.VoiceRate), 413, "longer than 20 minutes"},
	} {
		order(t, site.Teacher, c.told, c.format, c.voice).Want(c.status).Has(c.says)
		if left := kept(t, folder); len(left) != 0 {
			t.Errorf("%s: %v is left", name, left)
		}
	}
	site.Teacher.Do("POST", bridge+"/film", "text/plain", strings.NewReader("x")).Want(400)
	site.Teacher.Post(bridge+"/file", map[string][]string{"told": {short}, "as": {"exe"}}).Want(400)
	if strings.Contains(site.Log.String(), `"level":"ERROR"`) {
		t.Error("what a teacher sent wrong is logged as a fault of ours")
	}
}

// A film is its maker's alone: neither another teacher nor a pupil sees, fetches or ends it.
func TestAFilmIsItsMakersAlone(t *testing.T) {
	need(t, "ffmpeg")
	site := webtest.New(t)
	folder := making(t, site)
	_, other := site.AddTeacher("Jonas Brandt")
	id := regexp.MustCompile(`/record/films/(\w+)/`).FindStringSubmatch(order(t, site.Teacher, short, "mp4", wave(ends(t))).Want(200).Body)[1]
	for began := time.Now(); time.Since(began) < time.Minute && !strings.Contains(site.Teacher.Get("/record/films").Body, "Is ready"); time.Sleep(20 * time.Millisecond) {
	}
	for _, c := range []*webtest.Client{other, site.Pupils[0]} {
		c.Get("/record/films/" + id + "/file").Want(404)
		c.Post("/record/films/"+id+"/drop", nil).Want(404)
	}
	if body := other.Get("/record/films").Want(200).Body; strings.Contains(body, id) {
		t.Error("another teacher sees it")
	}
	site.Visitor.Do("GET", "/record/films/"+id+"/file", "", nil).Want(303)
	site.Teacher.Do("HEAD", "/record/films/"+id+"/file", "", nil).Want(200)
	if left := kept(t, folder); len(left) != 1 {
		t.Errorf("in the folder are %v, not only the film", left)
	}
	site.Clock.Pass(time.Hour)
	site.Teacher = site.SignIn(site.Head.Role, site.Head.ID) // the session has ended too
	site.Teacher.Get("/record/films/" + id + "/file").Want(404)
	if left := kept(t, folder); len(left) != 0 {
		t.Errorf("after an hour %v is left", left)
	}
}

// One after another: the second is told its place, and the fourth of one teacher is refused.
func TestASecondFilmIsToldItsPlace(t *testing.T) {
	need(t, "ffmpeg")
	site := webtest.New(t) // nothing is made here, so all wait
	order(t, site.Teacher, short, "mp4", nil).Want(200).Has("Waits, next in line")
	_, other := site.AddTeacher("Jonas Brandt")
	order(t, other, short, "webm", nil).Want(200).Has("Waits, place 2 in line")
	order(t, site.Teacher, short, "mp4", nil).Want(200).Has("place 3 in line")
	order(t, site.Teacher, short, "mp4", nil).Want(200)
	order(t, site.Teacher, short, "mp4", nil).Want(429).Has("There are 3 films of yours already", "Fetch one of them")
	order(t, other, short, "mp4", wave(ends(t))).Want(503).Has("Films are not made at the moment")
}

// Without ffmpeg the page says so, and the rest is there.
func TestWithoutFFmpeg(t *testing.T) {
	site := webtest.New(t)
	t.Setenv("PATH", t.TempDir())
	site.Teacher.Get(bridge).Want(200).Has("makes no MP4 and WebM, since it has no ffmpeg", "Save the walkthrough").Lacks("Make an MP4")
	order(t, site.Teacher, short, "mp4", nil).Want(409).Has("has no ffmpeg")
	if page := site.Teacher.Post(bridge+"/file", map[string][]string{"told": {short}, "as": {"txt"}}).Want(200); !strings.Contains(page.Body, "Now it is your turn") {
		t.Errorf("the transcript is %.300s", page.Body)
	}
}

// A colleague records a question that is shared, as they may read it.
func TestASharedQuestionIsRecorded(t *testing.T) {
	site := webtest.New(t)
	_, other := site.AddTeacher("Jonas Brandt")
	id := own(t, site, footbridge)
	other.Post("/record/own/"+id+"/file", map[string][]string{"told": {"{}"}, "as": {"vtt"}}).Want(404)
	q, err := site.Store.Question(t.Context(), id)
	if err != nil {
		t.Fatal(err)
	}
	q.Shared = true
	if _, err := site.Store.SaveQuestion(t.Context(), by(site), q); err != nil {
		t.Fatal(err)
	}
	if page := other.Post("/record/own/"+id+"/file", map[string][]string{"told": {"{}"}, "as": {"vtt"}}).Want(200); !strings.HasPrefix(page.Body, "WEBVTT") {
		t.Errorf("the captions begin %.40q", page.Body)
	}
}

// A voice that breaks off on its way leaves nothing.
func TestABrokenUploadLeavesNothing(t *testing.T) {
	need(t, "ffmpeg")
	site := webtest.New(t)
	folder := making(t, site)
	var b bytes.Buffer
	w := multipart.NewWriter(&b)
	w.WriteField("told", short)
	w.WriteField("format", "mp4")
	f, _ := w.CreateFormFile("voice", "voice.wav")
	io.Copy(f, wave(10*film.VoiceRate))
	w.Close()
	site.Teacher.Do("POST", bridge+"/film", w.FormDataContentType(), bytes.NewReader(b.Bytes()[:b.Len()-1000])).Want(400)
	if left := kept(t, folder); len(left) != 0 {
		t.Errorf("%v is left", left)
	}
}

// The program clears what a killed one has left when it starts, and takes its folder away when it stops.
func TestTheProgramClearsItsFolder(t *testing.T) {
	data := t.TempDir()
	folder := filepath.Join(data, "films")
	if err := os.MkdirAll(folder, 0o700); err != nil {
		t.Fatal(err)
	}
	left := filepath.Join(folder, "left.wav")
	if err := os.WriteFile(left, []byte("RIFF"), 0o600); err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	done := make(chan error, 1)
	said, out := io.Pipe()
	go func() {
		done <- web.Serve(ctx, web.Options{Listen: "127.0.0.1:0", Data: data, Out: out, Log: slog.New(slog.DiscardHandler), Now: time.Now})
	}()
	for lines := bufio.NewScanner(said); lines.Scan() && !strings.Contains(lines.Text(), "first teacher's account"); { // the last that it does before it serves
	}
	go io.Copy(io.Discard, said)
	gone := func(path string) bool { _, err := os.Stat(path); return errors.Is(err, os.ErrNotExist) }
	for began := time.Now(); !gone(left) || gone(folder); time.Sleep(time.Millisecond) {
		if time.Since(began) > time.Minute {
			t.Fatal("what was left is still there, or the folder is not made anew")
		}
	}
	stop()
	if err := <-done; err != nil {
		t.Fatal(err)
	}
	if !gone(folder) {
		t.Error("after the end the folder is still there")
	}
}
