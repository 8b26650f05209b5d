package store_test

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"steelyard/store"
)

func busy(t testing.TB, err error) {
	t.Helper()
	if !errors.Is(err, store.ErrBusy) || !strings.Contains(err.Error(), "does not answer") {
		t.Errorf("got %v, want a word that the database does not answer", err)
	}
}

// smallDisk mounts a file system of so many bytes in memory, where that is allowed.
func smallDisk(t *testing.T, size int) string {
	t.Helper()
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, fmt.Sprintf("size=%d", size)); err != nil {
		t.Skipf("a small disk can't be mounted: %v", err)
	}
	t.Cleanup(func() { syscall.Unmount(dir, 0) })
	return dir
}

func TestAFullDiskIsSaidAndLosesNothing(t *testing.T) {
	dir := smallDisk(t, 3<<20)
	s := filled(t, dir, stormPupils)
	var mu sync.Mutex
	var said []string
	var refused int
	var wg sync.WaitGroup
	for w := range 20 {
		wg.Go(func() {
			for n := range 400 {
				key := fmt.Sprint(w, ".", n)
				_, err := s.HandIn(context.Background(), pupilBy(w), sixParts(w, key))
				mu.Lock()
				switch {
				case err == nil:
					said = append(said, key)
				case errors.Is(err, store.ErrFull) && strings.Contains(err.Error(), "disk is full"):
					refused++
				default:
					t.Errorf("got %v, want a word that the disk is full", err)
				}
				mu.Unlock()
			}
		})
	}
	wg.Wait()
	if refused == 0 {
		t.Fatal("the disk was not full: the test shows nothing")
	}
	t.Logf("%d acknowledged, %d refused", len(said), refused)
	kept(t, s, said) // reading goes on

	if err := syscall.Mount("tmpfs", dir, "tmpfs", syscall.MS_REMOUNT, "size=64m"); err != nil {
		t.Fatal(err)
	}
	if _, err := s.HandIn(t.Context(), pupilBy(0), sixParts(0, "after")); err != nil {
		t.Errorf("there is room again: %v", err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	s = opened(t, dir)
	kept(t, s, append(said, "after"))
	noFaults(t, s)
}

func TestALockedDatabaseIsSaidAndLosesNothing(t *testing.T) {
	dir := t.TempDir()
	s := filled(t, dir, 2)
	other, err := sql.Open("sqlite", "file:"+filepath.Join(dir, "steelyard.db")+"?_txlock=immediate")
	if err != nil {
		t.Fatal(err)
	}
	defer other.Close()
	tx, err := other.Begin()
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.Class(t.Context(), classID); err != nil {
		t.Errorf("reading has to go on: %v", err)
	}
	ctx, cancel := context.WithTimeout(t.Context(), time.Second)
	defer cancel()
	_, err = s.HandIn(ctx, pupilBy(0), sixParts(0, "locked")) // waits for five seconds: it has begun
	busy(t, err)
	if err := tx.Rollback(); err != nil {
		t.Fatal(err)
	}
	if _, err := s.HandIn(t.Context(), pupilBy(0), sixParts(0, "after")); err != nil {
		t.Error(err)
	}
	list, err := s.HandInsBy(t.Context(), setID, pupilID(0))
	if err != nil || len(list) != 1 || list[0].Key != "after" {
		t.Errorf("got %v, %v", list, err)
	}
}

func TestADamagedFileIsNotWorkedWith(t *testing.T) {
	dir := t.TempDir()
	filled(t, dir, 200).Close()
	file := filepath.Join(dir, "steelyard.db")
	b, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	for i := 4096; i < len(b); i += 512 {
		b[i] ^= 0xff
	}
	if err := os.WriteFile(file, b, 0o600); err != nil {
		t.Fatal(err)
	}
	s, err := store.Open(t.Context(), dir)
	if err == nil {
		defer s.Close()
		faults, err := s.Verify(t.Context())
		if err == nil && len(faults) == 0 {
			t.Error("a damaged file verifies")
		}
	}
}

func TestANewerDatabaseIsRefused(t *testing.T) {
	dir := t.TempDir()
	opened(t, dir).Close()
	change(t, dir, "INSERT INTO schema_steps (version, name) VALUES (999, 'from the future')")
	if _, err := store.Open(t.Context(), dir); !errors.Is(err, store.ErrNewer) {
		t.Errorf("got %v", err)
	}
}

// change changes a database behind the store's back.
func change(t testing.TB, dir, statement string) {
	t.Helper()
	db, err := sql.Open("sqlite", "file:"+filepath.Join(dir, "steelyard.db"))
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	if _, err := db.Exec(statement); err != nil {
		t.Fatal(err)
	}
}
