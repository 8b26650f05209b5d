package web

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"steelyard/account"
	"steelyard/homework"
	"steelyard/store"
)

// Each day has one backup; fourteen stay. Who was erased is written beside them, and a restore of an older backup erases them
// again.
func TestBackupsOfEachDay(t *testing.T) {
	ctx, folder := t.Context(), filepath.Join(t.TempDir(), "backups")
	s, err := store.Open(ctx, t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	day := time.Date(2026, 11, 28, 9, 0, 0, 0, time.UTC)
	pupil := fill(t, s, day)
	for i := range 20 {
		if i == 10 {
			if err := s.ErasePupil(ctx, store.By{At: day}, pupil); err != nil {
				t.Fatal(err)
			}
		}
		for again := range 2 {
			made, err := backup(ctx, s, folder, day.AddDate(0, 0, i))
			if err != nil || made != (again == 0) {
				t.Fatal(i, made, err)
			}
		}
	}
	list, err := filepath.Glob(filepath.Join(folder, "*.backup"))
	if err != nil || len(list) != backupsKept || filepath.Base(list[0]) != "steelyard-2026-12-04.backup" {
		t.Error(len(list), list[0], err)
	}
	erased, err := os.ReadFile(filepath.Join(folder, ErasedFile))
	if err != nil || string(erased) != pupil+"\n" {
		t.Errorf("%q %v", erased, err)
	}
	if left, _ := filepath.Glob(filepath.Join(folder, ".*")); len(left) > 0 {
		t.Error("left lying about:", left)
	}
	where := t.TempDir()
	if err := store.RestoreFile(ctx, list[0], "", filepath.Join(where, "new"), []string{pupil}); err != nil {
		t.Fatal(err)
	}
	again, err := store.Open(ctx, filepath.Join(where, "new"))
	if err != nil {
		t.Fatal(err)
	}
	defer again.Close()
	if _, err := again.Pupil(ctx, pupil); err == nil {
		t.Error("the restore brought an erased pupil back")
	}
}

func fill(t *testing.T, s *store.Store, now time.Time) (pupil string) {
	t.Helper()
	p := account.Person{ID: store.NewID(), Name: "Vera Orlando", Login: "vera", Role: account.Head, Made: now}
	c := homework.Class{ID: store.NewID(), Name: "10b", Code: account.NewClassCode(), KeepTill: now.AddDate(1, 0, 0)}
	q := homework.Pupil{ID: store.NewID(), Class: c.ID, Name: "Ilse Hart"}
	by := store.By{Role: p.Role, Who: p.ID, At: now}
	for i, err := range []error{s.AddPerson(t.Context(), by, p), s.AddClass(t.Context(), by, c), s.AddPupils(t.Context(), by, c.ID, []homework.Pupil{q})} {
		if err != nil {
			t.Fatal(i, err)
		}
	}
	return q.ID
}

func TestWhatIsNotSafeIsNotServed(t *testing.T) {
	for _, o := range []struct {
		Options
		safe bool
	}{
		{Options{Listen: "127.0.0.1:8017"}, true}, {Options{Listen: "[::1]:8017"}, true}, {Options{Listen: "localhost:8017"}, true},
		{Options{Listen: ":8017"}, false}, {Options{Listen: "0.0.0.0:8017"}, false}, {Options{Listen: "192.0.2.1:80"}, false}, {Options{Listen: "nonsense"}, false},
		{Options{Listen: ":443", Cert: "c", Key: "k"}, true}, {Options{Listen: ":443", Cert: "c"}, false},
		{Options{Listen: ":443", PublicName: "physics.school.example"}, true},
		{Options{Listen: "127.0.0.1:8017", Metrics: "0.0.0.0:9000"}, false},
	} {
		if err := o.Check(); (err == nil) != o.safe {
			t.Error(fmt.Sprintf("%+v", o.Options), err)
		}
	}
	if o := (Options{Listen: ":443", PublicName: "physics.school.example"}); !o.automatic() || !slices.Contains(o.hosts(), "physics.school.example") {
		t.Error("no certificate would be fetched")
	}
}
