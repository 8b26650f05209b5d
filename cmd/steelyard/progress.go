package main

import (
	"fmt"
	"io"
	"os"
	"sync/atomic"
	"time"

	"github.com/vbauerster/mpb/v8"
	"github.com/vbauerster/mpb/v8/decor"
)

// A progress shows how far a long job is. It appears after a second, and only on a terminal.
type progress struct {
	out   io.Writer
	total int
	done  int
	start time.Time
	bars  *mpb.Progress
	bar   *mpb.Bar
}

func (s streams) progress(total int) *progress {
	return &progress{out: s.err, total: total, start: time.Now()}
}

func (p *progress) step() {
	p.done++
	if p.bar == nil && time.Since(p.start) > time.Second && isTerminal(p.out) {
		p.bars = mpb.New(mpb.WithOutput(p.out), mpb.WithWidth(40))
		p.bar = p.bars.AddBar(int64(p.total),
			mpb.PrependDecorators(decor.CountersNoUnit("%d of %d pupils ")),
			mpb.AppendDecorators(decor.AverageETA(decor.ET_STYLE_GO)),
			mpb.BarRemoveOnComplete())
	}
	if p.bar != nil {
		p.bar.SetCurrent(int64(p.done))
	}
}

// end takes the bar away.
func (p *progress) end() {
	if p.bar != nil {
		p.bar.Abort(true)
		p.bars.Wait()
	}
}

// waiting shows that a job goes on whose start takes time before anything can be counted; tell says how far it is, and
// end takes all away. Like a progress it appears after a second, and only on a terminal.
func (s streams) waiting(words string) (tell func(done, of int), end func()) {
	if !isTerminal(s.err) {
		return nil, func() {}
	}
	var far atomic.Value
	far.Store(words)
	ended, gone := make(chan struct{}), make(chan struct{})
	go func() {
		defer close(gone)
		select {
		case <-ended:
			return
		case <-time.After(time.Second):
		}
		bars := mpb.New(mpb.WithOutput(s.err), mpb.WithWidth(40))
		bar := bars.AddSpinner(0,
			mpb.PrependDecorators(decor.Any(func(decor.Statistics) string { return far.Load().(string) + " " })),
			mpb.AppendDecorators(decor.Elapsed(decor.ET_STYLE_GO)),
			mpb.BarRemoveOnComplete())
		<-ended
		bar.Abort(true)
		bars.Wait()
	}()
	tell = func(done, of int) { far.Store(fmt.Sprintf("%s, %d of %d pupils", words, done, of)) }
	return tell, func() { close(ended); <-gone }
}

// isTerminal reports whether a person is watching.
func isTerminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	if !ok {
		return false
	}
	info, err := f.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0
}
