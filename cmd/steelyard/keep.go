package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"os"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"
	"time"

	"steelyard/store"
	"steelyard/web"
)

// kept says where the data are.
type kept struct {
	Data     string `default:"${data}" help:"Folder that \"steelyard serve\" keeps its data in." placeholder:"DIR"`
	Database string `help:"PostgreSQL in place of the database in DIR: postgres://…" placeholder:"ADDRESS"`
}

func (k kept) where() string {
	if k.Database != "" {
		return k.Database
	}
	return k.Data
}

// open opens the database; unlike serving, nothing else makes one.
func (k kept) open(ctx context.Context) (*store.Store, error) {
	if k.Database == "" {
		if there, err := os.ReadDir(k.Data); err != nil || len(there) == 0 {
			return nil, fmt.Errorf("%s holds no data; give the folder that is served with --data", k.Data)
		}
	}
	return store.Open(ctx, k.where())
}

// with opens the database for one piece of work that can be stopped.
func (k kept) with(work func(context.Context, *store.Store) error) (err error) {
	ctx, stop := untilStopped()
	defer stop()
	s, err := k.open(ctx)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	return work(ctx, s)
}

func untilStopped() (context.Context, context.CancelFunc) {
	return signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
}

// passphrase is the first line of a file; "" without a file. It never stands on the command line, where others can see it.
func passphrase(file string) (string, error) {
	if file == "" {
		return "", nil
	}
	f, err := os.Open(file)
	if err != nil {
		return "", err
	}
	defer f.Close()
	line, _ := bufio.NewReader(f).ReadString('\n')
	if line = strings.TrimRight(line, "\r\n"); line == "" {
		return "", fmt.Errorf("%s: the first line has to be the passphrase", file)
	}
	return line, nil
}

type backupCommand struct {
	kept
	Output     string `short:"o" required:"" help:"File to write; it is there wholly or not at all." placeholder:"FILE"`
	Passphrase string `help:"Seal the backup with the first line of this file." placeholder:"FILE"`
}

// Help shows an example.
func (backupCommand) Help() string {
	return `Writes a whole copy of the data as they are now; it may be taken while "steelyard serve" runs. Signed-in sessions are not in it.

Examples:
  steelyard backup -o steelyard.backup
  steelyard backup --data /srv/steelyard -o /mnt/second/steelyard.backup --passphrase phrase.txt`
}

// Run writes the backup.
func (c backupCommand) Run(s streams) error {
	phrase, err := passphrase(c.Passphrase)
	if err != nil {
		return err
	}
	return c.with(func(ctx context.Context, kept *store.Store) error {
		if err := kept.BackupFile(ctx, c.Output, phrase); err != nil {
			return err
		}
		_, err := fmt.Fprintln(s.out, "written:", c.Output)
		return err
	})
}

type restoreCommand struct {
	kept
	File       string `arg:"" help:"Backup to restore."`
	Passphrase string `help:"File whose first line the backup was sealed with." placeholder:"FILE"`
	Erased     string `help:"List of pupils erased since, who are erased again; if nothing is said, erased.txt beside the backup." placeholder:"FILE"`
}

// Help shows an example.
func (restoreCommand) Help() string {
	return `Makes the data anew from a backup, in a folder (or a database) that is empty, verifies them, and erases again who was erased
since the backup was taken. Everybody signs in anew.

Examples:
  steelyard restore steelyard.backup --data /srv/steelyard-restored`
}

// Run restores the backup.
func (c restoreCommand) Run(s streams) error {
	phrase, err := passphrase(c.Passphrase)
	if err != nil {
		return err
	}
	erased, err := c.erased()
	if err != nil {
		return err
	}
	ctx, stop := untilStopped()
	defer stop()
	if err := store.RestoreFile(ctx, c.File, phrase, c.where(), erased); err != nil {
		return err
	}
	into := c.Data
	if c.Database != "" {
		into = "the database" // its address may hold a password
	}
	_, err = fmt.Fprintf(s.out, "restored into %s and verified\n", into)
	return err
}

func (c restoreCommand) erased() ([]string, error) {
	name := c.Erased
	if name == "" {
		name = filepath.Join(filepath.Dir(c.File), web.ErasedFile)
	}
	b, err := os.ReadFile(name)
	if errors.Is(err, os.ErrNotExist) && c.Erased == "" {
		return nil, nil
	}
	return strings.Fields(string(b)), err
}

type verifyCommand struct{ kept }

// Help shows an example.
func (verifyCommand) Help() string {
	return `Checks the database and what it says: its pages, what refers to what, and that each hand-in is as it was handed in. It may
run while "steelyard serve" does. Exit status 1 if something is wrong.

Examples:
  steelyard verify --data /srv/steelyard`
}

// Run verifies.
func (c verifyCommand) Run(s streams) error {
	return c.with(func(ctx context.Context, kept *store.Store) error {
		faults, err := kept.Verify(ctx)
		if err != nil {
			return err
		}
		for _, fault := range faults {
			fmt.Fprintln(s.err, fault)
		}
		if len(faults) > 0 {
			fmt.Fprintln(s.err, "restore the last backup that verifies, into a new folder; keep this one as it is")
			return errRefused
		}
		_, err = fmt.Fprintln(s.out, "all is as it should be")
		return err
	})
}

type exportPupilCommand struct {
	kept
	Pupil  string `arg:"" help:"The pupil's ID: the last part of the address of the pupil's page."`
	Output string `short:"o" required:"" help:"Zip to write." placeholder:"FILE"`
}

// Help shows an example.
func (exportPupilCommand) Help() string {
	return `Writes all that is kept of a pupil as one zip: a page to be read by people, JSON to be read by programs. Teachers' reasons are in
it, since they are about the pupil too.

Examples:
  steelyard export-pupil 4wq7rz2mhl5yd3kxv6tbn8cpea -o pupil.zip`
}

// Run writes the zip.
func (c exportPupilCommand) Run(s streams) error {
	return c.with(func(ctx context.Context, kept *store.Store) (err error) {
		if _, err := pupil(ctx, kept, c.Pupil); err != nil {
			return err
		}
		f, err := os.OpenFile(c.Output, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
		if err != nil {
			return err
		}
		defer func() {
			if err != nil {
				os.Remove(c.Output)
			}
		}()
		if err := errors.Join(kept.ExportPupil(ctx, store.By{At: time.Now()}, c.Pupil, f), f.Sync(), f.Close()); err != nil {
			return err
		}
		_, err = fmt.Fprintln(s.out, "written:", c.Output)
		return err
	})
}

// pupil finds a pupil's name, or says how to find the ID.
func pupil(ctx context.Context, kept *store.Store, id string) (name string, err error) {
	p, err := kept.Pupil(ctx, id)
	if errors.Is(err, store.ErrNotFound) {
		return "", fmt.Errorf("there is no pupil %q; the ID is the last part of the address of the pupil's page", id)
	}
	return p.Name, err
}

type erasePupilCommand struct {
	kept
	Pupil string `arg:"" help:"The pupil's ID: the last part of the address of the pupil's page."`
	Yes   bool   `help:"Do it. Without this, it is only said who would be erased."`
}

// Help shows an example.
func (erasePupilCommand) Help() string {
	return `Erases a pupil and all that is theirs: name, code, answers, working, marks, drafts. It cannot be undone. Daily backups hold it for
14 days more; a restore erases it again.

Examples:
  steelyard erase-pupil 4wq7rz2mhl5yd3kxv6tbn8cpea
  steelyard erase-pupil 4wq7rz2mhl5yd3kxv6tbn8cpea --yes`
}

// Run erases the pupil.
func (c erasePupilCommand) Run(s streams) error {
	return c.with(func(ctx context.Context, kept *store.Store) error {
		name, err := pupil(ctx, kept, c.Pupil)
		if err != nil {
			return err
		}
		if !c.Yes {
			fmt.Fprintf(s.out, "this would erase %s and all their work, for good; add --yes to do it\n", name)
			return errRefused
		}
		if err := kept.ErasePupil(ctx, store.By{At: time.Now()}, c.Pupil); err != nil {
			return err
		}
		fmt.Fprintln(s.out, "erased")
		folder := filepath.Join(c.Data, "backups")
		if _, err := os.Stat(folder); err != nil {
			_, err := fmt.Fprintln(s.out, "backups kept elsewhere: erase the pupil again after a restore")
			return err
		}
		return web.WriteErased(ctx, kept, folder)
	})
}
