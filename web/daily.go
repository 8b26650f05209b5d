package web

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"steelyard/store"
	"steelyard/web/page"
)

// backupsKept is how many daily backups stay. After as many days nothing is left of a pupil who was erased.
const backupsKept = 14

// daily does once a day, and soon after the start, what is due: pupils whose time is up are erased, a backup is made.
func daily(ctx context.Context, d *page.Desk, data string, backups bool) {
	for last := ""; ; {
		if today := d.Now().Format(time.DateOnly); today != last {
			due(ctx, d, filepath.Join(data, "backups"), backups)
			last = today
		}
		select {
		case <-ctx.Done():
			return
		case <-time.After(10 * time.Minute):
		}
	}
}

func due(ctx context.Context, d *page.Desk, folder string, backups bool) {
	if n, err := d.Store.Expire(ctx, d.Now()); err != nil {
		d.Log.ErrorContext(ctx, "erasing what is over", "err", err)
	} else if n > 0 {
		d.Log.InfoContext(ctx, "erased what is over", "pupils", n)
	}
	d.Marker.Forget() // whoever was erased here, or by the command in another process
	if !backups {
		return
	}
	if made, err := backup(ctx, d.Store, folder, d.Now()); err != nil {
		d.Log.ErrorContext(ctx, "daily backup", "err", err)
	} else if made {
		d.Log.InfoContext(ctx, "daily backup made")
	}
}

// backup makes today's backup, if there is none, removes the oldest ones, and writes down beside them who was erased:
// a restore erases them again.
func backup(ctx context.Context, s *store.Store, folder string, now time.Time) (made bool, err error) {
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return false, err
	}
	if err := WriteErased(ctx, s, folder); err != nil {
		return false, err
	}
	name := filepath.Join(folder, "steelyard-"+now.Format(time.DateOnly)+".backup")
	if _, err := os.Stat(name); err == nil {
		return false, nil
	}
	if err := s.BackupFile(ctx, name, ""); err != nil {
		return false, err
	}
	return true, prune(folder)
}

// ErasedFile lists, beside backups, the pseudonyms of pupils who were erased, one a line.
const ErasedFile = "erased.txt"

// WriteErased writes the list of who was erased into a folder of backups, whole or not at all.
func WriteErased(ctx context.Context, s *store.Store, folder string) error {
	erased, err := s.Erased(ctx)
	if err != nil {
		return err
	}
	f, err := os.CreateTemp(folder, ".erased-*")
	if err != nil {
		return err
	}
	defer os.Remove(f.Name()) // does nothing once it has its name
	_, err = f.WriteString(strings.Join(append(erased, ""), "\n"))
	if err := errors.Join(err, f.Sync(), f.Close()); err != nil {
		return err
	}
	return os.Rename(f.Name(), filepath.Join(folder, ErasedFile))
}

func prune(folder string) error {
	list, err := filepath.Glob(filepath.Join(folder, "steelyard-????-??-??.backup"))
	if err != nil || len(list) <= backupsKept {
		return err
	}
	slices.Sort(list)
	for _, old := range list[:len(list)-backupsKept] {
		if err := os.Remove(old); err != nil {
			return err
		}
	}
	return nil
}
