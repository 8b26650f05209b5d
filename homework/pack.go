package homework

import (
	"errors"
	"fmt"
	"strings"

	"steelyard/answer"
	"steelyard/mark"
	"steelyard/sheet"
	"steelyard/slip"
)

// An askedOnce finds questions ready to be shown, each made once.
type askedOnce map[string]*Asked

func (a askedOnce) of(text string) (*Asked, error) {
	if a[text] == nil {
		made, err := Ask(text)
		if err != nil {
			return nil, err
		}
		a[text] = made
	}
	return a[text], nil
}

// paperOf is a set with the numbers of one pupil, as it is printed; an empty ID takes the questions as they stand.
func (s *Set) paperOf(asked askedOnce, p Pupil, numbers []Numbers) (sheet.Set, error) {
	out := sheet.Set{Title: s.Title, Pupil: p.Name, Code: codeOf(p.ID)}
	out.Size = p.Access.printed()
	for i := range s.Items {
		a, err := asked.of(s.TextFor(i, p.ID, numbers))
		if err != nil {
			return out, fmt.Errorf("question %d: %w", i+1, err)
		}
		it, err := a.Item()
		if err != nil {
			return out, fmt.Errorf("question %d: %w", i+1, err)
		}
		if p.Access.Description {
			it.Wording = append(append([]string{}, it.Wording...), "The picture: "+a.PictureText)
		}
		out.Items = append(out.Items, it)
	}
	return out, nil
}

// codeOf is a short mark of a pupil for the foot of a sheet, so that one without a name can be traced.
func codeOf(id string) string {
	if id == "" {
		return ""
	}
	return "sheet " + id[:min(len(id), 6)]
}

// Sheets prints question sheets for paper, one for each pupil whom the set is for, in class order, with their numbers
// and in their size of print. Tinted paper is for the teacher to put in.
func Sheets(s *Set, pupils []Pupil, numbers []Numbers, o sheet.Options) ([]byte, error) {
	asked := askedOnce{}
	var sets []sheet.Set
	for _, p := range s.Pupils(pupils) {
		one, err := s.paperOf(asked, p, numbers)
		if err != nil {
			return nil, fmt.Errorf("the sheet of %s: %w", p.Name, err)
		}
		sets = append(sets, one)
	}
	if len(sets) == 0 {
		return nil, errors.New("the set is for nobody who is in the class; choose pupils, or add some to the class")
	}
	return sheet.Booklet(s.Title, sets, o)
}

// SolutionSheet prints worked solutions with the numbers of one pupil, or of the questions as they stand.
func SolutionSheet(s *Set, p Pupil, numbers []Numbers, o sheet.Options) ([]byte, error) {
	one, err := s.paperOf(askedOnce{}, p, numbers)
	if err != nil {
		return nil, err
	}
	one.Pupil = ""
	return sheet.Solutions(one, o)
}

// notTheirs stands on hint cards that hold numbers where pupils have numbers of their own.
const notTheirs = "The question's numbers, not yours."

// HintCards prints the ladders of hints of all questions as cards to cut out: with the numbers of one pupil, in that
// pupil's size of print; or for the whole class with the numbers of the questions as they stand, and a word about that on
// the few cards that hold numbers.
func HintCards(s *Set, p Pupil, numbers []Numbers, o sheet.Options) ([]byte, error) {
	if size := p.Access.printed(); size > 0 {
		o.Size = size
	}
	var packs []sheet.Pack
	for i := range s.Items {
		a, err := Ask(s.TextFor(i, p.ID, numbers))
		if err != nil {
			return nil, fmt.Errorf("question %d: %w", i+1, err)
		}
		pack, err := a.Cards()
		if err != nil {
			return nil, fmt.Errorf("question %d: %w", i+1, err)
		}
		pack.Number = i + 1
		if s.Items[i].Own && p.ID == "" {
			pack.Note = notTheirs
		}
		packs = append(packs, pack)
	}
	return sheet.Cards(s.Title, packs, o)
}

// SchemeSheet prints the mark scheme; where pupils have numbers of their own, everyone's answers stand before it.
func SchemeSheet(s *Set, pupils []Pupil, numbers []Numbers, o sheet.Options) ([]byte, error) {
	class := s.Pupils(pupils)
	asked := askedOnce{}
	first := Pupil{}
	if len(class) > 0 {
		first = Pupil{ID: class[0].ID, Name: class[0].Name}
	}
	one, err := s.paperOf(asked, first, numbers)
	if err != nil {
		return nil, err
	}
	one.Pupil, one.Code = "", ""
	var columns []Column
	for i := range s.Items {
		if !s.Items[i].Own || len(class) == 0 {
			continue
		}
		more, err := s.everyone(asked, i, class, numbers)
		if err != nil {
			return nil, fmt.Errorf("question %d: %w", i+1, err)
		}
		columns = append(columns, more...)
	}
	if len(columns) == 0 {
		return sheet.Scheme(one, o)
	}
	names := make([]string, len(class))
	for n := range class {
		names[n] = class[n].Name
	}
	note := fmt.Sprintf("Everyone's answers, where pupils have numbers of their own. The scheme after this page has the numbers of %s; the method is the same for all.", first.Name)
	return sheet.SchemeWithKey(one, KeyOf(note, names, columns), o)
}

// everyone is everyone's answers to one item.
func (s *Set) everyone(asked askedOnce, item int, class []Pupil, numbers []Numbers) ([]Column, error) {
	rows := make([]Answered, len(class))
	var plan *slip.Plan
	for n, p := range class {
		a, err := asked.of(s.TextFor(item, p.ID, numbers))
		if err != nil {
			return nil, fmt.Errorf("the numbers of %s: %w", p.Name, err)
		}
		if plan == nil {
			solved, err := a.Solution()
			if err != nil {
				return nil, err
			}
			if plan, err = slip.NewPlan(a.Answers, solved); err != nil {
				return nil, err
			}
		}
		rows[n] = Answered{Name: p.Name, Answers: a.Answers, Shown: shownBy(plan, a.Answers)}
	}
	columns := Columns(plan, rows)
	for i := range columns {
		columns[i].Name = fmt.Sprintf("%d%s", item+1, columns[i].Name)
	}
	return columns, nil
}

// shownBy is one pupil's answers by slot of a plan, rounded as the question has it.
func shownBy(plan *slip.Plan, a *answer.Answers) []string {
	out := make([]string, len(plan.Slots))
	q := a.Layout.Question
	for k := range plan.Slots {
		t := &plan.Slots[k]
		u := answer.UnitFor(q, answer.Dimension(t.Unit))
		out[k] = answer.Round(t.Of(a), u, answer.Figures(q, q.Part(t.Part)), t.Way(plan.Answers))
	}
	return out
}

// PolicyInWords says how a set is marked, a rule to a sentence.
func (s *Set) PolicyInWords() ([]string, error) {
	p, err := mark.ParsePolicy(s.Policy)
	if err != nil {
		return nil, err
	}
	return p.InWords(), nil
}

// FileTitle is a title as the name of a file, without an ending: a to z and digits, the rest hyphens; or other, where none of
// these are in the title.
func FileTitle(title, other string) string {
	name := strings.Join(strings.FieldsFunc(strings.ToLower(title), func(r rune) bool {
		return (r < 'a' || r > 'z') && (r < '0' || r > '9')
	}), "-")
	if name == "" {
		return other
	}
	return strings.TrimSuffix(name[:min(len(name), 40)], "-")
}

// FileName is a name for a file of a set: "spring-sheets.pdf".
func (s *Set) FileName(what string) string { return FileTitle(s.Title, "set") + "-" + what }
