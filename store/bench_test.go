package store_test

import (
	"database/sql"
	"fmt"
	"path/filepath"
	"slices"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"steelyard/store"
)

// BenchmarkHandIns lets 300 pupils hand in six parts with working each, as fast as they are acknowledged, and holds that against
// the bare database on the same disk: one connection that commits one row of the same size after another. Both wait for the
// disk at each commit.
func BenchmarkHandIns(b *testing.B) {
	b.Run("SQLite", func(b *testing.B) {
		dir := b.TempDir()
		bare(b, "sqlite", "file:"+filepath.Join(b.TempDir(), "bare.db")+"?_pragma=journal_mode(WAL)&_pragma=synchronous(FULL)")
		handIns(b, filled(b, dir, 300))
	})
	b.Run("PostgreSQL", func(b *testing.B) {
		s := postgres(b)
		bare(b, "pgx", s.fresh(b))
		handIns(b, filled(b, s.fresh(b), 300))
	})
}

// rate is how many rows the bare database committed in a second.
var rate float64

func bare(b *testing.B, driver, where string) {
	b.Helper()
	db, err := sql.Open(driver, where)
	if err != nil {
		b.Fatal(err)
	}
	defer db.Close()
	db.SetMaxOpenConns(1)
	if _, err := db.Exec("CREATE TABLE bare (id TEXT PRIMARY KEY, answers TEXT NOT NULL)"); err != nil {
		b.Fatal(err)
	}
	insert, err := db.Prepare("INSERT INTO bare (id, answers) VALUES ($1, $2)")
	if err != nil {
		b.Fatal(err)
	}
	answers := fmt.Sprint(sixParts(0, "k").Answers)
	n, start := 0, time.Now()
	for ; time.Since(start) < time.Second; n++ {
		if _, err := insert.Exec(store.NewID(), answers); err != nil {
			b.Fatal(err)
		}
	}
	rate = float64(n) / time.Since(start).Seconds()
}

func handIns(b *testing.B, s *store.Store) {
	b.Helper()
	const writers = 300
	var next atomic.Int64
	var mu sync.Mutex
	var waits []time.Duration
	var wg sync.WaitGroup
	b.ResetTimer()
	for w := range writers {
		wg.Go(func() {
			var mine []time.Duration
			for i := next.Add(1); i <= int64(b.N); i = next.Add(1) {
				start := time.Now()
				if _, err := s.HandIn(b.Context(), pupilBy(w), sixParts(w, fmt.Sprint("k", i))); err != nil {
					b.Error(err)
				}
				mine = append(mine, time.Since(start))
			}
			mu.Lock()
			waits = append(waits, mine...)
			mu.Unlock()
		})
	}
	wg.Wait()
	b.StopTimer()
	slices.Sort(waits)
	perSecond := float64(b.N) / b.Elapsed().Seconds()
	b.ReportMetric(perSecond, "hand-ins/s")
	b.ReportMetric(rate, "bare-rows/s")
	b.ReportMetric(perSecond/rate, "ratio")
	b.ReportMetric(float64(waits[len(waits)*99/100].Microseconds())/1000, "p99-ms")
	b.ReportMetric(0, "ns/op")
}
