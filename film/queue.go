package film

import (
	"bytes"
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"sync"
	"time"
)

// A Queue makes films one after another, as long as it is run, in a folder of its own. A voice stays there until its film is
// made; a film until it is fetched or dropped. Nothing stays longer than an hour after it was ordered, and no film is made
// for longer than half an hour.
type Queue struct {
	now  func() time.Time
	wake chan struct{} // has room for one

	mu     sync.Mutex
	folder string   // "" while the queue is not run
	ended  bool     // it was run, and is no more
	jobs   []*job   // as they were ordered
	coming []string // owners of orders whose voices are on their way
}

// An Order is a film that somebody wants.
type Order struct {
	Owner  string // the only one who may have it
	Film   *Film  // its Voice is left out
	Format Format
}

// A Stage is how far an order has come.
type Stage uint8

// The stages.
const (
	Waiting Stage = iota
	Making
	Ready
	Failed
)

// A State is what can be told of an order.
type State struct {
	ID     string
	Title  string
	Format Format
	Stage  Stage
	Place  int     // in the line, from 1, while it waits
	Done   float64 // from 0 to 1
	Size   int64   // bytes, once it is ready
}

type job struct {
	Order
	State
	until time.Time
	voice string // the file with the voice; "" if there is none
	file  string // the film's
	stop  context.CancelCauseFunc
	since time.Time // when its making began
}

// Keep is how long an order is kept at most.
const Keep = time.Hour

// What is taken at most.
const (
	ownersMost  = 3  // orders of one owner
	waitingMost = 12 // orders of all
	lengthMost  = time.Hour
	makingMost  = 30 * time.Minute
)

// errHangs ends the making of a film that takes too long.
var errHangs = fmt.Errorf("it was not made within %v", makingMost)

// Why an order is not taken.
var (
	ErrStopped    = errors.New("films are not made at the moment")
	ErrOwnersMost = fmt.Errorf("there are %d films of yours already", ownersMost)
	ErrLine       = fmt.Errorf("%d films wait already", waitingMost)
	ErrLong       = fmt.Errorf("it lasts longer than %.0f minutes", lengthMost.Minutes())
	ErrVoice      = errors.New("the voice is not a WAV file of one channel, 16 bits and 16 kHz that lasts as long as the film")
)

// NewQueue makes a queue that tells time by now.
func NewQueue(now func() time.Time) *Queue { return &Queue{now: now, wake: make(chan struct{}, 1)} }

// Add takes an order and gives its ID. The voice, nil if there is none, is read to its end: a WAV file, see ErrVoice. Errors are the
// five above, and those of reading and of the disk.
func (q *Queue) Add(o Order, voice io.Reader) (string, error) {
	j := &job{Order: o, State: State{ID: rand.Text(), Title: o.Film.Talk.Title, Format: o.Format}}
	if o.Film.Times.End > lengthMost {
		return "", ErrLong
	}
	if err := q.admit(o.Owner); err != nil {
		return "", err
	}
	defer q.arrived(o.Owner)
	if voice != nil {
		q.mu.Lock()
		folder := q.folder
		q.mu.Unlock()
		if folder == "" {
			return "", ErrStopped
		}
		j.voice = filepath.Join(folder, j.ID+".wav")
		if err := write(j.voice, voice, o.Film.Times.End); err != nil {
			os.Remove(j.voice)
			return "", err
		}
	}
	if err := q.enter(j); err != nil {
		os.Remove(j.voice)
		return "", err
	}
	select {
	case q.wake <- struct{}{}:
	default:
	}
	return j.ID, nil
}

// admit keeps a place for an order of the owner until it has arrived, or says why there is none.
func (q *Queue) admit(owner string) error {
	q.mu.Lock()
	defer q.mu.Unlock()
	q.forget()
	theirs, waiting := 0, len(q.coming)
	for _, other := range q.coming {
		if other == owner {
			theirs++
		}
	}
	for _, j := range q.jobs {
		if j.Owner == owner {
			theirs++
		}
		if j.Stage == Waiting {
			waiting++
		}
	}
	switch {
	case q.ended:
		return ErrStopped
	case theirs >= ownersMost:
		return ErrOwnersMost
	case waiting >= waitingMost:
		return ErrLine
	}
	q.coming = append(q.coming, owner)
	return nil
}

func (q *Queue) arrived(owner string) {
	q.mu.Lock()
	defer q.mu.Unlock()
	i := slices.Index(q.coming, owner)
	q.coming = slices.Delete(q.coming, i, i+1)
}

// enter puts a job into the line, if its voice has not gone with the folder.
func (q *Queue) enter(j *job) error {
	q.mu.Lock()
	defer q.mu.Unlock()
	if q.ended || j.voice != "" && filepath.Dir(j.voice) != q.folder {
		return ErrStopped
	}
	j.until = q.now().Add(Keep)
	q.jobs = append(q.jobs, j)
	return nil
}

// write writes a voice to a file that nobody else may read.
func write(path string, voice io.Reader, long time.Duration) error {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return fmt.Errorf("keeping the voice: %w", err)
	}
	defer f.Close()
	var header [44]byte
	switch n, err := io.ReadFull(voice, header[:]); {
	case errors.Is(err, io.EOF), errors.Is(err, io.ErrUnexpectedEOF) && n < len(header):
		return ErrVoice
	case err != nil:
		return err
	}
	if _, err := f.Write(header[:]); err != nil {
		return fmt.Errorf("keeping the voice: %w", err)
	}
	n, err := io.Copy(f, voice)
	if err != nil {
		return err
	}
	seconds := float64(n) / (2 * VoiceRate)
	if n > math.MaxUint32-36 || !bytes.Equal(header[:], waveHeader(uint32(n/2))) || math.Abs(seconds-long.Seconds()) > 0.1 {
		return ErrVoice
	}
	return f.Close()
}

// Owner is whose an order is; "" if there is none.
func (q *Queue) Owner(id string) string {
	q.mu.Lock()
	defer q.mu.Unlock()
	if j := q.job(id); j != nil {
		return j.Owner
	}
	return ""
}

// Of lists the orders of an owner, the first ordered first.
func (q *Queue) Of(owner string) []State {
	q.mu.Lock()
	defer q.mu.Unlock()
	q.forget()
	var list []State
	place := 0
	for _, j := range q.jobs {
		if j.Stage == Waiting || j.Stage == Making {
			place++
		}
		if j.Owner == owner {
			s := j.State
			if s.Stage == Waiting {
				s.Place = place
			}
			list = append(list, s)
		}
	}
	return list
}

// Open opens a film that is ready. The error is os.ErrNotExist if there is none.
func (q *Queue) Open(id string) (*os.File, State, error) {
	q.mu.Lock()
	defer q.mu.Unlock()
	j := q.job(id)
	if j == nil || j.Stage != Ready {
		return nil, State{}, os.ErrNotExist
	}
	f, err := os.Open(j.file)
	return f, j.State, err
}

// Drop forgets an order and removes its files; what is being made of it is ended.
func (q *Queue) Drop(id string) {
	q.mu.Lock()
	defer q.mu.Unlock()
	q.drop(func(j *job) bool { return j.ID == id })
}

// job finds a job; nil if there is none.
func (q *Queue) job(id string) *job {
	q.forget()
	if i := slices.IndexFunc(q.jobs, func(j *job) bool { return j.ID == id }); i >= 0 {
		return q.jobs[i]
	}
	return nil
}

// forget drops what has been kept long enough, and ends what has been made for too long.
func (q *Queue) forget() {
	now := q.now()
	q.drop(func(j *job) bool { return !now.Before(j.until) })
	for _, j := range q.jobs {
		if j.Stage == Making && now.Sub(j.since) >= makingMost {
			j.stop(errHangs)
		}
	}
}

func (q *Queue) drop(which func(*job) bool) {
	q.jobs = slices.DeleteFunc(q.jobs, func(j *job) bool {
		if !which(j) {
			return false
		}
		if j.stop != nil {
			j.stop(nil)
		}
		for _, file := range []string{j.voice, j.file} {
			if file != "" {
				os.Remove(file)
			}
		}
		return true
	})
}

// Run makes films until the context ends, in a folder of this run within the one that is given, which several programs may
// share: what is left over there from programs that were killed is removed first, and all that was made is removed at the
// end. Failed is told of films that could not be made.
func (q *Queue) Run(ctx context.Context, folder string, failed func(id string, err error)) error {
	at, err := settle(folder)
	q.mu.Lock()
	q.folder, q.ended = at.own, err != nil
	if err != nil {
		q.drop(func(*job) bool { return true })
	}
	q.mu.Unlock()
	if err != nil {
		return err
	}
	defer func() {
		q.mu.Lock()
		defer q.mu.Unlock()
		q.folder, q.ended = "", true
		q.drop(func(*job) bool { return true })
		at.leave()
	}()
	go q.watch(ctx)
	for ctx.Err() == nil {
		if j, within := q.next(ctx, at.own); j != nil {
			err := j.make(within, q.progress(j))
			if gone := q.made(j, err); err != nil && !gone && ctx.Err() == nil {
				failed(j.ID, err)
			}
			continue
		}
		select {
		case <-ctx.Done():
		case <-q.wake:
		}
	}
	return nil
}

// watch looks every second whether something has been kept or made for too long: ffmpeg may hang, and nobody look.
func (q *Queue) watch(ctx context.Context) {
	tick := time.NewTicker(time.Second)
	defer tick.Stop()
	for {
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
			q.mu.Lock()
			q.forget()
			q.mu.Unlock()
		}
	}
}

// next is the job to be made next, with a context that ends when it is dropped; nil if none waits.
func (q *Queue) next(ctx context.Context, folder string) (*job, context.Context) {
	q.mu.Lock()
	defer q.mu.Unlock()
	q.forget()
	for _, j := range q.jobs {
		if j.Stage == Waiting {
			ctx, j.stop = context.WithCancelCause(ctx)
			j.Stage, j.since, j.file = Making, q.now(), filepath.Join(folder, j.ID+"."+string(j.Order.Format))
			return j, ctx
		}
	}
	return nil, nil
}

func (q *Queue) progress(j *job) func(float64) {
	return func(done float64) {
		q.mu.Lock()
		defer q.mu.Unlock()
		j.Done = done
	}
}

// make makes the film of a job, after whatever else the computer has to do.
func (j *job) make(ctx context.Context, progress func(float64)) error {
	program, err := exec.LookPath("ffmpeg")
	if err != nil {
		return ErrNoEncoder
	}
	command := []string{program}
	if nice, err := exec.LookPath("nice"); err == nil {
		command = []string{nice, "-n", "10", program}
	}
	f := &Film{Talk: j.Film.Talk, Times: j.Film.Times}
	if j.voice != "" {
		if f.Voice, err = os.ReadFile(j.voice); err != nil {
			return fmt.Errorf("reading the voice: %w", err)
		}
	}
	return f.encode(ctx, command, j.Order.Format, j.file, progress)
}

// made notes what came of a job and removes its voice. Gone says that it was dropped meanwhile.
func (q *Queue) made(j *job, err error) (gone bool) {
	q.mu.Lock()
	defer q.mu.Unlock()
	j.stop(nil)
	if j.voice != "" {
		os.Remove(j.voice)
		j.voice = ""
	}
	j.Film = nil // with its pictures it takes room
	if !slices.Contains(q.jobs, j) {
		os.Remove(j.file)
		return true
	}
	if j.Stage = Failed; err == nil {
		var info os.FileInfo
		if info, err = os.Stat(j.file); err == nil {
			j.Stage, j.Done, j.Size = Ready, 1, info.Size()
		}
	}
	return false
}
