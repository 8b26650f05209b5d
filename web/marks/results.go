package marks

import (
	"context"
	"fmt"

	"steelyard/class"
	"steelyard/homework"
)

// results are what each pupil's work came to, in the order of the rows, under the names that the rows have. Pupils who
// have handed nothing in are left out. Where the class is kept plain nothing is said about slips.
func (m room) results(ctx context.Context, b *book) (list []class.Result, err error) {
	numbers, err := m.Store.NumbersOf(ctx, b.Set.ID)
	if err != nil {
		return nil, err
	}
	decisions, err := m.Store.DecisionsOf(ctx, b.Set.ID)
	if err != nil {
		return nil, err
	}
	for i := range b.Rows {
		r := &b.Rows[i]
		if r.HandIn == nil {
			continue
		}
		p := r.Pupil
		p.Name = r.Name
		x, err := m.Marker.Whole(&b.Set, numbers, *r.HandIn, decisions, p)
		if err != nil {
			return nil, fmt.Errorf("marking hand-in %s: %w", r.HandIn.ID, err)
		}
		if b.Class.Plain {
			x = homework.Plain(x)
		}
		list = append(list, x)
	}
	return list, nil
}

// before is the set that a class did before this one: the one that it follows, or else the last one given out before.
func (m room) before(ctx context.Context, h *homework.Set) (out homework.Set, ok bool, err error) {
	list, err := m.Store.SetsOf(ctx, h.Class)
	if err != nil {
		return out, false, err
	}
	for _, x := range list {
		switch {
		case x.ID == h.ID || x.Given.IsZero() || x.Practice != h.Practice:
		case x.ID == h.Follows:
			return x, true, nil
		case x.Given.Before(h.Given) && (!ok || x.Given.After(out.Given)):
			out, ok = x, true
		}
	}
	return out, ok, nil
}

// pictured is the picture of a class, with what has changed since the set before.
func (m room) pictured(ctx context.Context, b *book) (*pictured, error) {
	now, err := m.results(ctx, b.present())
	if err != nil {
		return nil, err
	}
	p := &pictured{}
	var earlier *class.Earlier
	set, ok, err := m.before(ctx, &b.Set)
	if err != nil {
		return nil, err
	}
	if ok {
		old, err := m.open(ctx, set.ID, b.Hidden)
		if err != nil {
			return nil, err
		}
		then, err := m.results(ctx, old.present())
		if err != nil {
			return nil, err
		}
		if len(then) > 0 {
			earlier, p.Before = class.EarlierOf(then), set.Title
		}
	}
	p.Class = class.PictureOf(now, earlier)
	p.draw()
	return p, nil
}
