package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"fmt"
	"strings"
	"time"
)

// A tx is what a method of the store reads and writes with. It lives as long as the function that it is passed to,
// and so may hold the context.
type tx struct {
	ctx context.Context
	q   queryer
	// shards is among how many rows the changes of a set are counted.
	shards int
}

type queryer interface {
	ExecContext(ctx context.Context, query string, args ...any) (sql.Result, error)
	QueryContext(ctx context.Context, query string, args ...any) (*sql.Rows, error)
}

// exec runs a statement and returns how many rows it changed.
func (t tx) exec(query string, args ...any) (int64, error) {
	res, err := t.q.ExecContext(t.ctx, query, bound(args)...)
	if err != nil {
		return 0, err
	}
	return res.RowsAffected()
}

// must runs a statement that changes a row that has to be there.
func (t tx) must(query string, args ...any) error {
	n, err := t.exec(query, args...)
	if err == nil && n == 0 {
		return ErrNotFound
	}
	return err
}

// A row is what a scan reads from.
type row interface{ Scan(into ...any) error }

// each calls do for each row.
func each[T any](t tx, scan func(row) (T, error), do func(T) error, query string, args ...any) error {
	rows, err := t.q.QueryContext(t.ctx, query, bound(args)...)
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		v, err := scan(rows)
		if err != nil {
			return err
		}
		if err := do(v); err != nil {
			return err
		}
	}
	return rows.Err()
}

// all reads all rows.
func all[T any](t tx, scan func(row) (T, error), query string, args ...any) (list []T, err error) {
	err = each(t, scan, func(v T) error { list = append(list, v); return nil }, query, args...)
	return list, err
}

// one reads the first row; there is none: ErrNotFound.
func one[T any](t tx, scan func(row) (T, error), query string, args ...any) (T, error) {
	list, err := all(t, scan, query, args...)
	if err == nil && len(list) == 0 {
		err = ErrNotFound
	}
	if err != nil {
		var none T
		return none, err
	}
	return list[0], nil
}

// single scans a column.
func single[T any](r row) (v T, err error) {
	err = r.Scan(&v)
	return v, err
}

// bound turns arguments into what both databases take: milliseconds, 0 and 1, and text that is UTF-8 without NUL, which
// PostgreSQL refuses.
func bound(args []any) []any {
	for i, a := range args {
		switch v := a.(type) {
		case time.Time:
			args[i] = millis(v)
		case bool:
			args[i] = 0
			if v {
				args[i] = 1
			}
		case string:
			args[i] = clean(v)
		}
	}
	return args
}

func clean(s string) string {
	if strings.IndexByte(s, 0) >= 0 {
		s = strings.ReplaceAll(s, "\x00", "\uFFFD")
	}
	return strings.ToValidUTF8(s, "\uFFFD")
}

// millis is an instant as it is stored; the zero time is 0.
func millis(t time.Time) int64 {
	if t.IsZero() {
		return 0
	}
	return t.UnixMilli()
}

// kept is an instant as it comes back from the store.
func kept(t time.Time) time.Time { return instant(millis(t)) }

func instant(ms int64) time.Time {
	if ms == 0 {
		return time.Time{}
	}
	return time.UnixMilli(ms).UTC()
}

// An at scans an instant, a flag a truth, a doc a value from JSON.
type at struct{ t *time.Time }

func (a at) Scan(v any) error {
	ms, ok := v.(int64)
	if !ok {
		return fmt.Errorf("%v is no time in milliseconds", v)
	}
	*a.t = instant(ms)
	return nil
}

type flag struct{ b *bool }

func (f flag) Scan(v any) error {
	n, ok := v.(int64)
	if !ok {
		return fmt.Errorf("%v is neither 0 nor 1", v)
	}
	*f.b = n != 0
	return nil
}

type doc struct{ v any }

func (d doc) Scan(v any) error {
	s, ok := v.(string)
	if !ok {
		return fmt.Errorf("%T is no JSON", v)
	}
	return json.Unmarshal([]byte(s), d.v)
}

// asJSON writes a value of our own, which can always be written.
func asJSON(v any) string {
	b, err := json.Marshal(v)
	if err != nil {
		panic(fmt.Sprintf("%T can't be written as JSON: %v", v, err))
	}
	return string(b)
}
