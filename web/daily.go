package web

import (
	"context"
	"errors"
	"fmt"
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
	if !backups {
		return
	}
	if made, err := backup(ctx, d.Store, folder, d.Now()); err != nil {
		d.Log.ErrorContext(ctx, "daily backup", "err", err)
	} else if made {
		d.Log.InfoContext(ctx, "daily backup made")
	}
}

// backup makes today's backup, if there is none, and removes the oldest ones.
func backup(ctx context.Context, s *store.Store, folder string, now time.Time) (made bool, err error) {
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return false, err
	}
	name := "steelyard-" + now.Format(time.DateOnly) + ".backup"
	if _, err := os.Stat(filepath.Join(folder, name)); err == nil {
		return false, nil
	}
	if err := WriteBackup(ctx, s, filepath.Join(folder, name)); err != nil {
		return false, err
	}
	return true, prune(folder)
}

// WriteBackup writes a backup to a file, whole or not at all.
func WriteBackup(ctx context.Context, s *store.Store, name string) (err error) {
	f, err := os.CreateTemp(filepath.Dir(name), ".unfinished-*")
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			os.Remove(f.Name())
		}
	}()
	if err := errors.Join(s.Backup(ctx, f), f.Sync(), f.Close()); err != nil {
		return fmt.Errorf("backup %s: %w", name, err)
	}
	if err := os.Rename(f.Name(), name); err != nil {
		return err
	}
	return syncFolder(filepath.Dir(name))
}

// syncFolder makes sure that a new name is on the disk.
func syncFolder(name string) error {
	f, err := os.Open(name)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}

func prune(folder string) error {
	list, err := filepath.Glob(filepath.Join(folder, "steelyard-????-??-??.backup"))
	if err != nil || len(list) <= backupsKept {
		return err
	}
	slices.SortFunc(list, strings.Compare)
	for _, old := range list[:len(list)-backupsKept] {
		if err := os.Remove(old); err != nil {
			return err
		}
	}
	return nil
}
