package store

import (
	"bytes"
	"context"
	"encoding/json"
)

// What tests outside of the package need from within.

func Latest() int                   { return latest() }
func Steps() []string               { return steps() }
func TablesAt(version int) []string { return tablesAt(version) }

// MigrationText is a migration as it is kept.
func MigrationText(name string) ([]byte, error) { return migrations.ReadFile(name) }

// OpenAt opens a database at an earlier version of the schema, for filling it.
func OpenAt(ctx context.Context, where string, version int) (*Store, error) {
	db, err := open(ctx, where, version)
	if err != nil {
		return nil, err
	}
	return &Store{db: db}, nil
}

// Exec runs a statement on the store's database, behind its back.
func (s *Store) Exec(ctx context.Context, statement string) error {
	return s.db.change(ctx, func(t tx) error {
		_, err := t.exec(statement)
		return err
	})
}

// A Row is a row of a table by column, as a backup has it.
type Row map[string]any

// Dump are all rows of tables.
func (s *Store) Dump(ctx context.Context, tables []string) (map[string][]Row, error) {
	dump := map[string][]Row{}
	err := s.db.snapshot(ctx, func(t tx) error {
		for _, table := range tables {
			var b bytes.Buffer
			if _, err := backupTable(t, table, &b); err != nil {
				return err
			}
			var head tableLine
			for line := range bytes.Lines(b.Bytes()) {
				var values []any
				switch {
				case head.Table == "":
					json.Unmarshal(line, &head)
				case json.Unmarshal(line, &values) == nil:
					row := Row{}
					for i, v := range values {
						row[head.Columns[i]] = v
					}
					dump[table] = append(dump[table], row)
				}
			}
		}
		return nil
	})
	return dump, err
}

// BackupAt writes a backup as a program with an earlier version of the schema did.
func (s *Store) BackupAt(ctx context.Context, version int) ([]byte, error) {
	var b bytes.Buffer
	err := s.db.snapshot(ctx, func(t tx) error { return backup(t, &b, version) })
	return b.Bytes(), err
}
