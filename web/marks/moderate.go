package marks

import (
	"cmp"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"math"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"steelyard/store"
	"steelyard/web/page"
)

// A sample is the work that a second marker looks at: so many pupils' whole work, taken at random, and every part whose
// mark a teacher has changed.
//
// One in ten, and the measures of agreement: common practice, no source.
type sample struct {
	N      int // pupils taken at random
	Pieces []sampled
	Agree  agreement
}

// A sampled is one pupil's work in a sample.
type sampled struct {
	Row     *row
	Whole   bool  // taken at random, with all its parts
	Columns []int // the parts that are in the sample
	Done    int   // of them second marked
}

// An agreement is how far the second marks go with the first.
type agreement struct {
	Parts       int
	Same        int
	Mean        float64 // of second − first, marks a part
	Apart       float64 // mean size of the difference, marks a part
	Differences []difference
}

// A difference is a part that two people marked differently.
type difference struct {
	Row           *row
	Column        column
	First, Second int
	Changed       bool // the first mark is a teacher's
	By            string
}

// oneInTen is the usual size of a sample, but not fewer than three.
func oneInTen(handedIn int) int { return min(handedIn, max(3, (handedIn+9)/10)) }

// sample takes a sample of n pupils. The same set gives the same pupils, and a larger sample has those of a smaller one.
func (b *book) sample(n int, second []store.SecondMark) (s sample) {
	type drawn struct {
		order string
		row   int
	}
	var list []drawn
	for i := range b.Rows {
		if b.Rows[i].HandIn != nil {
			sum := sha256.Sum256([]byte("second marking" + b.Set.ID + b.Rows[i].Pupil.ID))
			list = append(list, drawn{hex.EncodeToString(sum[:]), i})
		}
	}
	slices.SortFunc(list, func(x, y drawn) int { return cmp.Compare(x.order, y.order) })
	s.N = min(n, len(list))
	for k, d := range list {
		x := sampled{Row: &b.Rows[d.row], Whole: k < s.N}
		for c := range b.Columns {
			if x.Whole || x.Row.Cells[c].Decision != nil {
				x.Columns = append(x.Columns, c)
			}
		}
		if len(x.Columns) > 0 {
			s.Pieces = append(s.Pieces, x)
		}
	}
	s.compare(b, second)
	return s
}

// compare holds second marks against those that count; a piece is done when all its parts are.
func (s *sample) compare(b *book, second []store.SecondMark) {
	sum, size := 0, 0
	for i := range s.Pieces {
		p := &s.Pieces[i]
		for _, c := range p.Columns {
			m := secondOf(b, second, p.Row, c)
			first, ok := p.Row.Cells[c].marks()
			if m == nil || !ok {
				continue
			}
			p.Done++
			s.Agree.Parts++
			d := m.Mark - first
			if d == 0 {
				s.Agree.Same++
				continue
			}
			sum, size = sum+d, size+max(d, -d)
			s.Agree.Differences = append(s.Agree.Differences, difference{p.Row, b.Columns[c], first, m.Mark, p.Row.Cells[c].Decision != nil, m.By})
		}
	}
	s.Agree.Mean, s.Agree.Apart = math.NaN(), math.NaN()
	if n := float64(s.Agree.Parts); n > 0 {
		s.Agree.Mean, s.Agree.Apart = float64(sum)/n, float64(size)/n
	}
}

// secondOf is the last second mark of a part; nil if there is none.
func secondOf(b *book, second []store.SecondMark, r *row, column int) (out *store.SecondMark) {
	for i := range second {
		m := &second[i]
		if m.Pupil == r.Pupil.ID && m.Item == b.Columns[column].Item && m.Part == b.Columns[column].Part && r.HandIn != nil && m.HandIn == r.HandIn.ID {
			out = m
		}
	}
	return out
}

// moderate shows the sample and how far two markers agree.
func (m room) moderate(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	b, s, people, err := m.sampleOf(r.Context(), r)
	if err != nil {
		return err
	}
	return page.Write(w, r, v, http.StatusOK, b.page(b.Set.Title+": second marking", "Marks", moderatePage(b, &s, people)))
}

func (m room) sampleOf(ctx context.Context, r *http.Request) (*book, sample, map[string]string, error) {
	b, err := m.open(ctx, r.PathValue("set"), hidden(r))
	if err != nil {
		return nil, sample{}, nil, err
	}
	second, err := m.Store.SecondMarks(ctx, b.Set.ID)
	if err != nil {
		return nil, sample{}, nil, err
	}
	n, err := strconv.Atoi(r.FormValue("n"))
	if err != nil || n < 0 {
		n = oneInTen(b.in())
	}
	s := b.sample(n, second)
	people := map[string]string{}
	for _, d := range s.Agree.Differences {
		if err := m.know(ctx, people, d.By); err != nil {
			return nil, sample{}, nil, err
		}
	}
	return b, s, people, nil
}

// A blind is a pupil's work as a second marker gets it: without marks and verdicts.
type blind struct {
	Row    *row
	N      int
	Pieces []blindPiece
	Fault  string
}

type blindPiece struct {
	piece
	Scheme []string
	Typed  string // the mark in the form
	Fault  string
}

// second shows one pupil's work to a second marker.
func (m room) second(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	b, x, err := m.blind(r)
	if err != nil {
		return err
	}
	if err := m.Store.Note(r.Context(), m.By(v), "looked at work", r.PathValue("pupil")); err != nil {
		return err
	}
	return page.Write(w, r, v, http.StatusOK, b.page("Second marking: "+x.Row.Name, "Marks", secondPage(b, x)))
}

func (m room) blind(r *http.Request) (*book, *blind, error) {
	b, s, _, err := m.sampleOf(r.Context(), r)
	if err != nil {
		return nil, nil, err
	}
	k := slices.IndexFunc(s.Pieces, func(p sampled) bool { return p.Row.Pupil.ID == r.PathValue("pupil") })
	if k < 0 {
		return nil, nil, page.NotFound
	}
	p := s.Pieces[k]
	items, err := m.items(r.Context(), b, p.Row)
	if err != nil {
		return nil, nil, err
	}
	x := &blind{Row: p.Row, N: s.N}
	for _, c := range p.Columns {
		for _, q := range items[b.Columns[c].Item].Pieces {
			if q.Column == b.Columns[c] {
				scheme, err := m.scheme(b, q.Column.Item, items[q.Column.Item].Notation, q.Column.Part)
				if err != nil {
					return nil, nil, err
				}
				x.Pieces = append(x.Pieces, blindPiece{piece: q, Scheme: scheme})
			}
		}
	}
	return b, x, nil
}

// saveSecond keeps a second marker's marks.
func (m room) saveSecond(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	b, x, err := m.blind(r)
	if err != nil {
		return err
	}
	var list []store.SecondMark
	faults := 0
	for i := range x.Pieces {
		p := &x.Pieces[i]
		p.Typed = strings.TrimSpace(r.FormValue("mark-" + p.Column.name()))
		n, err := strconv.Atoi(p.Typed)
		if err != nil || n < 0 || n > p.Column.Of {
			p.Fault = fmt.Sprintf("type a whole number from 0 to %d", p.Column.Of)
			faults++
			continue
		}
		list = append(list, store.SecondMark{Set: b.Set.ID, Pupil: x.Row.Pupil.ID, HandIn: x.Row.HandIn.ID, Item: p.Column.Item, Part: p.Column.Part, Mark: n, By: v.ID, At: m.Now()})
	}
	if faults > 0 {
		x.Fault = counted(faults, "mark is", "marks are") + " missing or out of range; nothing is kept yet."
		return page.Write(w, r, v, http.StatusUnprocessableEntity, b.page(counted(faults, "thing", "things")+" to mend: second marking", "Marks", secondPage(b, x)))
	}
	if err := m.Store.SaveSecondMarks(r.Context(), m.By(v), b.Set.ID, list); err != nil {
		return err
	}
	return page.Go(w, r, fmt.Sprintf("/sets/%s/moderate?n=%d", b.Set.ID, x.N))
}

// signed writes a difference with its sign.
func signed(v float64) string {
	if math.IsNaN(v) {
		return "–"
	}
	s := fmt.Sprintf("%+.2f", v)
	return strings.Replace(s, "-", "−", 1)
}
