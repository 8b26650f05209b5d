package store_test

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"steelyard/store"
)

// databases are where the tests of both run.
func databases(t *testing.T, test func(t *testing.T, fresh func() string)) {
	t.Run("SQLite", func(t *testing.T) { test(t, func() string { return filepath.Join(t.TempDir(), "new") }) })
	t.Run("PostgreSQL", func(t *testing.T) {
		s := postgres(t)
		test(t, func() string { return s.fresh(t) })
	})
}

// filledAt opens a database at an earlier version of the schema and fills it with what it may have held then.
func filledAt(t *testing.T, where string, version int) *store.Store {
	t.Helper()
	s, err := store.OpenAt(t.Context(), where, version)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	for v := 1; v <= version; v++ {
		text, err := os.ReadFile(fmt.Sprintf("testdata/schema-%d.sql", v))
		if err != nil {
			t.Fatalf("keep data of each version of the schema: %v", err)
		}
		for statement := range strings.SplitSeq(string(text), ";\n") {
			if strings.TrimSpace(statement) == "" {
				continue
			}
			if err := s.Exec(t.Context(), statement); err != nil {
				t.Fatalf("schema %d: %v", v, err)
			}
		}
	}
	return s
}

func dump(t *testing.T, s *store.Store, tables []string) map[string][]store.Row {
	t.Helper()
	d, err := s.Dump(t.Context(), tables)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// As long as migrations only add, what was in the tables has to be there afterwards, column by column. A migration that changes
// rows says here what becomes of them.
func sameRows(t *testing.T, version int, before, after map[string][]store.Row) {
	t.Helper()
	for table, rows := range before {
		if len(after[table]) != len(rows) {
			t.Errorf("schema %d: %s had %d rows, and has %d", version, table, len(rows), len(after[table]))
			continue
		}
		for i, row := range rows {
			for column, value := range row {
				if now := after[table][i][column]; now != value {
					t.Errorf("schema %d: %s of %s was %v, and is %v", version, column, table, value, now)
				}
			}
		}
	}
}

func TestEachEarlierSchemaIsMigratedWithAllThatItHeld(t *testing.T) {
	databases(t, func(t *testing.T, fresh func() string) {
		for version := 1; version <= store.Latest(); version++ {
			where := fresh()
			old := filledAt(t, where, version)
			before := dump(t, old, store.TablesAt(version))
			old.Close()
			for range 2 { // the second time there is nothing to do
				s := opened(t, where)
				sameRows(t, version, before, dump(t, s, store.TablesAt(version)))
				noFaults(t, s)
				s.Close()
			}
		}
	})
}

func TestABackupOfEachEarlierSchemaIsRestored(t *testing.T) {
	databases(t, func(t *testing.T, fresh func() string) {
		for version := 1; version <= store.Latest(); version++ {
			old := filledAt(t, fresh(), version)
			b, err := old.BackupAt(t.Context(), version)
			if err != nil {
				t.Fatal(err)
			}
			where := fresh()
			if err := store.Restore(t.Context(), bytes.NewReader(b), where, nil); err != nil {
				t.Fatalf("schema %d: %v", version, err)
			}
			before := dump(t, old, store.TablesAt(version))
			delete(before, "sessions")
			sameRows(t, version, before, dump(t, opened(t, where), store.TablesAt(version)))
		}
	})
}

func TestABackupMovesASchoolFromOneDatabaseToTheOther(t *testing.T) {
	server := postgres(t)
	places := []string{t.TempDir(), server.fresh(t), filepath.Join(t.TempDir(), "back")}
	s := filledAt(t, places[0], store.Latest())
	first := dump(t, s, store.TablesAt(store.Latest()))
	for _, where := range places[1:] {
		var b bytes.Buffer
		if err := s.Backup(t.Context(), &b); err != nil {
			t.Fatal(err)
		}
		if err := store.Restore(t.Context(), &b, where, nil); err != nil {
			t.Fatal(err)
		}
		s = opened(t, where)
		now := dump(t, s, store.TablesAt(store.Latest()))
		now["sessions"] = first["sessions"]
		if !reflect.DeepEqual(first, now) {
			t.Errorf("in %s:\nwas %v\nis  %v", where, first, now)
		}
	}
}

// testdata/migrations.sum has the sums of migrations that databases out there have been through.
func TestMigrationsAreNeverEdited(t *testing.T) {
	released, err := os.ReadFile("testdata/migrations.sum")
	if err != nil {
		t.Fatal(err)
	}
	var now strings.Builder
	for _, name := range store.Steps() {
		text, err := store.MigrationText(name)
		if err != nil {
			t.Fatal(err)
		}
		fmt.Fprintf(&now, "%x  %s\n", sha256.Sum256(text), name)
	}
	if now.String() != string(released) {
		t.Errorf("migrations are not as they were; write another one in place of changing one, and add its sum to testdata/migrations.sum:\n%s", now.String())
	}
}
