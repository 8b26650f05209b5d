package store

import (
	"context"
	"time"
)

// A Version is the text of a question at some time.
type Version struct {
	N    int // the question's version with which it was saved; some numbers are left out
	Text string
	By   string
	At   time.Time // when it began
	Name string    // given by the teacher; "" for those that autosave made
}

// oneVersion is for how long what one teacher saves goes into one version.
const oneVersion = 5 * time.Minute

const versionColumns = "n, text, by_who, at, name"

func scanVersion(r row) (v Version, err error) {
	err = r.Scan(&v.N, &v.Text, &v.By, at{&v.At}, &v.Name)
	return v, err
}

func lastVersion(t tx, question string) (Version, error) {
	return one(t, scanVersion, "SELECT "+versionColumns+" FROM versions WHERE question = $1 ORDER BY n DESC LIMIT 1", question)
}

func addVersion(t tx, by By, question string, n int, text string) error {
	_, err := t.exec("INSERT INTO versions (question, "+versionColumns+") VALUES ($1, $2, $3, $4, $5, '')", question, n, text, by.Who, by.At)
	return err
}

// saveVersion keeps a text as the last version or as one more, and says whether that began.
func saveVersion(t tx, by By, question string, n int, text string) (began bool, err error) {
	last, err := lastVersion(t, question)
	if err != nil || last.Text == text {
		return false, err
	}
	// A clock that was put back makes the age negative; then nothing is written over.
	age := by.At.Sub(last.At)
	if last.Name == "" && last.By == by.Who && age >= 0 && age < oneVersion {
		return false, t.must("UPDATE versions SET n = $1, text = $2 WHERE question = $3 AND n = $4", n, text, question, last.N)
	}
	return true, addVersion(t, by, question, n, text)
}

// NameVersion names the text as it stands, which is kept as it is from then on.
func (s *Store) NameVersion(ctx context.Context, by By, question, name string) error {
	return s.change(ctx, "version of question "+question, func(t tx) error {
		last, err := lastVersion(t, question)
		if err != nil {
			return err
		}
		if err := t.must("UPDATE versions SET name = $1 WHERE question = $2 AND n = $3", name, question, last.N); err != nil {
			return err
		}
		return t.line(by, Event{What: "version named", About: question}, map[string]any{"Name": last.Name}, map[string]any{"Name": name, "N": last.N})
	})
}

// Versions lists the versions of a question, the newest first.
func (s *Store) Versions(ctx context.Context, question string) (list []Version, err error) {
	err = s.read(ctx, "versions", func(t tx) (err error) {
		list, err = all(t, scanVersion, "SELECT "+versionColumns+" FROM versions WHERE question = $1 ORDER BY n DESC", question)
		return err
	})
	return list, err
}
