package marks

import (
	"bytes"
	"cmp"
	"context"
	"fmt"
	"hash/maphash"
	"net/http"
	"strconv"
	"strings"
	"time"

	"steelyard/web/page"
)

// How often a watcher looks for news; and how much longer it waits where reading a large set takes long,
// so that watching takes a small share of the computer.
const (
	look = time.Second
	rest = 8 // times as long as the last reading took
)

var seed = maphash.MakeSeed()

// live tells an open table of marks what changes, as server-sent events: "rows" with the lines that are new or different.
// Every fifteen seconds a comment keeps the connection from being taken for dead.
func (m room) live(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	s := &stream{room: m, set: r.PathValue("set"), hidden: hidden(r), w: w, lines: map[string]uint64{}}
	from, _ := strconv.ParseInt(cmp.Or(r.Header.Get("Last-Event-ID"), r.FormValue("from")), 10, 64)
	w.Header().Set("Content-Type", "text/event-stream")
	w.Header().Set("Cache-Control", "no-store")
	if err := s.begin(r.Context(), from); err != nil {
		return err
	}
	for wait := look; ; {
		select {
		case <-r.Context().Done():
			return nil
		case <-time.After(wait):
		}
		began := time.Now()
		if err := s.step(r.Context()); err != nil {
			return nil // the browser comes back by itself
		}
		wait = max(look, rest*time.Since(began))
	}
}

// A stream is one open table.
type stream struct {
	room
	set    string
	hidden bool
	w      http.ResponseWriter
	seen   int64             // the store's count of changes
	lines  map[string]uint64 // hashes of the lines that the browser has
	quiet  int               // looks without news
}

// begin takes what the browser has for known, unless something has changed since.
func (s *stream) begin(ctx context.Context, from int64) error {
	b, err := s.open(ctx, s.set, s.hidden)
	if err != nil {
		return err
	}
	rows, err := s.news(ctx, b)
	if err != nil {
		return err
	}
	s.seen = b.Changes
	if from == b.Changes {
		rows = ""
	}
	return s.send(rows)
}

func (s *stream) step(ctx context.Context) error {
	n, err := s.Store.Changes(ctx, s.set)
	if err != nil {
		return err
	}
	if n == s.seen {
		if s.quiet++; s.quiet%15 == 0 {
			return s.send("")
		}
		return nil
	}
	b, err := s.open(ctx, s.set, s.hidden)
	if err != nil {
		return err
	}
	s.seen = b.Changes
	rows, err := s.news(ctx, b)
	if err != nil {
		return err
	}
	return s.send(rows)
}

// news are the lines that differ from what the browser has, with the foot; "" if there are none.
func (s *stream) news(ctx context.Context, b *book) (string, error) {
	var changed []*row
	var line, out bytes.Buffer
	for i := range b.Rows {
		line.Reset()
		if err := tableRow(b, &b.Rows[i]).Render(ctx, &line); err != nil {
			return "", err
		}
		if id, h := b.Rows[i].Pupil.ID, maphash.Bytes(seed, line.Bytes()); s.lines[id] != h {
			s.lines[id] = h
			changed = append(changed, &b.Rows[i])
		}
	}
	if len(changed) == 0 {
		return "", nil
	}
	err := tableNews(b, changed).Render(ctx, &out)
	return out.String(), err
}

// send writes an event; "" is a comment that only keeps the connection open.
func (s *stream) send(rows string) error {
	text := ":\n\n"
	if rows != "" {
		text = fmt.Sprintf("event: rows\nid: %d\ndata: %s\n\n", s.seen, strings.NewReplacer("\r", "", "\n", "\ndata: ").Replace(rows))
	}
	c := http.NewResponseController(s.w)
	c.SetWriteDeadline(time.Now().Add(30 * time.Second)) // not every writer has deadlines
	if _, err := s.w.Write([]byte(text)); err != nil {
		return err
	}
	return c.Flush()
}
