package marks

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"steelyard/homework"
	"steelyard/question"
	"steelyard/store"
	"steelyard/web/page"
)

// A book is what a teacher's mark book has about one set: a line for each pupil, a column for each part.
type book struct {
	Set     homework.Set
	Class   homework.Class
	Columns []column
	Rows    []row
	Changes int64 // the store's count when it was read
	Hidden  bool  // pupils go by pseudonyms
	Now     time.Time
}

// A column is one part of one question.
type column struct {
	Item int
	Part string
	Of   int
}

// name is "1a", as people say it.
func (c column) name() string { return fmt.Sprint(c.Item+1, c.Part) }

// A row is a pupil's line.
type row struct {
	Pupil   homework.Pupil
	Name    string           // or pseudonym
	HandIn  *homework.HandIn // the last one; nil if there is none
	Cells   []cell           // by column
	Drafts  bool             // something is begun and not handed in
	Overdue bool             // it has closed for this pupil
	Apart   bool             // the pupil has left the class, or the set is for them no more: shown, and not counted
}

// A cell is how one part of one pupil stands.
type cell struct {
	Marking  *homework.Marking  // nil while it is not marked; its record is read where it is shown
	Decision *homework.Decision // the last one about this hand-in, which counts; nil if there is none
	Earlier  *homework.Decision // about an earlier hand-in: it waits for a new one
}

// asks says whether a person has still to look.
func (c cell) asks() bool {
	return c.Marking != nil && c.Decision == nil && (c.Marking.Asks || c.Earlier != nil)
}

// marks are those that count.
func (c cell) marks() (n int, ok bool) {
	switch {
	case c.Decision != nil:
		return c.Decision.Mark, true
	case c.Marking != nil:
		return c.Marking.Marks, true
	}
	return 0, false
}

// total is the sum of what is marked.
func (r *row) total() (sum int) {
	for _, c := range r.Cells {
		n, _ := c.marks()
		sum += n
	}
	return sum
}

// asks counts the parts that want a person.
func (r *row) asks() (n int) {
	for _, c := range r.Cells {
		if c.asks() {
			n++
		}
	}
	return n
}

// marked says whether every part is.
func (r *row) marked() bool {
	return r.HandIn != nil && !slices.ContainsFunc(r.Cells, func(c cell) bool { return c.Marking == nil && c.Decision == nil })
}

func (b *book) of() (sum int) {
	for _, c := range b.Columns {
		sum += c.Of
	}
	return sum
}

// asks counts what wants a person, over all pupils.
func (b *book) asks() (n int) {
	for i := range b.Rows {
		n += b.Rows[i].asks()
	}
	return n
}

// pupils counts those whom the set is for. Who has left and had handed in has a line of their own and is not counted,
// here or anywhere: one rule for all the numbers that are shown.
func (b *book) pupils() int { return len(b.Rows) - b.apart() }

// apart counts the lines of those who have left.
func (b *book) apart() (n int) {
	for i := range b.Rows {
		if b.Rows[i].Apart {
			n++
		}
	}
	return n
}

// in counts the pupils of the set who have handed in.
func (b *book) in() (n int) {
	for i := range b.Rows {
		if r := &b.Rows[i]; r.HandIn != nil && !r.Apart {
			n++
		}
	}
	return n
}

// present is the book without those who have left.
func (b *book) present() *book {
	out := *b
	out.Rows = slices.DeleteFunc(slices.Clone(b.Rows), func(r row) bool { return r.Apart })
	return &out
}

// open reads a set with all that belongs to it.
func (m room) open(ctx context.Context, set string, hidden bool) (*book, error) {
	h, err := m.Store.Set(ctx, set)
	if err != nil {
		return nil, found(err)
	}
	b := &book{Set: h, Hidden: hidden, Now: m.Now()}
	if b.Changes, err = m.Store.Changes(ctx, set); err != nil { // before the rest, so that nothing is missed
		return nil, err
	}
	if b.Class, err = m.Store.Class(ctx, h.Class); err != nil {
		return nil, found(err)
	}
	if b.Columns, err = columns(&h); err != nil {
		return nil, err
	}
	if err := m.fill(ctx, b); err != nil {
		return nil, err
	}
	return b, m.drafts(ctx, b)
}

// columns are the parts of a set's questions.
func columns(h *homework.Set) (list []column, err error) {
	for i, it := range h.Items {
		q, err := question.Parse("question.moments", it.Text)
		if err != nil {
			return nil, fmt.Errorf("reading item %d of set %s: %w", i, h.ID, err)
		}
		for _, p := range q.Parts {
			list = append(list, column{i, p.Name, p.Marks})
		}
	}
	return list, nil
}

// fill puts the pupils, hand-ins, markings and decisions in.
func (m room) fill(ctx context.Context, b *book) error {
	pupils, err := m.Store.Pupils(ctx, b.Set.Class)
	if err != nil {
		return err
	}
	hands := map[string]*homework.HandIn{}
	for h, err := range m.Store.HandInsOf(ctx, b.Set.ID) {
		if err != nil {
			return err
		}
		hands[h.Pupil] = &h
	}
	place := map[string]int{} // of a pupil's row
	for _, p := range pupils {
		if hands[p.ID] == nil && (!p.Left.IsZero() || !b.Set.IsFor(p)) {
			continue
		}
		b.Rows = append(b.Rows, row{Pupil: p, Name: p.Name, HandIn: hands[p.ID], Cells: make([]cell, len(b.Columns)),
			Apart: !p.Left.IsZero() || !b.Set.IsFor(p)})
	}
	if b.Hidden {
		b.hide()
	}
	slices.SortStableFunc(b.Rows, func(x, y row) int { return cmp.Compare(bit(x.Apart), bit(y.Apart)) })
	for i := range b.Rows {
		place[b.Rows[i].Pupil.ID] = i
	}
	return m.marksIn(ctx, b, place)
}

func bit(b bool) int {
	if b {
		return 1
	}
	return 0
}

// marksIn puts markings and decisions into their cells.
func (m room) marksIn(ctx context.Context, b *book, place map[string]int) error {
	at := map[column]int{}
	for i, c := range b.Columns {
		at[column{c.Item, c.Part, 0}] = i
	}
	put := func(pupil string, item int, part string) *cell {
		r, ok := place[pupil]
		k, is := at[column{item, part, 0}]
		if !ok || !is {
			return nil
		}
		return &b.Rows[r].Cells[k]
	}
	markings, err := m.Store.MarksOf(ctx, b.Set.ID)
	if err != nil {
		return err
	}
	for i := range markings {
		if c := put(markings[i].Pupil, markings[i].Item, markings[i].Part); c != nil {
			c.Marking = &markings[i]
		}
	}
	decisions, err := m.Store.DecisionsOf(ctx, b.Set.ID)
	if err != nil {
		return err
	}
	for i := range decisions {
		d := &decisions[i]
		c := put(d.Pupil, d.Item, d.Part)
		switch h := b.handIn(place, d.Pupil); {
		case c == nil || h == nil:
		case d.HandIn == h.ID:
			c.Decision = d
		default:
			c.Earlier = d
		}
	}
	return nil
}

// records reads what the marker said of a pupil's parts.
func (m room) records(ctx context.Context, b *book, r *row) error {
	list, err := m.Store.MarkingsOf(ctx, b.Set.ID, r.Pupil.ID)
	if err != nil {
		return err
	}
	for i := range list {
		if k := b.column(list[i].Item, list[i].Part); k >= 0 && r.HandIn != nil && list[i].HandIn == r.HandIn.ID {
			r.Cells[k].Marking = &list[i]
		}
	}
	return nil
}

func (b *book) handIn(place map[string]int, pupil string) *homework.HandIn {
	if r, ok := place[pupil]; ok {
		return b.Rows[r].HandIn
	}
	return nil
}

// drafts says who has begun and not handed in.
func (m room) drafts(ctx context.Context, b *book) error {
	for i := range b.Rows {
		r := &b.Rows[i]
		closes := b.Set.ClosesFor(r.Pupil)
		r.Overdue = r.HandIn == nil && !closes.IsZero() && b.Now.After(closes)
		if r.HandIn != nil {
			continue
		}
		list, err := m.Store.Drafts(ctx, b.Set.ID, r.Pupil.ID)
		if err != nil {
			return err
		}
		r.Drafts = slices.ContainsFunc(list, func(d homework.Draft) bool { return strings.TrimSpace(d.Answer.Answer+d.Working) != "" })
	}
	return nil
}

// hide gives pupils pseudonyms, as short as they can be told apart by, and takes the order of the class list away.
func (b *book) hide() {
	long := 4
	for ; long < 26; long++ {
		seen := map[string]bool{}
		for i := range b.Rows {
			seen[b.Rows[i].Pupil.ID[:min(long, len(b.Rows[i].Pupil.ID))]] = true
		}
		if len(seen) == len(b.Rows) {
			break
		}
	}
	for i := range b.Rows {
		b.Rows[i].Name = "Pupil " + strings.ToUpper(b.Rows[i].Pupil.ID[:min(long, len(b.Rows[i].Pupil.ID))])
	}
	slices.SortFunc(b.Rows, func(x, y row) int { return cmp.Compare(x.Name, y.Name) })
}

// row finds a pupil's line.
func (b *book) row(pupil string) *row {
	if i := slices.IndexFunc(b.Rows, func(r row) bool { return r.Pupil.ID == pupil }); i >= 0 {
		return &b.Rows[i]
	}
	return nil
}

// column finds a part; −1 if there is none.
func (b *book) column(item int, part string) int {
	return slices.IndexFunc(b.Columns, func(c column) bool { return c.Item == item && c.Part == part })
}

// found turns what isn't there into the page that says so.
func found(err error) error {
	if errors.Is(err, store.ErrNotFound) {
		return page.NotFound
	}
	return err
}
