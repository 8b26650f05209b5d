package web

import (
	"net/http"
	"testing"
	"time"

	"steelyard/web/page"
)

// Handler serves routes as the program does its own.
func Handler(d *page.Desk, set Setting, routes []page.Route) (http.Handler, error) {
	h, _, err := build(d, set, routes)
	return h, err
}

// Recheck looks at the sessions of live pages more often, for one test.
func Recheck(t *testing.T, every time.Duration) { set(t, &recheck, every) }

// Usual gives requests less time, for one test.
func Usual(t *testing.T, within time.Duration) { set(t, &usual, within) }

// Slow gives slow requests less time, for one test.
func Slow(t *testing.T, within time.Duration) { set(t, &slow, within) }

func set(t *testing.T, what *time.Duration, to time.Duration) {
	was := *what
	*what = to
	t.Cleanup(func() { *what = was })
}
