package marks

import (
	"context"
	"fmt"
	"net/http"
	"slices"
	"strconv"

	"steelyard/hint"
	"steelyard/homework"
	"steelyard/web/page"
)

// mostNotes is how many lines of a set's history are read for hints: forty pupils, thirty parts, a whole ladder for each.
const mostNotes = 15000

// opened is how many hints were opened, by pupil and then by column.
type opened map[string][]int

// hintsOf counts the hints that the pupils of a set have opened, as the history tells.
func (m room) hintsOf(ctx context.Context, b *book) (opened, error) {
	events, err := m.Store.History(ctx, b.Set.ID, mostNotes)
	if err != nil {
		return nil, fmt.Errorf("finding which hints were opened: %w", err)
	}
	o := opened{}
	for _, e := range events {
		n, ok := hint.ReadNote(e.What)
		if !ok || e.About != b.Set.ID {
			continue
		}
		i := slices.IndexFunc(b.Columns, func(c column) bool { return c.Item == n.Item && c.Part == n.Part })
		if i < 0 {
			continue
		}
		if o[e.Who] == nil {
			o[e.Who] = make([]int, len(b.Columns))
		}
		o[e.Who][i] = max(o[e.Who][i], n.Rung)
	}
	return o, nil
}

// of is what a pupil has opened for a column.
func (o opened) of(pupil string, column int) int {
	if list := o[pupil]; column < len(list) {
		return list[column]
	}
	return 0
}

// total is all that a pupil has opened.
func (o opened) total(pupil string) (n int) {
	for _, k := range o[pupil] {
		n += k
	}
	return n
}

// takers counts the pupils of the class who have opened a hint for a column.
func (o opened) takers(b *book, column int) (n int) {
	for i := range b.Rows {
		if !b.Rows[i].Apart && o.of(b.Rows[i].Pupil.ID, column) > 0 {
			n++
		}
	}
	return n
}

// most is the part that most pupils wanted hints for; "" where nobody has.
func (o opened) most(b *book) string {
	best, most := -1, 0
	for i := range b.Columns {
		if n := o.takers(b, i); n > most {
			best, most = i, n
		}
	}
	if best < 0 {
		return ""
	}
	c := b.Columns[best]
	return fmt.Sprintf("Most wanted for question %d (%s): %s of %s opened hints there.", c.Item+1, c.Part, strconv.Itoa(most), counted(b.pupils(), "pupil", "pupils"))
}

func number(n int) string {
	if n == 0 {
		return "–"
	}
	return strconv.Itoa(n)
}

// hinted reports whether a set has hints for its pupils.
func (b *book) hinted() bool { return b.Set.Show.Hints != homework.Never }

// hintTable shows how many hints each pupil has opened for each part.
func (m room) hintTable(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	b, err := m.open(r.Context(), r.PathValue("set"), hidden(r))
	if err != nil {
		return err
	}
	o, err := m.hintsOf(r.Context(), b)
	if err != nil {
		return err
	}
	p := b.page(b.Set.Title+": hints", "Marks", hintsPage(b, o))
	p.Wide = true
	return page.Write(w, r, v, http.StatusOK, p)
}
