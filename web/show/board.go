package show

import (
	"net/http"
	"slices"
	"strconv"

	"steelyard/draw"
	"steelyard/figure"
	"steelyard/formula"
	talk "steelyard/show"
	"steelyard/web/page"
)

// A sight is one step as a page shows it.
type sight struct {
	*talk.Talk
	page.Question
	N     int  // of the step, from 0
	Notes bool // the second window
}

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
	return page.Write(w, r, v, http.StatusOK, page.Page{Title: s.Step().Title + " · " + s.Talk.Title, Here: "questions", Wide: true, Bare: true,
		Styles: []string{"show.css"}, Scripts: []string{"show.js"}, Body: boardPage(s)})
}

// notes shows what to say, and what comes next, in a second window.
func (d *desk) notes(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	s, err := d.sightOf(r)
	if err != nil {
		return err
	}
	s.Notes = true
	return page.Write(w, r, v, http.StatusOK, page.Page{Title: "What to say: " + s.Step().Title + " · " + s.Talk.Title, Here: "questions", Wide: true, Bare: true,
		Styles: []string{"show.css"}, Scripts: []string{"show.js"}, Body: notesPage(s)})
}

func (d *desk) sightOf(r *http.Request) (sight, error) {
	q, err := d.Question(r)
	if err != nil {
		return sight{}, err
	}
	t, err := d.talks.talkOf(q.Text)
	if err != nil {
		return sight{}, err
	}
	n := 0
	if id := r.PathValue("part"); id != "" {
		if n = slices.IndexFunc(t.Steps, func(s talk.Step) bool { return s.ID == id }); n < 0 {
			return sight{}, page.NotFound
		}
	}
	return sight{Talk: t, Question: q, N: n}, nil
}

// Step is the step that is shown.
func (s sight) Step() *talk.Step { return &s.Steps[s.N] }

// at is the address of a step, in the window that the viewer is in.
func (s sight) at(n int) string {
	if n < 0 || n >= len(s.Steps) {
		return ""
	}
	to := s.base() + "/" + s.Steps[n].ID
	if s.Notes {
		to += "/notes"
	}
	return to
}

// base is the address of the talk.
func (s sight) base() string { return "/show/" + s.From }

// other is the address of this step in the other window.
func (s sight) other() string {
	if s.Notes {
		return s.base() + "/" + s.Step().ID
	}
	return s.base() + "/" + s.Step().ID + "/notes"
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

// long says whether a line has a fraction that does not fit beside the picture: it is set smaller, and can be scrolled.
func long(n formula.Node) bool {
	if n.Op == formula.Over {
		return max(len([]rune(formula.Text(n.Args[0]))), len([]rune(formula.Text(n.Args[1])))) > 32
	}
	return slices.ContainsFunc(n.Args, long)
}

// mathematics is a line in pieces that it may break between, for the eye; words say it.
func mathematics(n formula.Node) []string { return formula.Pieces(n) }

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
