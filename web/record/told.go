package record

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"time"
	"unicode/utf8"

	"steelyard/film"
	"steelyard/web/page"
)

// toldMost is the most that a page may tell of a recording without its voice, in bytes.
const toldMost = 512 << 10

// wordsMost is the most that may be said at a step, in characters: five minutes of speech.
const wordsMost = 4000

// told is what the page tells of a recording.
type told struct {
	Stop  bool            `json:"stop"` // before the arithmetic
	Steps map[string]said `json:"steps"`
}

// said is what is told of a step, by its ID.
type said struct {
	Clip  float64 `json:"clip"`  // how long its clip is, in seconds; 0 if it has none
	Words string  `json:"words"` // what is said in place of the prepared words; "" for those
}

// read reads what a page tells. The error says what is not right.
func read(text []byte) (told, error) {
	var t told
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	if err := d.Decode(&t); err != nil {
		return told{}, err
	}
	if _, err := d.Token(); err != io.EOF {
		return told{}, errors.New("something follows its end")
	}
	for id, s := range t.Steps {
		if !(s.Clip >= 0 && s.Clip <= 3600) {
			return told{}, fmt.Errorf("step %s: a clip of %v s; it can be an hour long at most", id, s.Clip)
		}
		if n := utf8.RuneCountInString(s.Words); n > wordsMost {
			return told{}, fmt.Errorf("step %s: its words are %d characters long; %d are the most", id, n, wordsMost)
		}
	}
	return t, nil
}

// film is the film of the question as it is told. Steps that the question no longer has are left out.
func (s source) film(text []byte) (*film.Film, error) {
	t, err := read(text)
	if err != nil {
		return nil, &page.Refusal{Status: http.StatusBadRequest, What: "what the page told of the recording could not be read: " + err.Error(), Mend: "shorten the words if they are too long; else save the voice, open the page again and try once more"}
	}
	talk, clips := s.talk, map[string]time.Duration{}
	if t.Stop {
		talk = talk.Stopped()
	}
	for i := range talk.Steps {
		step := &talk.Steps[i]
		told := t.Steps[step.ID]
		if told.Clip > 0 {
			clips[step.ID] = time.Duration(told.Clip * float64(time.Second))
		}
		film.Reword(step, told.Words)
	}
	return &film.Film{Talk: talk, Times: film.Spoken(talk, clips, film.Pace)}, nil
}

// file sends one of the files of a recording: all but the film, and without the voice, which the page puts in itself.
func (d *desk) file(w http.ResponseWriter, r *http.Request, _ *page.Viewer) error {
	s, err := d.sourceOf(r)
	if err != nil {
		return err
	}
	f, err := s.film([]byte(r.PostFormValue("told")))
	if err != nil {
		return err
	}
	var b []byte
	as := r.PostFormValue("as")
	switch as {
	case "html":
		b, err = f.HTML()
	case "txt":
		b = []byte(f.Transcript())
	case "vtt":
		b = f.Captions()
	case "chapters.vtt":
		b = f.ChapterTrack()
	case "png":
		b, err = f.Poster()
	default:
		return &page.Refusal{Status: http.StatusBadRequest, What: "there is no such file of a walkthrough", Mend: "open the page again and choose one of those offered"}
	}
	if err != nil {
		return err
	}
	w.Header().Set("Content-Type", "application/octet-stream") // the page has scripts of its own, so it is not to open as one of ours
	w.Header().Set("Content-Disposition", `attachment; filename="walkthrough.`+as+`"`)
	_, err = w.Write(b)
	return err
}
