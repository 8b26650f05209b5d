package homework

import (
	"container/list"
	"fmt"
	"sync"
)

// What a marker keeps at most: some 70 MB in all. A key takes 200 to 500 kB and 2 to 40 ms to make; a question ready to be
// shown 140 kB and, but for those about limits, less than 1 ms; a hand-in of ten parts, marked, 36 kB.
const (
	mostKeys   = 64
	mostAsked  = 128
	mostMarked = 768
)

// A Marker marks hand-ins; it keeps the keys of the sets that it has met lately, questions ready to be shown, and
// what it made of hand-ins. It may be used by several goroutines at once.
type Marker struct {
	keys   recent[*kept[*key]]
	asked  recent[*kept[*Asked]]
	marked recent[*kept[marked]]
}

// NewMarker makes a marker.
func NewMarker() *Marker {
	return &Marker{keys: newRecent[*kept[*key]](mostKeys), asked: newRecent[*kept[*Asked]](mostAsked), marked: newRecent[*kept[marked]](mostMarked)}
}

// Forget drops what was made of hand-ins, as after pupils were erased: their work must not stay in memory. What is asked
// for again is marked again.
func (m *Marker) Forget() {
	m.marked.clear()
}

// A kept value is made once, however many ask for it at the same time.
type kept[V any] struct {
	once  sync.Once
	value V
	err   error
}

// once finds what is kept under a name, or makes it.
func once[V any](r *recent[*kept[V]], name string, make func() (V, error)) (V, error) {
	k := r.find(name, func() *kept[V] { return new(kept[V]) })
	k.once.Do(func() {
		defer func() { // what is half made must not be found later
			if fault := recover(); fault != nil {
				k.err = fmt.Errorf("the program has a fault (%v); please report it", fault)
			}
		}()
		k.value, k.err = make()
	})
	return k.value, k.err
}

// A recent keeps the values that were asked for last, up to a number.
type recent[V any] struct {
	lock  sync.Mutex
	most  int
	order *list.List // of *entry[V], the last asked for first
	at    map[string]*list.Element
}

type entry[V any] struct {
	name  string
	value V
}

func newRecent[V any](most int) recent[V] {
	return recent[V]{most: most, order: list.New(), at: map[string]*list.Element{}}
}

func (r *recent[V]) find(name string, make func() V) V {
	r.lock.Lock()
	defer r.lock.Unlock()
	if e := r.at[name]; e != nil {
		r.order.MoveToFront(e)
		return e.Value.(*entry[V]).value
	}
	v := make()
	r.at[name] = r.order.PushFront(&entry[V]{name, v})
	if r.order.Len() > r.most {
		last := r.order.Back()
		r.order.Remove(last)
		delete(r.at, last.Value.(*entry[V]).name)
	}
	return v
}

// Ask makes a question ready to be shown, or finds it ready.
func (m *Marker) Ask(text string) (*Asked, error) {
	return once(&m.asked, text, func() (*Asked, error) { return Ask(text) })
}

func (r *recent[V]) clear() {
	r.lock.Lock()
	defer r.lock.Unlock()
	r.order.Init()
	clear(r.at)
}
