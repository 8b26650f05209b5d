package store_test

import (
	"bytes"
	"context"
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"
	"sync"
	"testing"
	"time"

	"steelyard/homework"
	"steelyard/store"
)

// What was acknowledged before a backup began is in it; of what came later, each pupil's hand-ins are there up to some moment,
// whole, and none without an earlier one of the same pupil.
func TestABackupUnderLoadIsTheStateOfOneMoment(t *testing.T) {
	databases(t, func(t *testing.T, fresh func() string) {
		s := filled(t, fresh(), stormPupils)
		var mu sync.Mutex
		said := map[string]bool{}
		ctx, stop := context.WithCancel(t.Context())
		var wg sync.WaitGroup
		for pupil := range stormPupils {
			wg.Go(func() {
				for n := 0; ctx.Err() == nil; n++ {
					key := fmt.Sprintf("%d.%d", pupil, n)
					if _, err := s.HandIn(ctx, pupilBy(pupil), sixParts(pupil, key)); err != nil {
						continue
					}
					mu.Lock()
					said[key] = true
					mu.Unlock()
				}
			})
		}
		var before [3][]string
		var taken [3]bytes.Buffer
		for i := range taken {
			time.Sleep(50*time.Millisecond + rand.N(50*time.Millisecond))
			mu.Lock()
			before[i] = slices.Collect(maps.Keys(said))
			mu.Unlock()
			if err := s.Backup(t.Context(), &taken[i]); err != nil {
				t.Fatal(err)
			}
		}
		stop()
		wg.Wait()
		for i := range taken {
			where := fresh()
			if err := store.Restore(t.Context(), &taken[i], where, nil); err != nil {
				t.Fatal(err)
			}
			restored := opened(t, where)
			n := kept(t, restored, before[i])
			withoutGaps(t, restored)
			noFaults(t, restored)
			t.Logf("%d acknowledged before the backup, %d in it", len(before[i]), n)
		}
	})
}

func withoutGaps(t *testing.T, s *store.Store) {
	t.Helper()
	for pupil := range stormPupils {
		list, err := s.HandInsBy(t.Context(), setID, pupilID(pupil))
		if err != nil {
			t.Fatal(err)
		}
		for i, h := range list {
			if want := fmt.Sprintf("%d.%d", pupil, len(list)-1-i); h.Key != want {
				t.Errorf("%s stands where %s should", h.Key, want)
			}
		}
	}
}

func TestReadersAndWritersAtOnceSeeOnlyWhatIsWhole(t *testing.T) {
	databases(t, func(t *testing.T, fresh func() string) {
		s := filled(t, fresh(), stormPupils)
		var wg sync.WaitGroup
		ctx := t.Context()
		for pupil := range stormPupils {
			wg.Go(func() {
				for n := range 10 {
					key := fmt.Sprintf("%d.%d", pupil, n)
					d := homework.Draft{Set: setID, Pupil: pupilID(pupil), Answer: homework.Answer{Part: "a", Answer: key}, Rev: int64(n), At: now}
					if err := s.SaveDrafts(ctx, []homework.Draft{d}); err != nil {
						t.Error(err)
					}
					h, err := s.HandIn(ctx, pupilBy(pupil), sixParts(pupil, key))
					if err != nil {
						t.Error(err)
						continue
					}
					if err := s.SaveMarkings(ctx, h.ID, []homework.Marking{{Part: "a", Marks: n, Of: 10, Record: "{}"}}); err != nil {
						t.Error(err)
					}
				}
			})
		}
		for range 4 {
			wg.Go(func() {
				var last int64
				for range 40 {
					n, err := s.Changes(ctx, setID)
					if err != nil || n < last {
						t.Errorf("changes went from %d to %d: %v", last, n, err)
					}
					last = n
					seen := 0
					for h, err := range s.HandInsOf(ctx, setID) {
						if err != nil || len(h.Answers) != 6 {
							t.Errorf("got %v, %v", h, err)
						}
						seen++
					}
					if seen > stormPupils {
						t.Errorf("%d pupils have a last hand-in", seen)
					}
				}
			})
		}
		wg.Wait()
		markings, err := s.MarkingsOf(ctx, setID, "")
		if err != nil || len(markings) != stormPupils {
			t.Errorf("got %d markings, %v", len(markings), err)
		}
		for _, m := range markings {
			if m.Marks != 9 {
				t.Errorf("the markings of an earlier hand-in count: %v", m)
			}
		}
		noFaults(t, s)
	})
}
