package store

import (
	"context"
	"database/sql"
	"fmt"
	"sync"
	"sync/atomic"
)

// A queue gives all writes to one connection. What waits is committed together, since a commit costs a wait for
// the disk; each write stands in a savepoint of its own, so that one that fails does not touch its neighbours; and nobody is
// told before the commit.
type queue struct {
	conn  *sql.Conn
	stmts map[string]*sql.Stmt
	in    chan *write
	done  chan struct{}

	mu     sync.RWMutex // held for reading while something is put in
	closed bool
}

// mostTogether is how many writes are committed together at most, so that the first of them need not wait long.
const mostTogether = 256

// A write is a function to run on the writing connection.
type write struct {
	do    func(queryer) error
	alone bool        // outside of a transaction
	taken atomic.Bool // by the queue, or by the caller who gives up
	told  chan error
}

func newQueue(conn *sql.Conn) *queue {
	q := &queue{conn: conn, stmts: map[string]*sql.Stmt{}, in: make(chan *write, mostTogether), done: make(chan struct{})}
	go q.run()
	return q
}

// put runs a write and waits until it is on the disk. A write that has begun is not given up.
func (q *queue) put(ctx context.Context, alone bool, do func(queryer) error) error {
	w := &write{do: do, alone: alone, told: make(chan error, 1)}
	q.mu.RLock()
	if q.closed {
		q.mu.RUnlock()
		return fmt.Errorf("%w: it is closed", ErrBusy)
	}
	select {
	case q.in <- w:
		q.mu.RUnlock()
	case <-ctx.Done():
		q.mu.RUnlock()
		return ctx.Err()
	}
	select {
	case err := <-w.told:
		return err
	case <-ctx.Done():
		if w.taken.CompareAndSwap(false, true) {
			return ctx.Err()
		}
		return <-w.told
	}
}

// close finishes what waits.
func (q *queue) close() {
	q.mu.Lock()
	if !q.closed {
		q.closed = true
		close(q.in)
	}
	q.mu.Unlock()
	<-q.done
}

func (q *queue) run() {
	defer close(q.done)
	for w := range q.in {
		q.commit(q.with(w))
	}
	for _, s := range q.stmts {
		s.Close()
	}
}

// with takes what waits beside the first write. What has to stand alone is the last.
func (q *queue) with(w *write) []*write {
	list := []*write{}
	for {
		if w.taken.CompareAndSwap(false, true) {
			list = append(list, w)
			if w.alone {
				return list
			}
		}
		if len(list) == mostTogether {
			return list
		}
		select {
		case next, ok := <-q.in:
			if !ok {
				return list
			}
			w = next
		default:
			return list
		}
	}
}

// commit commits writes together. Where that fails as a whole, as when the disk is full, each is tried by itself: a
// small one may still fit, and each gets its own answer.
func (q *queue) commit(list []*write) {
	if n := len(list); n > 0 && list[n-1].alone {
		q.commit(list[:n-1])
		list[n-1].told <- safely(list[n-1].do, q)
		return
	}
	results := make([]error, len(list))
	if err := q.together(list, results); err != nil {
		if len(list) > 1 {
			for i := range list {
				q.commit(list[i : i+1])
			}
			return
		}
		results[0] = err
	}
	for i, w := range list {
		w.told <- results[i]
	}
}

// together runs writes in one transaction. An error says that none of them is kept.
func (q *queue) together(list []*write, results []error) error {
	if len(list) == 0 {
		return nil
	}
	if err := q.plain("BEGIN IMMEDIATE"); err != nil {
		return err
	}
	for i, w := range list {
		if err := q.plain("SAVEPOINT one"); err != nil {
			return q.undo(err)
		}
		if results[i] = safely(w.do, q); results[i] != nil {
			// Some errors, such as a full disk, have ended the whole transaction: then there is no savepoint either.
			if err := q.plain("ROLLBACK TO one"); err != nil {
				return q.undo(results[i])
			}
		}
		if err := q.plain("RELEASE one"); err != nil {
			return q.undo(err)
		}
	}
	if err := q.plain("COMMIT"); err != nil {
		return q.undo(err)
	}
	return nil
}

func (q *queue) plain(statement string) error {
	_, err := q.ExecContext(context.Background(), statement)
	return err
}

// undo rolls back what may be rolled back already.
func (q *queue) undo(err error) error {
	q.plain("ROLLBACK")
	return err
}

// safely turns a panic into an error: one write must not stop all others for good.
func safely(do func(queryer) error, q queryer) (err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("the write broke off: %v", p)
		}
	}()
	return do(q)
}

// ExecContext and QueryContext keep each statement prepared. Only the queue's own goroutine calls them.
func (q *queue) ExecContext(ctx context.Context, query string, args ...any) (sql.Result, error) {
	s, err := q.prepared(ctx, query)
	if err != nil {
		return nil, err
	}
	return s.ExecContext(ctx, args...)
}

func (q *queue) QueryContext(ctx context.Context, query string, args ...any) (*sql.Rows, error) {
	s, err := q.prepared(ctx, query)
	if err != nil {
		return nil, err
	}
	return s.QueryContext(ctx, args...)
}

func (q *queue) prepared(ctx context.Context, query string) (*sql.Stmt, error) {
	if s, ok := q.stmts[query]; ok {
		return s, nil
	}
	s, err := q.conn.PrepareContext(ctx, query)
	if err == nil {
		q.stmts[query] = s
	}
	return s, err
}
