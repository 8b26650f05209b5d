package storetest

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"testing"

	"steelyard/account"
	"steelyard/homework"
	"steelyard/store"
)

func (f *school) backup(t *testing.T) []byte {
	t.Helper()
	var b bytes.Buffer
	must(t, f.Backup(t.Context(), &b))
	return b.Bytes()
}

// restored opens what a backup was restored into.
func (f *school) restored(t *testing.T, backup []byte, erased ...string) *school {
	t.Helper()
	where := f.fresh(t)
	must(t, store.Restore(t.Context(), bytes.NewReader(backup), where, erased))
	s := got[*store.Store](t)(store.Open(t.Context(), where))
	t.Cleanup(func() { s.Close() })
	g := *f
	g.Store, g.where = s, where
	return &g
}

var backups = []promise{
	{"a restore brings back all that was kept, but for sessions, and goes on from there", func(t *testing.T, s *school) {
		ctx := t.Context()
		s.busy(t, 0)
		q := s.question(t)
		must(t, s.SetSetting(ctx, "pepper", "x"))
		r := s.restored(t, s.backup(t))
		is(t, got[[]store.Event](t)(r.History(ctx, "", 1000)), got[[]store.Event](t)(s.History(ctx, "", 1000)))
		is(t, got[[]homework.Pupil](t)(r.Pupils(ctx, s.class.ID)), got[[]homework.Pupil](t)(s.Pupils(ctx, s.class.ID)))
		is(t, got[[]homework.HandIn](t)(r.HandInsBy(ctx, s.set.ID, s.pupils[0].ID)), got[[]homework.HandIn](t)(s.HandInsBy(ctx, s.set.ID, s.pupils[0].ID)))
		is(t, got[[]homework.Decision](t)(r.DecisionsOf(ctx, s.set.ID)), got[[]homework.Decision](t)(s.DecisionsOf(ctx, s.set.ID)))
		is(t, got[store.Question](t)(r.Question(ctx, q.ID)), q)
		is(t, got[string](t)(r.Setting(ctx, "pepper")), "x")
		is(t, len(got[[]account.Session](t)(r.SessionsOf(ctx, s.pupils[0].ID))), 0)
		is(t, got[[]string](t)(r.Verify(ctx)), []string(nil))

		h := got[homework.HandIn](t)(r.HandIn(ctx, s.pupilBy(0), s.handIn(0, "k3")))
		is(t, got[homework.HandIn](t)(r.HandInOf(ctx, s.set.ID, h.Pupil)), h)
	}},
	{"whoever was erased since is erased again by a restore", func(t *testing.T, s *school) {
		s.busy(t, 0)
		before := s.backup(t)
		must(t, s.ErasePupil(t.Context(), s.by, s.pupils[0].ID))
		r := s.restored(t, before, append(got[[]string](t)(s.Erased(t.Context())), "never there")...)
		_, err := r.Pupil(t.Context(), s.pupils[0].ID)
		fails(t, err, store.ErrNotFound)
		is(t, got[[]string](t)(r.Erased(t.Context())), []string{s.pupils[0].ID})
		is(t, got[[]string](t)(s.restored(t, s.backup(t)).Erased(t.Context())), []string{s.pupils[0].ID})
	}},
	{"nothing is restored over what is there", func(t *testing.T, s *school) {
		fails(t, store.Restore(t.Context(), bytes.NewReader(s.backup(t)), s.where, nil), store.ErrExists)
		is(t, got[homework.Class](t)(s.Class(t.Context(), s.class.ID)), s.class)
	}},
	{"a backup that is cut short or changed is refused, and leaves nothing", func(t *testing.T, s *school) {
		s.busy(t, 0)
		whole := s.backup(t)
		where := s.fresh(t)
		for _, n := range []int{0, 5, 19, 30, len(whole) / 2, len(whole) - 1} {
			if err := store.Restore(t.Context(), bytes.NewReader(whole[:n]), where, nil); err == nil {
				t.Errorf("the first %d of %d bytes were restored", n, len(whole))
			}
		}
		for _, n := range []int{3, 40, len(whole) / 2, len(whole) - 3} {
			other := bytes.Clone(whole)
			other[n] ^= 0x10
			if err := store.Restore(t.Context(), bytes.NewReader(other), where, nil); err == nil {
				t.Errorf("a backup with another byte at %d was restored", n)
			}
		}
		must(t, store.Restore(t.Context(), bytes.NewReader(whole), where, nil))
	}},
	{"a file of a backup is sealed with its passphrase", func(t *testing.T, s *school) {
		dir := t.TempDir()
		path := filepath.Join(dir, "school.backup")
		must(t, s.BackupFile(t.Context(), path, "otter weir lantern"))
		there := got[[]os.DirEntry](t)(os.ReadDir(dir))
		is(t, len(there), 1)
		is(t, got[os.FileInfo](t)(there[0].Info()).Mode().Perm(), os.FileMode(0o600))
		if b := got[[]byte](t)(os.ReadFile(path)); bytes.Contains(b, []byte("steelyard")) {
			t.Error("the file is not sealed")
		}
		where := s.fresh(t)
		for _, wrong := range []string{"", "otter weir lanterns"} {
			fails(t, store.RestoreFile(t.Context(), path, wrong, where, nil), store.ErrSealed)
		}
		sealed := got[[]byte](t)(os.ReadFile(path))
		fails(t, store.Restore(t.Context(), bytes.NewReader(sealed), where, nil), store.ErrSealed)
		must(t, store.RestoreFile(t.Context(), path, "otter weir lantern", where, nil))
	}},
	{"a file of a backup that fails is not there", func(t *testing.T, s *school) {
		dir := t.TempDir()
		must(t, s.Close())
		fails(t, s.BackupFile(background(), filepath.Join(dir, "school.backup"), ""), store.ErrBusy)
		is(t, len(got[[]os.DirEntry](t)(os.ReadDir(dir))), 0)
	}},
	{"a backup of a newer program is refused", func(t *testing.T, s *school) {
		err := store.Restore(t.Context(), bytes.NewReader([]byte("steelyard backup 2\nand then something")), s.fresh(t), nil)
		if !errors.Is(err, store.ErrNewer) {
			t.Errorf("got %v", err)
		}
	}},
	{"a database that verifies has no faults", func(t *testing.T, s *school) {
		s.busy(t, 0)
		s.question(t)
		is(t, got[[]string](t)(s.Verify(t.Context())), []string(nil))
	}},
}
