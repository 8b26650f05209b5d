package record

import (
	"context"
	"errors"
	"io"
	"mime/multipart"
	"net/http"
	"os"
	"strconv"
	"syscall"
	"time"

	"steelyard/film"
	"steelyard/web/page"
)

// longestVoice is the longest that a voice may be for a film, in minutes, and voiceMost its size in bytes.
const (
	longestVoice = 20
	voiceMost    = longestVoice*60*2*film.VoiceRate + 44
)

// patient is how long a voice or a film may be on its way.
const patient = 10 * time.Minute

// order takes a film into the line. What is told comes first, then the format, then the voice, if there is one.
func (d *desk) order(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	if !film.CanEncode() {
		return &page.Refusal{Status: http.StatusConflict, What: "this server makes no MP4 and WebM, since it has no ffmpeg", Mend: "take the walkthrough, or have whoever runs Steelyard install ffmpeg"}
	}
	s, err := d.sourceOf(r)
	if err != nil {
		return err
	}
	c := http.NewResponseController(w)
	c.SetReadDeadline(time.Now().Add(patient))
	c.SetWriteDeadline(time.Now().Add(patient + 10*time.Second))
	o, voice, err := s.ordered(r)
	if err != nil {
		return tooLong(err)
	}
	o.Owner = v.ID
	if _, err := d.Films.Add(o, voice); err != nil {
		return refused(err)
	}
	// A voice may have taken longer than the time of a request; its film is in line all the same, and that is told.
	return page.Part(w, r.WithContext(context.WithoutCancel(r.Context())), http.StatusOK, films(d.Films.Of(v.ID)))
}

// ordered reads an order as far as its voice, which is nil if there is none.
func (s source) ordered(r *http.Request) (o film.Order, voice io.Reader, err error) {
	parts, err := r.MultipartReader()
	if err != nil {
		return o, nil, err
	}
	text, err := field(parts, "told", toldMost)
	if err != nil {
		return o, nil, err
	}
	if o.Film, err = s.film(text); err != nil {
		return o, nil, err
	}
	format, err := field(parts, "format", 10)
	if err != nil {
		return o, nil, err
	}
	if o.Format = film.Format(format); o.Format != film.MP4 && o.Format != film.WebM {
		return o, nil, unread
	}
	switch p, err := parts.NextPart(); {
	case err == io.EOF:
		return o, nil, nil
	case err != nil:
		return o, nil, err
	case p.FormName() != "voice":
		return o, nil, unread
	default:
		return o, p, nil
	}
}

var unread = &page.Refusal{Status: http.StatusBadRequest, What: "this could not be read", Mend: "save the walkthrough, open the page again, go on from the file and try once more"}

// field reads the next part of a form, which has to have the name.
func field(parts *multipart.Reader, name string, most int64) ([]byte, error) {
	p, err := parts.NextPart()
	if err == io.EOF || err == nil && p.FormName() != name {
		return nil, unread
	}
	if err != nil {
		return nil, err
	}
	return io.ReadAll(io.LimitReader(p, most))
}

func tooLong(err error) error {
	if large := new(http.MaxBytesError); errors.As(err, &large) {
		return &page.Refusal{Status: http.StatusRequestEntityTooLarge, What: "the voice is longer than " + strconv.Itoa(longestVoice) + " minutes", Mend: "stop before the arithmetic, say some steps shorter, or save the voice and the times and use the command"}
	}
	return err
}

// refused says why a film was not taken into the line.
func refused(err error) error {
	refuse := func(status int, mend string) error {
		return &page.Refusal{Status: status, What: err.Error(), Mend: mend}
	}
	switch {
	case errors.Is(err, film.ErrOwnersMost):
		return refuse(http.StatusTooManyRequests, "fetch one of them, or give one up")
	case errors.Is(err, film.ErrLine), errors.Is(err, film.ErrStopped):
		return refuse(http.StatusServiceUnavailable, "try again in some minutes; what you recorded is still on this page")
	case errors.Is(err, film.ErrLong):
		return refuse(http.StatusBadRequest, "stop before the arithmetic, or save the voice and the times and use the command")
	case errors.Is(err, syscall.ENOSPC):
		return &page.Refusal{Status: http.StatusInsufficientStorage, What: "the disk of the server is full", Mend: "what you recorded is still on this page; save the walkthrough, and tell whoever runs Steelyard"}
	case errors.Is(err, film.ErrVoice):
		return refuse(http.StatusBadRequest, "save the walkthrough, open the page again and go on from the file: the question may have been changed meanwhile")
	}
	return tooLong(err)
}

// list sends the viewer's films: to a script as a part of its page, else as a page.
func (d *desk) list(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	list := films(d.Films.Of(v.ID))
	if scripted(r) {
		return page.Part(w, r, http.StatusOK, list)
	}
	return page.Write(w, r, v, http.StatusOK, page.Page{Title: "Your films", Here: "questions",
		Crumbs: []page.Crumb{{Name: "Questions", Href: "/questions"}}, Styles: []string{"record.css"}, Body: filmsPage(list)})
}

// scripted says whether the script of a page asks.
func scripted(r *http.Request) bool { return r.Header.Get("Sec-Fetch-Dest") == "empty" }

// fetch sends a film, and removes it once it is sent.
func (d *desk) fetch(w http.ResponseWriter, r *http.Request, _ *page.Viewer) error {
	f, s, err := d.Films.Open(r.PathValue("film"))
	if errors.Is(err, os.ErrNotExist) {
		return page.NotFound
	}
	if err != nil {
		return err
	}
	defer f.Close()
	http.NewResponseController(w).SetWriteDeadline(time.Now().Add(patient))
	w.Header().Set("Content-Type", "video/"+string(s.Format))
	w.Header().Set("Content-Disposition", `attachment; filename="`+fileName(s.Title)+"."+string(s.Format)+`"`)
	w.Header().Set("Content-Length", strconv.FormatInt(s.Size, 10))
	if r.Method == http.MethodHead {
		return nil
	}
	if n, err := io.Copy(w, f); err == nil && n == s.Size {
		d.Films.Drop(s.ID)
	} // whoever broke off may fetch it again
	return nil
}

func (d *desk) drop(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	d.Films.Drop(r.PathValue("film"))
	if scripted(r) {
		return d.list(w, r, v)
	}
	return page.Go(w, r, "/record/films")
}

// name is that of a format as people write it.
func name(f film.Format) string {
	if f == film.WebM {
		return "WebM"
	}
	return "MP4"
}

// megabytes is a size with its unit.
func megabytes(n int64) string {
	return strconv.FormatFloat(max(0.1, float64(n)/1e6), 'f', 1, 64) + " MB"
}

// place says when it is a film's turn.
func place(n int) string {
	if n == 1 {
		return "next in line"
	}
	return "place " + strconv.Itoa(n) + " in line"
}

// busy says whether there is something to wait for.
func busy(list []film.State) bool {
	for _, s := range list {
		if s.Stage == film.Waiting || s.Stage == film.Making {
			return true
		}
	}
	return false
}
