package storetest

import (
	"archive/zip"
	"bytes"
	"encoding/json"
	"io"
	"io/fs"
	"strings"
	"testing"
	"time"

	"steelyard/account"
	"steelyard/homework"
	"steelyard/store"
)

// busy leaves something of each kind of a pupil: a session, a draft, two hand-ins, a marking, a decision, a look, a set for
// two pupils.
func (f *school) busy(t *testing.T, pupil int) {
	ctx, by := t.Context(), f.pupilBy(pupil)
	id := f.pupils[pupil].ID
	must(t, f.StartSession(ctx, by, account.Session{Hash: "s" + id, Role: account.PupilOf, Who: id, Label: "a phone", Made: now, Seen: now, Ends: now.Add(time.Hour)}))
	h := got[homework.HandIn](t)(f.HandIn(ctx, by, f.handIn(pupil, "k1")))
	got[homework.HandIn](t)(f.HandIn(ctx, by, f.handIn(pupil, "k2")))
	must(t, f.SaveDrafts(ctx, []homework.Draft{f.draft(pupil, "a", 3, "999 N")}))
	must(t, f.SaveMarkings(ctx, h.ID, []homework.Marking{{Part: "a", Marks: 1, Of: 3, Record: `{"said":"a slip"}`}}))
	must(t, f.Decide(ctx, f.by, []homework.Decision{{Set: f.set.ID, Pupil: id, HandIn: h.ID, Part: "a", Mark: 2, Reason: "was ill on the day", By: f.teacher.ID, At: now}}))
	must(t, f.SaveSecondMarks(ctx, f.by, f.set.ID, []store.SecondMark{{Set: f.set.ID, Pupil: id, HandIn: h.ID, Part: "a", Mark: 2, By: f.teacher.ID, At: now}}))
	must(t, f.Note(ctx, f.by, "looked at the work", id))
	p := f.pupils[pupil]
	p.Name += " the second"
	must(t, f.SavePupil(ctx, f.by, p))
}

var erasings = []promise{
	{"of an erased pupil nothing is left but that somebody was erased", func(t *testing.T, s *school) {
		ctx := t.Context()
		s.busy(t, 0)
		s.busy(t, 1)
		group := s.draftSet(t)
		group.For = []string{s.pupils[0].ID, s.pupils[1].ID}
		must(t, s.SaveSet(ctx, s.by, group))
		p := s.pupils[0]
		must(t, s.ErasePupil(ctx, s.by, p.ID))

		_, err := s.Pupil(ctx, p.ID)
		fails(t, err, store.ErrNotFound)
		_, err = s.HandInOf(ctx, s.set.ID, p.ID)
		fails(t, err, store.ErrNotFound)
		is(t, len(got[[]homework.Draft](t)(s.Drafts(ctx, s.set.ID, p.ID))), 0)
		is(t, len(got[[]homework.Numbers](t)(s.NumbersFor(ctx, s.set.ID, p.ID))), 0)
		is(t, len(got[[]account.Session](t)(s.SessionsOf(ctx, p.ID))), 0)
		is(t, len(got[[]store.Event](t)(s.History(ctx, p.ID, 100))), 0)
		nowhere(t, s, p.ID, p.Name, "was ill")
		is(t, got[homework.Set](t)(s.Set(ctx, group.ID)).For, []string{"", s.pupils[1].ID})
		is(t, got[[]string](t)(s.Erased(ctx)), []string{p.ID})
		is(t, got[[]store.Event](t)(s.History(ctx, s.class.ID, 1))[0].What, "pupil erased")

		is(t, len(got[[]homework.HandIn](t)(s.HandInsBy(ctx, s.set.ID, s.pupils[1].ID))), 2)
		is(t, got[[]string](t)(s.Verify(ctx)), []string(nil))
		fails(t, s.ErasePupil(ctx, s.by, p.ID), store.ErrNotFound)
	}},
	{"a set for one pupil is for nobody once they are erased, not for the whole class", func(t *testing.T, s *school) {
		group := s.draftSet(t)
		group.For = []string{s.pupils[0].ID}
		must(t, s.SaveSet(t.Context(), s.by, group))
		must(t, s.ErasePupil(t.Context(), s.by, s.pupils[0].ID))
		is(t, got[homework.Set](t)(s.Set(t.Context(), group.ID)).For, []string{""})
	}},
	{"pupils whose time is up are erased, others stay", func(t *testing.T, s *school) {
		ctx := t.Context()
		other := homework.Class{ID: "c2", Code: "dunlin", KeepTill: now.AddDate(3, 0, 0)}
		must(t, s.AddClass(ctx, s.by, other))
		must(t, s.AddClass(ctx, s.by, homework.Class{ID: "c3", Code: "knot"}))
		must(t, s.AddPupils(ctx, s.by, "c2", []homework.Pupil{{ID: "stays"}}))
		must(t, s.AddPupils(ctx, s.by, "c3", []homework.Pupil{{ID: "has no date"}}))
		s.busy(t, 0)
		is(t, got[int](t)(s.Expire(ctx, s.class.KeepTill)), 0)
		is(t, got[int](t)(s.Expire(ctx, s.class.KeepTill.Add(time.Second))), 0)
		is(t, got[int](t)(s.Expire(ctx, s.class.KeepTill.Add(25*time.Hour))), 3)
		is(t, len(got[[]homework.Pupil](t)(s.Pupils(ctx, s.class.ID))), 0)
		is(t, len(got[[]homework.Pupil](t)(s.Pupils(ctx, "c2"))), 1)
		is(t, len(got[[]homework.Pupil](t)(s.Pupils(ctx, "c3"))), 1)
		is(t, got[[]string](t)(s.Verify(ctx)), []string(nil))
	}},
	{"a clock that jumps ahead for less than a day erases nobody", func(t *testing.T, s *school) {
		ctx := t.Context()
		ahead := s.class.KeepTill.AddDate(5, 0, 0)
		for range 3 {
			is(t, got[int](t)(s.Expire(ctx, ahead)), 0)
			is(t, got[int](t)(s.Expire(ctx, ahead.Add(time.Hour))), 0)
			is(t, got[int](t)(s.Expire(ctx, now)), 0)
			ahead = ahead.Add(25 * time.Hour)
		}
		is(t, len(got[[]homework.Pupil](t)(s.Pupils(ctx, s.class.ID))), 3)
		is(t, got[int](t)(s.Expire(ctx, ahead)), 0)
		is(t, got[int](t)(s.Expire(ctx, ahead.Add(-time.Hour))), 0)
		is(t, got[int](t)(s.Expire(ctx, ahead.Add(23*time.Hour))), 3)
	}},
	{"an export has all that is kept of a pupil and nothing of another", func(t *testing.T, s *school) {
		s.busy(t, 0)
		s.busy(t, 1)
		var b bytes.Buffer
		must(t, s.ExportPupil(t.Context(), s.by, s.pupils[0].ID, &b))
		z := got[*zip.Reader](t)(zip.NewReader(bytes.NewReader(b.Bytes()), int64(b.Len())))
		is(t, len(z.File), 2)
		for _, f := range z.File {
			text := string(got[[]byte](t)(io.ReadAll(got[io.ReadCloser](t)(f.Open()))))
			for _, want := range []string{"Tamsel Overby the second", s.pupils[0].ID, "412 N", "3.1 × 558", "999 N", "was ill on the day", "a slip", "Rk2", "looked at the work", "question for " + s.pupils[0].ID, "a phone"} {
				if !strings.Contains(text, want) {
					t.Errorf("%s has no %q", f.Name, want)
				}
			}
			for _, other := range []string{"Ilka", s.pupils[1].ID, "$argon2id"} {
				if strings.Contains(text, other) {
					t.Errorf("%s has %q", f.Name, other)
				}
			}
			if f.Name == "pupil.json" && !json.Valid([]byte(text)) {
				t.Error("pupil.json is no JSON")
			}
		}
		is(t, got[[]store.Event](t)(s.History(t.Context(), s.pupils[0].ID, 1))[0].What, "exported")
		fails(t, s.ExportPupil(t.Context(), s.by, "nobody", io.Discard), store.ErrNotFound)
	}},
	{"hostile text is no markup in an export", func(t *testing.T, s *school) {
		p := s.pupils[0]
		p.Name = "<script>alert(1)</script>"
		must(t, s.SavePupil(t.Context(), s.by, p))
		var b bytes.Buffer
		must(t, s.ExportPupil(t.Context(), s.by, p.ID, &b))
		z := got[*zip.Reader](t)(zip.NewReader(bytes.NewReader(b.Bytes()), int64(b.Len())))
		text := got[[]byte](t)(io.ReadAll(got[fs.File](t)(z.Open("pupil.html"))))
		if bytes.Contains(text, []byte("<script>")) {
			t.Error("the name is markup in pupil.html")
		}
	}},
}
