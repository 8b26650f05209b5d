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
		db := bare(b, "sqlite", "file:"+filepath.Join(b.TempDir(), "bare.db")+"?_pragma=journal_mode(WAL)&_pragma=synchronous(FULL)")
		against(b, db, filled(b, b.TempDir(), writers))
	})
	b.Run("PostgreSQL", func(b *testing.B) {
		s := postgres(b)
		against(b, bare(b, "pgx", s.fresh(b)), filled(b, s.fresh(b), writers))
	})
}

const (
	writers = 300
	rounds  = 10 // in turns, so that whatever else the disk does falls on both
)

func bare(b *testing.B, driver, where string) *sql.Stmt {
	b.Helper()
	db, err := sql.Open(driver, where)
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { db.Close() })
	db.SetMaxOpenConns(1)
	if _, err := db.Exec("CREATE TABLE bare (id TEXT PRIMARY KEY, answers TEXT NOT NULL)"); err != nil {
		b.Fatal(err)
	}
	insert, err := db.Prepare("INSERT INTO bare (id, answers) VALUES ($1, $2)")
	if err != nil {
		b.Fatal(err)
	}
	return insert
}

// against reports how many hand-ins and how many bare rows were kept in a second, and what one has to the other.
func against(b *testing.B, insert *sql.Stmt, s *store.Store) {
	b.Helper()
	answers := fmt.Sprint(sixParts(0, "k").Answers)
	rows, bareTime, ours := 0, time.Duration(0), time.Duration(0)
	var waits []time.Duration
	done := 0
	for round := range rounds {
		start := time.Now()
		for ; time.Since(start) < 200*time.Millisecond; rows++ {
			if _, err := insert.Exec(store.NewID(), answers); err != nil {
				b.Fatal(err)
			}
		}
		bareTime += time.Since(start)
		start = time.Now()
		upTo := b.N * (round + 1) / rounds
		waits = append(waits, handIns(b, s, done, upTo)...)
		ours, done = ours+time.Since(start), upTo
	}
	slices.Sort(waits)
	rate, perSecond := float64(rows)/bareTime.Seconds(), float64(b.N)/ours.Seconds()
	b.ReportMetric(perSecond, "hand-ins/s")
	b.ReportMetric(rate, "bare-rows/s")
	b.ReportMetric(perSecond/rate, "ratio")
	b.ReportMetric(float64(waits[len(waits)*99/100].Microseconds())/1000, "p99-ms")
	b.ReportMetric(0, "ns/op")
}

// handIns are those of the numbers given, by all pupils at once; it returns how long each took.
func handIns(b *testing.B, s *store.Store, from, upTo int) (waits []time.Duration) {
	b.Helper()
	var next atomic.Int64
	next.Store(int64(from))
	var mu sync.Mutex
	var wg sync.WaitGroup
	for w := range writers {
		wg.Go(func() {
			var mine []time.Duration
			for i := next.Add(1); i <= int64(upTo); i = next.Add(1) {
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
	return waits
}
