package marks_test

import (
	"context"
	"strings"
	"testing"
	"time"

	"steelyard/account"
	"steelyard/homework"
	"steelyard/store"
	"steelyard/web/marks"
	"steelyard/web/page"
)

func TestAHandInThatCannotBeMarkedHoldsNobodyUp(t *testing.T) {
	s := open(t, "lock-footbridge")
	h := s.set
	h.ID, h.Given, h.Version = store.NewID(), time.Time{}, 0
	h.Items = []homework.Item{{Question: "q", Text: "no question at all"}}
	must(t, s.Store.AddSet(t.Context(), s.by(), h))
	must(t, s.Store.Give(t.Context(), s.by(), h.ID, nil))
	p := s.pupils[0]
	bad, err := s.Store.HandIn(t.Context(), store.By{Role: account.PupilOf, Who: p.ID, At: s.Clock.Now()},
		homework.HandIn{Set: h.ID, Pupil: p.ID, Key: "k", At: s.Clock.Now(), Answers: []homework.Answer{{Part: "a", Answer: "1 N"}}})
	must(t, err)
	s.handIn(t, 1, doubtful("570 N"))
	for range 1000 {
		list, err := s.Store.MarkingsOf(t.Context(), s.set.ID, "")
		must(t, err)
		if len(list) == 5 {
			break
		}
		time.Sleep(10 * time.Millisecond)
	}
	list, err := s.Store.Unmarked(t.Context(), 10)
	must(t, err)
	if len(list) != 1 || list[0].ID != bad.ID {
		t.Fatalf("not marked: %+v", list)
	}
	if log := s.Log.String(); !strings.Contains(log, bad.ID) || strings.Contains(log, p.Name) {
		t.Errorf("the log says %s", log)
	}
}

func TestTwoProgramsMayMarkAtOnce(t *testing.T) {
	s := open(t, "lock-footbridge", "mooring-plank") // one marker is at work already
	other := *s.Desk
	other.Marker, other.HandedIn = homework.NewMarker(), make(chan struct{}, 1)
	ctx, stop := context.WithCancel(context.Background())
	done := make(chan struct{})
	go func() { marks.Work(ctx, &other); close(done) }()
	t.Cleanup(func() { stop(); <-done })
	for i := range 8 {
		s.handIn(t, i, append(corpus(t, "lock-footbridge", 0)[i], corpus(t, "mooring-plank", 1)[i]...)...)
		tell(&other)
	}
	s.marked(t)
	stop()
	<-done
	list, err := s.Store.MarkingsOf(t.Context(), s.set.ID, "")
	must(t, err)
	seen := map[homework.Marking]bool{}
	for _, m := range list {
		m.Record, m.Marks, m.Asks = "", 0, false
		if seen[m] {
			t.Errorf("%+v is there twice", m)
		}
		seen[m] = true
	}
	if len(list) != 8*7 {
		t.Errorf("%d parts are marked, want 56", len(list))
	}
	faults, err := s.Store.Verify(t.Context())
	must(t, err)
	if len(faults) > 0 {
		t.Error(faults)
	}
}

func tell(d *page.Desk) {
	select {
	case d.HandedIn <- struct{}{}:
	default:
	}
}
