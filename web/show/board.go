package show

import (
	"cmp"
	"net/http"
	"net/url"
	"slices"
	"strconv"

	"steelyard/draw"
	"steelyard/figure"
	talk "steelyard/show"
	"steelyard/web/page"
)

// A sight is one step as a page shows it.
type sight struct {
	*talk.Talk
	page.Question
	N     int    // of the step, from 0
	Notes bool   // the second window
	Stop  string // where pupils finish the arithmetic: the part's letter, or first; "" where they don't
	Other string // the step to go to for the whole talk, or for the one that stops: its ID
}

// An address may ask for the talk as far as the arithmetic of a part, "?stop=b", or as far as the first there is.
const stop, first = "stop", "first"

// board shows a step to the class.
func (d *desk) board(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	s, err := d.sightOf(r)
	if err != nil {
		return err
	}
	if to := r.URL.Query().Get("to"); to != "" {
		n, err := strconv.Atoi(to)
		if err != nil {
			n = 1
		}
		return page.Go(w, r, s.at(min(max(n, 1), len(s.Steps))-1))
	}
	return s.write(w, r, v, page.Page{Title: s.Step().Title + " · " + s.Talk.Title, Body: boardPage(s)})
}

// notes shows what to say, and what comes next, in a second window.
func (d *desk) notes(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	s, err := d.sightOf(r)
	if err != nil {
		return err
	}
	s.Notes = true
	return s.write(w, r, v, page.Page{Title: "What to say: " + s.Step().Title + " · " + s.Talk.Title, Body: notesPage(s)})
}

// write writes a page; an address of a step that the talk stops before leads to its last step.
func (s sight) write(w http.ResponseWriter, r *http.Request, v *page.Viewer, p page.Page) error {
	if id := r.PathValue("part"); id != "" && id != s.Step().ID {
		return page.Go(w, r, s.at(s.N))
	}
	p.Here, p.Wide, p.Bare, p.Styles, p.Scripts = "questions", true, true, []string{"show.css"}, []string{"show.js"}
	return page.Write(w, r, v, http.StatusOK, p)
}

func (d *desk) sightOf(r *http.Request) (sight, error) {
	q, err := d.Question(r)
	if err != nil {
		return sight{}, err
	}
	whole, err := d.talks.talkOf(q.Text)
	if err != nil {
		return sight{}, err
	}
	s := sight{Talk: whole, Question: q, Stop: r.URL.Query().Get(stop)}
	id := r.PathValue("part")
	n := max(stepNamed(whole, id), 0)
	stopped := whole.StoppedIn(cmp.Or(s.Stop, whole.Steps[n].Part))
	yours := len(stopped.Steps) - 1
	switch {
	case id == talk.Yours && stepNamed(stopped, id) >= 0:
		n = yours // of the whole talk, the arithmetic
	case id != "" && stepNamed(whole, id) < 0:
		return sight{}, page.NotFound
	}
	within := min(n, yours)
	s.N, s.Other = n, stopped.Steps[within].ID
	if s.Stop != "" {
		s.Talk, s.N, s.Other = stopped, within, whole.Steps[n].ID
	}
	return s, nil
}

func stepNamed(t *talk.Talk, id string) int {
	return slices.IndexFunc(t.Steps, func(s talk.Step) bool { return s.ID == id })
}

// Step is the step that is shown.
func (s sight) Step() *talk.Step { return &s.Steps[s.N] }

// at is the address of a step, in the window that the viewer is in.
func (s sight) at(n int) string {
	if n < 0 || n >= len(s.Steps) {
		return ""
	}
	return s.address(s.Steps[n].ID, s.Notes, s.Stop)
}

// address is that of a step in one of the windows.
func (s sight) address(id string, notes bool, stops string) string {
	to := s.base() + "/" + id
	if notes {
		to += "/notes"
	}
	if stops != "" {
		to += "?" + stop + "=" + url.QueryEscape(stops)
	}
	return to
}

// slides is the address of what can be taken away: of the part that is shown.
func (s sight) slides() string {
	to := "/slides/" + s.From
	if part := s.Step().Part; part != "" {
		to += "?" + stop + "=" + url.QueryEscape(part)
	}
	return to
}

// base is the address of the talk.
func (s sight) base() string { return "/show/" + s.From }

// other is the address of this step in the other window.
func (s sight) other() string { return s.address(s.Step().ID, !s.Notes, s.Stop) }

// switched is the address of this step in the whole talk, or in the one that stops in its part.
func (s sight) switched() string {
	if s.Stop != "" {
		return s.address(s.Other, s.Notes, "")
	}
	return s.address(s.Other, s.Notes, cmp.Or(s.Step().Part, first))
}

// switching says what switched does.
func (s sight) switching() string {
	switch part := s.Step().Part; {
	case s.Stop != "":
		return "Show the whole of it"
	case part != "":
		return "Stop before the arithmetic of (" + part + ")"
	}
	return "Stop before the arithmetic"
}

// picture is that of a step, wide enough for large letters.
func (s sight) picture(n int, id string) string {
	return string(draw.SVG(s.Picture(n, figure.Options{Width: 460, TextSize: 14, ID: id})))
}

// fresh says whether a line of a step is new in it.
func fresh(s *talk.Step, i int) bool { return i >= len(s.Lines)-s.New }

// above is how many lines have gone off the board, which holds six, or all that are new: steps before have them.
func above(s *talk.Step) int {
	const holds = 6
	if n := len(s.Lines); n > holds+1 {
		return n - max(holds, s.New)
	}
	return 0
}

// where says what is shown: of which question, and of which part.
func (s sight) where() string {
	if p := s.Step().Part; p != "" {
		return s.Talk.Title + ", part (" + p + ")"
	}
	return s.Talk.Title
}

// partName heads the steps of a part in the list.
func partName(s *talk.Step) string {
	switch {
	case s.Part != "":
		return "Part (" + s.Part + ")"
	case s.Kind == talk.Check:
		return "Check"
	}
	return "Beginning"
}

// A stretch is the steps of one part.
type stretch struct {
	Name     string
	From, To int
}

func (s sight) stretches() []stretch {
	var list []stretch
	for i := range s.Steps {
		name := partName(&s.Steps[i])
		if n := len(list); n > 0 && list[n-1].Name == name {
			list[n-1].To = i + 1
			continue
		}
		list = append(list, stretch{name, i, i + 1})
	}
	return list
}

func number(n int) string { return strconv.Itoa(n) }
