package trial

import (
	"sync"
	"testing"

	"steelyard/bank/banktest"
	"steelyard/trial"
	"steelyard/web/page"
)

// What many ask for at once is worked out once.
func TestWorkedOutOnce(t *testing.T) {
	src := page.Question{Text: banktest.Text(t, "lock-footbridge")}
	var s shelf
	var all sync.WaitGroup
	found, curves := make([]*tried, 8), make([]*trial.Curve, 8)
	for i := range found {
		all.Go(func() {
			k, err := s.find(src)
			if err != nil {
				t.Error(err)
				return
			}
			c, err := k.curve(trial.Numbers(k.answers)[0])
			if err != nil {
				t.Error(err)
			}
			found[i], curves[i] = k, c
		})
	}
	all.Wait()
	for i := range found {
		if found[i] == nil || curves[i] == nil || found[i] != found[0] || curves[i] != curves[0] {
			t.Errorf("request %d has worked it out again", i)
		}
	}
}

// A shelf never holds more than most, whatever is asked for.
func TestTheShelfIsBounded(t *testing.T) {
	var mu sync.Mutex
	var kept map[string]func() (int, error)
	for i := range 3 * most {
		if got, err := once(&mu, &kept, string(rune('a'+i)), func() (int, error) { return i, nil }); got != i || err != nil {
			t.Fatalf("%d is %d (%v)", i, got, err)
		}
		if len(kept) > most {
			t.Fatalf("%d are kept", len(kept))
		}
	}
}
