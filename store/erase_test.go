package store_test

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"steelyard/account"
	"steelyard/homework"
	"steelyard/store"
)

// inFiles says which of the words are in the bytes of any file of a folder.
func inFiles(t testing.TB, dir string, words ...string) (found []string) {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(dir, "*"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no files in %s: %v", dir, err)
	}
	for _, f := range files {
		b, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		for _, w := range words {
			if bytes.Contains(b, []byte(w)) {
				found = append(found, w+" in "+filepath.Base(f))
			}
		}
	}
	return found
}

// traces leaves words that tell of a pupil wherever there is room for words, among much work of others.
func traces(t testing.TB, s *store.Store, pupil int, key string) (words []string) {
	t.Helper()
	ctx := t.Context()
	mark := fmt.Sprintf("Trace%03d", pupil)
	by := store.By{Role: account.Teacher, Who: teacherID, At: now}
	p, err := s.Pupil(ctx, pupilID(pupil))
	if err != nil {
		t.Fatal(err)
	}
	p.Name, p.Code = mark+"-name", mark+"-code"
	h := sixParts(pupil, mark+"-key"+key)
	for i := range h.Answers {
		h.Answers[i].Answer = mark + "-answer"
		h.Answers[i].Working = strings.Repeat(mark+"-working of some length\n", 1+pupil%7)
	}
	err = s.SavePupil(ctx, by, p)
	if err == nil {
		h, err = s.HandIn(ctx, pupilBy(pupil), h)
	}
	if err == nil {
		err = s.SaveMarkings(ctx, h.ID, []homework.Marking{{Part: "a", Of: 3, Record: `"` + mark + `-record"`}})
	}
	if err == nil {
		err = s.Decide(ctx, by, []homework.Decision{{Set: setID, Pupil: p.ID, HandIn: h.ID, Part: "a", Reason: mark + "-reason", By: teacherID}})
	}
	if err == nil {
		err = s.SaveDrafts(ctx, []homework.Draft{{Set: setID, Pupil: p.ID, Answer: homework.Answer{Part: "b", Answer: mark + "-draft", Working: mark + "-lines"}, Rev: 1}})
	}
	if err == nil {
		err = s.StartSession(ctx, pupilBy(pupil), account.Session{Hash: mark + key, Who: p.ID, Label: mark + "-browser", Made: now, Seen: now, Ends: now.Add(time.Hour)})
	}
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range []string{"-name", "-code", "-key", "-answer", "-working", "-record", "-reason", "-draft", "-lines", "-numbers", "-browser"} {
		words = append(words, mark+w)
	}
	return words
}

func TestTheBytesOfAnErasedPupilAreNotInTheFiles(t *testing.T) {
	const pupils = 120
	dir := t.TempDir()
	s := filled(t, dir, pupils)
	words := make([][]string, pupils)
	for round := range 3 {
		for i := range pupils {
			words[i] = traces(t, s, i*37%pupils, fmt.Sprint(round))
		}
	}
	by := store.By{Role: account.Teacher, Who: teacherID, At: now}
	erased := 0
	for i := range pupils {
		pupil := i * 37 % pupils
		if pupil%5 != 0 {
			continue
		}
		for _, w := range words[i] {
			if len(inFiles(t, dir, w)) == 0 {
				t.Fatalf("%s is in no file before the erasing: the test shows nothing", w)
			}
		}
		if err := s.ErasePupil(t.Context(), by, pupilID(pupil)); err != nil {
			t.Fatal(err)
		}
		for _, f := range inFiles(t, dir, append(words[i], pupilID(pupil)+`"`)...) {
			t.Errorf("after the erasing of %s: %s", pupilID(pupil), f)
		}
		if erased++; erased == 8 {
			break
		}
	}
	noFaults(t, s)
	if len(inFiles(t, dir, words[1]...)) == 0 {
		t.Error("the work of others is gone too")
	}
}
