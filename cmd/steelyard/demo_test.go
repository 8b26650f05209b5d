package main

import (
	"bytes"
	"log/slog"
	"strings"
	"testing"
	"time"

	"steelyard/store"
	"steelyard/web"
)

// With --demo, whoever starts the program is told who can sign in; data that somebody uses are left alone.
func TestTheInventedSchoolIsTold(t *testing.T) {
	s, err := store.Open(t.Context(), t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	d, err := web.NewDesk(t.Context(), s, slog.New(slog.DiscardHandler), time.Now, "http://127.0.0.1")
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	if err := invented(&out)(t.Context(), d); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"invented", "fenwright", "10 Heron", "12 Physics"} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("%q isn't told in\n%s", want, out.String())
		}
	}
	if err := invented(&out)(t.Context(), d); err != nil || !strings.Contains(out.String(), "nothing is made up") {
		t.Errorf("a school that is there is filled with an invented one: %v, %s", err, out.String())
	}
}
