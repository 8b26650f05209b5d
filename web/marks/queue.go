package marks

import (
	"cmp"
	"context"
	"crypto/sha256"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"time"

	"steelyard/homework"
	"steelyard/store"
	"steelyard/web/page"
)

// A bundle is one part of one or more pupils that the marker wants a person for, and that can be decided together.
type bundle struct {
	Column int
	Rows   []int
	Why    string // what is the same about several
}

// key names a bundle in an address, by its part and a pupil of it.
func (b *book) key(x bundle) string {
	return b.Columns[x.Column].name() + "." + b.Rows[x.Rows[0]].Pupil.ID
}

// bundles lists what waits, question by question, so that one way of marking is held all through; what most pupils
// have comes first, and the order of pupils is otherwise another one in each part.
//
// Question by question and shuffled: common practice, no source.
func (m room) bundles(ctx context.Context, b *book) ([]bundle, error) {
	numbers, err := m.Store.NumbersOf(ctx, b.Set.ID)
	if err != nil {
		return nil, err
	}
	decisions, err := m.Store.DecisionsOf(ctx, b.Set.ID)
	if err != nil {
		return nil, err
	}
	var waiting []homework.Part
	place := map[string]int{} // of a hand-in's row
	for i := range b.Rows {
		if b.Rows[i].asks() == 0 {
			continue
		}
		place[b.Rows[i].HandIn.ID] = i
		parts, err := m.Marker.Mark(&b.Set, numbers, *b.Rows[i].HandIn, decisions)
		if err != nil {
			return nil, fmt.Errorf("marking hand-in %s: %w", b.Rows[i].HandIn.ID, err)
		}
		waiting = append(waiting, parts...)
	}
	shuffle := func(p *homework.Part) string {
		sum := sha256.Sum256(fmt.Append(nil, p.HandIn, p.Item, p.Part.Part))
		return string(sum[:])
	}
	slices.SortFunc(waiting, func(x, y homework.Part) int { return cmp.Compare(shuffle(&x), shuffle(&y)) })
	var list []bundle
	for _, x := range homework.Similar(waiting) {
		of := bundle{Column: b.column(x.Item, x.Part), Why: x.Why}
		for _, p := range x.Parts {
			of.Rows = append(of.Rows, place[p.HandIn])
		}
		if of.Column >= 0 {
			list = append(list, of)
		}
	}
	return list, nil
}

// find finds the bundle that a key names, with that pupil first; the first bundle, if there is none.
func (b *book) find(list []bundle, key string) int {
	for n := range list {
		for k := range list[n].Rows {
			if b.key(bundle{Column: list[n].Column, Rows: list[n].Rows[k:]}) == key {
				rows := list[n].Rows
				first := rows[k]
				copy(rows[1:k+1], rows[:k])
				rows[0] = first
				return n
			}
		}
	}
	return 0
}

// A wanted page is one thing to decide, with what is like it.
type wantPage struct {
	Key          string
	N, Bundles   int // its place among what is decided at one stroke, from 1, and how many they are
	Parts, All   int // parts that wait, and parts that the marker asked about altogether
	Before, Then string
	Row          *row
	Piece        piece
	Item         itemOf
	Others       []other
	Why          string // what is the same about them
	Scheme       []string
	Mark, Reason string // of a form that came back
	Fault        string
	Last         *batch
}

// An other is a pupil whose work for the part is alike.
type other struct {
	Row    *row
	Key    string
	Typed  string // what they answered
	Line   string // the line in doubt
	Seen   string
	Ticked bool
}

// asked says why a person is wanted.
func (p *wantPage) asked() string {
	if d := p.Piece.Cell.Earlier; d != nil {
		return fmt.Sprintf("it was handed in again after you gave it %s", counted(d.Mark, "mark", "marks"))
	}
	return p.Piece.Record.whyAsked()
}

// A batch is what a teacher decided at one stroke.
type batch struct {
	ID        string // of its last decision
	Decisions []homework.Decision
	Words     string
}

// usualReason is what a pupil is told where the teacher writes nothing else.
const usualReason = "Your teacher has looked at this part."

// queue shows one thing to decide.
func (m room) queue(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	b, err := m.open(r.Context(), r.PathValue("set"), hidden(r))
	if err != nil {
		return err
	}
	p, err := m.wantPage(r.Context(), b, v, r.FormValue("at"))
	if err != nil {
		return err
	}
	return page.Write(w, r, v, http.StatusOK, b.page(b.Set.Title+": to decide", "Marks", queuePage(b, p)))
}

func (m room) wantPage(ctx context.Context, b *book, v *page.Viewer, at string) (*wantPage, error) {
	list, err := m.bundles(ctx, b)
	if err != nil {
		return nil, err
	}
	p := &wantPage{Parts: b.asks(), Bundles: len(list), Reason: usualReason}
	for i := range b.Rows {
		for _, c := range b.Rows[i].Cells {
			if c.Marking != nil && (c.Marking.Asks || c.Earlier != nil) {
				p.All++
			}
		}
	}
	if p.Last, err = m.lastBatch(ctx, b, v); err != nil || len(list) == 0 {
		return p, err
	}
	n := b.find(list, at)
	p.Key, p.N = b.key(list[n]), n+1
	if n > 0 {
		p.Before = b.key(list[n-1])
	}
	if n+1 < len(list) {
		p.Then = b.key(list[n+1])
	}
	return p, m.putPiece(ctx, b, p, list[n])
}

// putPiece reads the work in question and what is like it.
func (m room) putPiece(ctx context.Context, b *book, p *wantPage, x bundle) error {
	p.Row, p.Why = &b.Rows[x.Rows[0]], x.Why
	if b.Class.Plain {
		p.Why = "the same but for the numbers" // the reason may name a slip
	}
	items, err := m.items(ctx, b, p.Row)
	if err != nil {
		return err
	}
	c := b.Columns[x.Column]
	p.Item = items[c.Item]
	for _, q := range p.Item.Pieces {
		if q.Column == c {
			p.Piece = q
		}
	}
	if p.Scheme, err = m.scheme(b, c.Item, p.Item.Notation, c.Part); err != nil {
		return err
	}
	for _, row := range x.Rows[1:] {
		o, err := m.otherOf(ctx, b, row, x.Column)
		if err != nil {
			return err
		}
		p.Others = append(p.Others, o)
	}
	return nil
}

func (m room) otherOf(ctx context.Context, b *book, row, column int) (o other, err error) {
	if err := m.records(ctx, b, &b.Rows[row]); err != nil {
		return o, err
	}
	c := &b.Rows[row].Cells[column]
	o = other{Row: &b.Rows[row], Key: b.key(bundle{Column: column, Rows: []int{row}}), Seen: c.seen(), Ticked: true}
	if c.Marking == nil {
		return o, nil
	}
	rec, err := recordOf(c.Marking)
	o.Typed = rec.Answer.Text
	for _, l := range rec.Lines {
		if l.Verdict != "right" && l.Verdict != "statement" {
			o.Line = l.Text
			break
		}
	}
	return o, err
}

// lastBatch is what this teacher decided last for the set, within the last two hours, to be taken back.
func (m room) lastBatch(ctx context.Context, b *book, v *page.Viewer) (*batch, error) {
	list, err := m.Store.DecisionsOf(ctx, b.Set.ID)
	if err != nil {
		return nil, err
	}
	var out batch
	for _, d := range list {
		if d.By != v.ID || b.Now.Sub(d.At) > 2*time.Hour {
			continue
		}
		if n := len(out.Decisions); n > 0 && !together(&out.Decisions[n-1], &d) {
			out.Decisions = nil
		}
		out.ID, out.Decisions = d.ID, append(out.Decisions, d)
	}
	if len(out.Decisions) == 0 {
		return nil, nil
	}
	d := out.Decisions[0]
	out.Words = fmt.Sprintf("Kept: part %s, %s", column{Item: d.Item, Part: d.Part}.name(), counted(d.Mark, "mark", "marks"))
	if n := len(out.Decisions); n > 1 {
		out.Words += fmt.Sprintf(" for %d pupils", n)
	} else if r := b.row(d.Pupil); r != nil {
		out.Words += " for " + r.Name
	}
	return &out, nil
}

// together says whether two decisions were made at one stroke.
func together(x, y *homework.Decision) bool {
	return x.At.Equal(y.At) && x.Item == y.Item && x.Part == y.Part && x.Mark == y.Mark && x.Reason == y.Reason
}

// decide keeps a decision, for one pupil or for several whose work is alike.
func (m room) decide(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	ctx, set := r.Context(), r.PathValue("set")
	b, err := m.open(ctx, set, hidden(r))
	if err != nil {
		return err
	}
	name, pupil, _ := strings.Cut(r.FormValue("at"), ".")
	k := slices.IndexFunc(b.Columns, func(c column) bool { return c.name() == name })
	if k < 0 || b.row(pupil) == nil {
		return page.NotFound
	}
	mark, reason := r.FormValue("mark"), strings.TrimSpace(r.FormValue("reason"))
	if fault := faultOf(mark, reason, b.Columns[k].Of); fault != "" {
		return m.again(w, r, v, b, fault, http.StatusUnprocessableEntity)
	}
	n, _ := strconv.Atoi(strings.TrimSpace(mark))
	var list []homework.Decision
	people := map[string]string{}
	for _, id := range append([]string{pupil}, r.Form["with"]...) {
		row := b.row(id)
		if row == nil || row.HandIn == nil {
			return page.NotFound
		}
		c := row.Cells[k]
		if c.Decision != nil {
			if err := m.know(ctx, people, c.Decision.By); err != nil {
				return err
			}
		}
		if fault := clash(c, r.FormValue("seen-"+id), people); fault != "" {
			return m.again(w, r, v, b, row.Name+": "+fault, http.StatusConflict)
		}
		list = append(list, homework.Decision{ID: store.NewID(), Set: set, Pupil: id, HandIn: row.HandIn.ID,
			Item: b.Columns[k].Item, Part: b.Columns[k].Part, Mark: n, Reason: reason, By: v.ID, At: m.Now()})
	}
	for i := range list {
		list[i].At = list[0].At // one stroke, taken back at one stroke
	}
	if err := m.keep(ctx, v, b, list); err != nil {
		return err
	}
	return page.Go(w, r, "/sets/"+set+"/queue"+onward(r.FormValue("then")))
}

// keep keeps decisions. Where a colleague has decided the same between the look at what stands and the keeping, both are
// kept, and it is said.
func (m room) keep(ctx context.Context, v *page.Viewer, b *book, list []homework.Decision) error {
	if err := m.Store.Decide(ctx, m.By(v), list); err != nil {
		return err
	}
	now, err := m.Store.DecisionsOf(ctx, b.Set.ID)
	if err != nil {
		return err
	}
	type place struct {
		pupil, part string
		item        int
	}
	crossed := map[place]string{} // the decision that stood when this page looked
	for _, d := range list {
		crossed[place{d.Pupil, d.Part, d.Item}] = ""
		if c := b.row(d.Pupil).Cells[b.column(d.Item, d.Part)]; c.Decision != nil {
			crossed[place{d.Pupil, d.Part, d.Item}] = c.Decision.ID
		}
	}
	for _, d := range slices.Backward(now) {
		stood, ours := crossed[place{d.Pupil, d.Part, d.Item}]
		switch {
		case !ours || d.By == v.ID && d.At.Equal(list[0].At):
		case d.ID == stood || d.HandIn != b.row(d.Pupil).HandIn.ID:
			delete(crossed, place{d.Pupil, d.Part, d.Item}) // what comes before was there already
		case d.By != v.ID:
			return &page.Refusal{Status: http.StatusConflict, What: "a colleague decided the same part at the same moment",
				Mend: "both decisions are kept and the last one counts; open the pupil's work and see which it is"}
		}
	}
	return nil
}

// onward keeps the place in the queue after a decision.
func onward(then string) string {
	if then == "" {
		return ""
	}
	return "?at=" + url.QueryEscape(then)
}

// again shows the queue with what was wrong; what was typed stays.
func (m room) again(w http.ResponseWriter, r *http.Request, v *page.Viewer, b *book, fault string, status int) error {
	p, err := m.wantPage(r.Context(), b, v, r.FormValue("at"))
	if err != nil {
		return err
	}
	p.Fault, p.Mark = fault, r.FormValue("mark")
	if p.Key == r.FormValue("at") {
		p.Reason = strings.TrimSpace(r.FormValue("reason"))
		for i := range p.Others {
			p.Others[i].Ticked = slices.Contains(r.Form["with"], p.Others[i].Row.Pupil.ID)
		}
	}
	return page.Write(w, r, v, status, b.page(b.Set.Title+": to decide", "Marks", queuePage(b, p)))
}

// undo takes back what this teacher decided last; the part waits again, or has the decision that it had before.
func (m room) undo(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	ctx, set := r.Context(), r.PathValue("set")
	b, err := m.open(ctx, set, hidden(r))
	if err != nil {
		return err
	}
	last, err := m.lastBatch(ctx, b, v)
	if err != nil {
		return err
	}
	if last == nil || last.ID != r.FormValue("last") {
		return page.Go(w, r, "/sets/"+set+"/queue") // pressed twice, or on an old page: there is nothing to take back
	}
	ids := make([]string, len(last.Decisions))
	for i, d := range last.Decisions {
		ids[i] = d.ID
	}
	if err := m.Store.TakeBack(ctx, m.By(v), set, ids); err != nil {
		return err
	}
	d := last.Decisions[0]
	return page.Go(w, r, "/sets/"+set+"/queue"+onward(column{Item: d.Item, Part: d.Part}.name()+"."+d.Pupil))
}
