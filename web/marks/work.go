package marks

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"time"

	"steelyard/hint"
	"steelyard/homework"
	"steelyard/store"
	"steelyard/web/page"
)

// A piece is what one pupil handed in for one part.
type piece struct {
	Column  column
	Wording string
	Right   string // the right answer, with this pupil's numbers
	Answer  homework.Answer
	Cell    cell
	Record  record // empty while it is not marked
	Hints   int    // hints that the pupil has opened
}

// seen names what a page showed when a decision is made on it, so that a decision about something else is noticed.
func (p *piece) seen() string { return p.Cell.seen() }

// seen is the decision or the hand-in that a cell's mark comes from.
func (c cell) seen() string {
	switch {
	case c.Decision != nil:
		return c.Decision.ID
	case c.Marking != nil:
		return c.Marking.HandIn
	}
	return ""
}

// An itemOf is a question with one pupil's numbers and what they made of its parts.
type itemOf struct {
	N        int
	Title    string
	Text     []string
	Notation string // the question's text
	Drawing  string
	Pieces   []piece
}

// likely are the slips that the question's parts together suggest; the marker says the same of each.
func (it *itemOf) likely() []suspect {
	for i := range it.Pieces {
		if list := it.Pieces[i].Record.likely(); len(list) > 0 {
			return list
		}
	}
	return nil
}

// A workOf is all of one pupil's work for a set.
type workOf struct {
	Row           *row
	Before, After *row
	Items         []itemOf
	People        map[string]string // teachers' names
	History       []event

	Open, Mark, Reason, Fault string // a form that comes back
}

type event struct {
	At   time.Time
	What string
}

// work shows what a pupil handed in and what came of it. That a teacher has looked is kept.
func (m room) work(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	b, err := m.open(r.Context(), r.PathValue("set"), hidden(r))
	if err != nil {
		return err
	}
	o, err := m.workOf(r.Context(), b, r.PathValue("pupil"))
	if err != nil {
		return err
	}
	if err := m.Store.Note(r.Context(), m.By(v), "looked at work", r.PathValue("pupil")); err != nil {
		return err
	}
	o.Open = r.FormValue("part")
	return page.Write(w, r, v, http.StatusOK, b.page(o.Row.Name, "Marks", workPage(b, o)))
}

func (m room) workOf(ctx context.Context, b *book, pupil string) (*workOf, error) {
	i := slices.IndexFunc(b.Rows, func(r row) bool { return r.Pupil.ID == pupil })
	if i < 0 {
		return nil, page.NotFound
	}
	o := &workOf{Row: &b.Rows[i], People: map[string]string{}}
	if i > 0 {
		o.Before = &b.Rows[i-1]
	}
	if i+1 < len(b.Rows) {
		o.After = &b.Rows[i+1]
	}
	var err error
	if o.Items, err = m.items(ctx, b, o.Row); err != nil {
		return nil, err
	}
	if err := m.hints(ctx, b, o); err != nil {
		return nil, err
	}
	return o, m.past(ctx, b, o)
}

// hints counts the hints that a pupil has opened, as the history tells.
func (m room) hints(ctx context.Context, b *book, o *workOf) error {
	events, err := m.Store.History(ctx, o.Row.Pupil.ID, 2000)
	if err != nil {
		return fmt.Errorf("finding which hints were opened: %w", err)
	}
	for _, e := range events {
		n, ok := hint.ReadNote(e.What)
		if !ok || e.About != b.Set.ID || n.Item < 0 || n.Item >= len(o.Items) {
			continue
		}
		for i := range o.Items[n.Item].Pieces {
			if p := &o.Items[n.Item].Pieces[i]; p.Column.Part == n.Part {
				p.Hints = max(p.Hints, n.Rung)
			}
		}
	}
	return nil
}

// items are a pupil's questions with what they handed in.
func (m room) items(ctx context.Context, b *book, r *row) ([]itemOf, error) {
	if err := m.records(ctx, b, r); err != nil {
		return nil, err
	}
	numbers, err := m.Store.NumbersFor(ctx, b.Set.ID, r.Pupil.ID)
	if err != nil {
		return nil, err
	}
	list := make([]itemOf, len(b.Set.Items))
	for i := range list {
		text := b.Set.TextFor(i, r.Pupil.ID, numbers)
		a, err := m.Marker.Ask(text)
		if err != nil {
			return nil, fmt.Errorf("item %d of set %s for %s: %w", i, b.Set.ID, r.Pupil.ID, err)
		}
		it := itemOf{N: i, Title: a.Title, Text: a.Wording, Notation: text, Drawing: a.SVG(440, 0, false, fmt.Sprintf("q%d-", i))}
		for k := range a.Parts {
			p, err := pieceOf(b, r, i, a, k)
			if err != nil {
				return nil, err
			}
			it.Pieces = append(it.Pieces, p)
		}
		list[i] = it
	}
	return list, nil
}

func pieceOf(b *book, r *row, item int, a *homework.Asked, part int) (p piece, err error) {
	name := a.Parts[part].Name
	k := b.column(item, name)
	if k < 0 {
		return p, fmt.Errorf("item %d of set %s has no part %s but with the numbers of %s", item, b.Set.ID, name, r.Pupil.ID)
	}
	p = piece{Column: b.Columns[k], Wording: a.Parts[part].Text, Right: a.Answers.Results[part].Shown, Cell: r.Cells[k]}
	if r.HandIn != nil {
		for _, x := range r.HandIn.Answers {
			if x.Item == item && x.Part == name {
				p.Answer = x
			}
		}
	}
	if p.Cell.Marking != nil {
		p.Record, err = recordOf(p.Cell.Marking)
	}
	return p, err
}

// past tells what happened to a pupil's work: hand-ins and decisions, the newest first.
func (m room) past(ctx context.Context, b *book, o *workOf) error {
	hands, err := m.Store.HandInsBy(ctx, b.Set.ID, o.Row.Pupil.ID)
	if err != nil {
		return err
	}
	for i, h := range hands {
		what := "Handed in"
		if i < len(hands)-1 {
			what = "Handed in again"
		}
		o.History = append(o.History, event{h.At, what + ", receipt " + h.Receipt})
	}
	list, err := m.Store.DecisionsOf(ctx, b.Set.ID)
	if err != nil {
		return err
	}
	for _, d := range list {
		if d.Pupil != o.Row.Pupil.ID {
			continue
		}
		if err := m.know(ctx, o.People, d.By); err != nil {
			return err
		}
		o.History = append(o.History, event{d.At, decided(&d, o.People[d.By])})
	}
	slices.SortStableFunc(o.History, func(x, y event) int { return y.At.Compare(x.At) })
	return nil
}

func decided(d *homework.Decision, who string) string {
	part := column{Item: d.Item, Part: d.Part}.name()
	return fmt.Sprintf("%s gave part %s %s: %s", who, part, counted(d.Mark, "mark", "marks"), d.Reason)
}

// know looks a teacher's name up.
func (m room) know(ctx context.Context, people map[string]string, id string) error {
	if people[id] != "" {
		return nil
	}
	p, err := m.Store.Person(ctx, id)
	switch {
	case errors.Is(err, store.ErrNotFound):
		people[id] = "a colleague who has left"
	case err != nil:
		return err
	default:
		people[id] = p.Name
	}
	return nil
}

// override keeps a teacher's mark for one part.
func (m room) override(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	ctx, set, pupil := r.Context(), r.PathValue("set"), r.PathValue("pupil")
	b, err := m.open(ctx, set, hidden(r))
	if err != nil {
		return err
	}
	o, err := m.workOf(ctx, b, pupil)
	if err != nil {
		return err
	}
	o.Open, o.Mark, o.Reason = r.FormValue("part"), r.FormValue("mark"), strings.TrimSpace(r.FormValue("reason"))
	k := slices.IndexFunc(b.Columns, func(c column) bool { return c.name() == o.Open })
	if k < 0 || o.Row.HandIn == nil {
		return page.NotFound
	}
	status := http.StatusUnprocessableEntity
	if o.Fault = faultOf(o.Mark, o.Reason, b.Columns[k].Of); o.Fault == "" {
		if o.Fault = clash(o.Row.Cells[k], r.FormValue("seen"), o.People); o.Fault != "" {
			status = http.StatusConflict
		}
	}
	if o.Fault != "" {
		return page.Write(w, r, v, status, b.page(o.Row.Name, "Marks", workPage(b, o)))
	}
	mark, _ := strconv.Atoi(o.Mark)
	d := homework.Decision{ID: store.NewID(), Set: set, Pupil: pupil, HandIn: o.Row.HandIn.ID, Item: b.Columns[k].Item, Part: b.Columns[k].Part,
		Mark: mark, Reason: o.Reason, By: v.ID, At: m.Now()}
	if err := m.keep(ctx, v, b, []homework.Decision{d}); err != nil {
		return err
	}
	return page.Go(w, r, "/sets/"+set+"/marks/"+pupil+"#"+url.PathEscape(o.Open))
}

// faultOf says what is wrong with a mark and its reason; "" if nothing is.
func faultOf(mark, reason string, of int) string {
	n, err := strconv.Atoi(strings.TrimSpace(mark))
	switch {
	case err != nil || n < 0 || n > of:
		return fmt.Sprintf("%q is no mark here; type a whole number from 0 to %d.", mark, of)
	case reason == "":
		return "A decision needs a reason, since the pupil will read it; a few words are enough."
	case len(reason) > 1200:
		return "The reason is too long to be read; say it in one sentence."
	}
	return ""
}

// clash says what somebody else has done since the page was opened; "" if nothing.
func clash(c cell, seen string, people map[string]string) string {
	switch {
	case c.seen() == seen:
		return ""
	case c.Decision != nil:
		return fmt.Sprintf("In the meantime %s has given this part %s: “%s”. Nothing of yours is kept yet; keep your mark all the same, or leave it.",
			cmp.Or(people[c.Decision.By], "a colleague"), counted(c.Decision.Mark, "mark", "marks"), c.Decision.Reason)
	}
	return "In the meantime the pupil has handed in again. Nothing is kept yet; look at the new work first."
}

// typedMark and typedReason are what a form that came back was filled in with, or what it starts from.
func (o *workOf) typedMark(p *piece) string {
	if o.Open == p.Column.name() && o.Fault != "" {
		return o.Mark
	}
	if n, ok := p.Cell.marks(); ok {
		return strconv.Itoa(n)
	}
	return ""
}

func (o *workOf) typedReason(p *piece) string {
	if o.Open == p.Column.name() && o.Fault != "" {
		return o.Reason
	}
	return ""
}

// markOf is a part's mark as its heading says it.
func markOf(p *piece) string {
	n, ok := p.Cell.marks()
	if !ok {
		return fmt.Sprintf("of %d", p.Column.Of)
	}
	s := fmt.Sprintf("%d of %d", n, p.Column.Of)
	if p.Cell.asks() {
		s += ", waits for you"
	}
	return s
}

// markedAs says what the marker gave.
func markedAs(p *piece) string {
	if p.Cell.Marking == nil {
		return "not marked"
	}
	return fmt.Sprintf("the marker gave %d of %d", p.Cell.Marking.Marks, p.Cell.Marking.Of)
}
