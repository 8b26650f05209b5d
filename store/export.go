package store

import (
	"archive/zip"
	"context"
	_ "embed"
	"encoding/json"
	"html/template"
	"io"
	"slices"
	"strings"
	"time"

	"steelyard/account"
	"steelyard/homework"
)

// An export is all that is kept of a pupil.
type export struct {
	Pupil    exportedPupil
	Sets     []exportedSet
	Sessions []exportedSession
	History  []Event
}

type exportedPupil struct {
	ID, Name, Class, Source string
	Access                  homework.Access
	Left                    time.Time `json:",omitzero"`
	KeptTill                time.Time `json:",omitzero"`
}

type exportedSet struct {
	ID, Title string
	Given     time.Time
	Numbers   []homework.Numbers
	Drafts    []homework.Draft
	HandIns   []homework.HandIn
	Markings  []exportedMarking
	Decisions []exportedDecision
	Second    []SecondMark
}

type exportedDecision struct {
	homework.Decision
	TakenBack time.Time `json:",omitzero"`
}

// In an exported marking what the marker said is JSON, not text that holds JSON.
type exportedMarking struct {
	homework.Marking
	Record json.RawMessage
}

type exportedSession struct {
	Label            string
	Made, Seen, Ends time.Time
}

// ExportPupil writes all that is kept of a pupil as one zip: JSON to be read by programs, HTML to be read by people. Of the
// code there is only a hash, which would help nobody: it is left out.
func (s *Store) ExportPupil(ctx context.Context, by By, pupil string, w io.Writer) error {
	var e export
	err := s.snapshot(ctx, "reading what is kept of a pupil", func(t tx) (err error) {
		e, err = exportOf(t, pupil)
		return err
	})
	if err != nil {
		return err
	}
	if err := s.Note(ctx, by, "exported", pupil); err != nil {
		return err
	}
	return told(writeExport(w, e), "writing what is kept of a pupil")
}

func exportOf(t tx, pupil string) (e export, err error) {
	p, err := pupilByID(t, pupil)
	if err != nil {
		return e, err
	}
	class, err := classByID(t, p.Class)
	if err != nil {
		return e, err
	}
	e.Pupil = exportedPupil{p.ID, p.Name, class.Name, p.Source, p.Access, p.Left, class.KeepTill}
	sets, err := all(t, scanSet, "SELECT "+setColumns+" FROM sets WHERE class = $1 AND given > 0 ORDER BY given, id", p.Class)
	if err != nil {
		return e, err
	}
	for _, h := range sets {
		x, err := exportedOf(t, h, pupil)
		if err != nil {
			return e, err
		}
		if len(h.For) == 0 || slices.Contains(h.For, pupil) || len(x.HandIns)+len(x.Drafts)+len(x.Decisions) > 0 {
			e.Sets = append(e.Sets, x)
		}
	}
	err = each(t, scanSession, func(a account.Session) error {
		e.Sessions = append(e.Sessions, exportedSession{a.Label, a.Made, a.Seen, a.Ends})
		return nil
	}, "SELECT "+sessionColumns+" FROM sessions WHERE who = $1 ORDER BY made", pupil)
	if err != nil {
		return e, err
	}
	e.History, err = all(t, scanEvent, "SELECT "+eventColumns+" FROM history WHERE pupil = $1 OR who = $1 OR about = $1 ORDER BY n", pupil)
	return e, err
}

func exportedOf(t tx, h homework.Set, pupil string) (x exportedSet, err error) {
	x = exportedSet{ID: h.ID, Title: h.Title, Given: h.Given}
	if x.Numbers, err = all(t, scanNumbers, "SELECT "+numbersColumns+" FROM numbers WHERE set_id = $1 AND pupil = $2 ORDER BY item", h.ID, pupil); err != nil {
		return x, err
	}
	if x.Drafts, err = all(t, scanDraft, "SELECT "+draftColumns+" FROM drafts WHERE set_id = $1 AND pupil = $2 ORDER BY item, part", h.ID, pupil); err != nil {
		return x, err
	}
	if x.HandIns, err = all(t, scanHandIn, "SELECT "+handInColumns+" FROM hand_ins WHERE set_id = $1 AND pupil = $2 ORDER BY n", h.ID, pupil); err != nil {
		return x, err
	}
	err = each(t, scanMarking, func(m homework.Marking) error {
		record := json.RawMessage(m.Record)
		if !json.Valid(record) {
			record = json.RawMessage(asJSON(m.Record))
		}
		x.Markings = append(x.Markings, exportedMarking{m, record})
		return nil
	}, "SELECT "+markingColumns+" FROM markings m JOIN hand_ins h ON h.id = m.hand_in WHERE h.set_id = $1 AND h.pupil = $2 ORDER BY h.n, m.item, m.part", h.ID, pupil)
	if err != nil {
		return x, err
	}
	if x.Decisions, err = all(t, scanExported, strings.Replace(decisionsRead, " FROM", ", taken FROM", 1)+"WHERE set_id = $1 AND pupil = $2 ORDER BY n", h.ID, pupil); err != nil {
		return x, err
	}
	x.Second, err = all(t, scanSecond, "SELECT "+secondColumns+" FROM second_marks WHERE set_id = $1 AND pupil = $2 ORDER BY n", h.ID, pupil)
	return x, err
}

func scanExported(r row) (d exportedDecision, err error) {
	err = r.Scan(&d.ID, &d.Set, &d.Pupil, &d.HandIn, &d.Item, &d.Part, &d.Mark, &d.Reason, &d.By, at{&d.At}, at{&d.TakenBack})
	return d, err
}

//go:embed export.html
var exportText string

var exportPage = template.Must(template.New("export").Funcs(template.FuncMap{
	"when": func(t time.Time) string {
		if t.IsZero() {
			return "–"
		}
		return t.UTC().Format("2 January 2006, 15:04 UTC")
	},
	"count": func(n int) int { return n + 1 },
}).Parse(exportText))

func writeExport(w io.Writer, e export) error {
	z := zip.NewWriter(w)
	f, err := z.Create("pupil.json")
	if err != nil {
		return err
	}
	lines := json.NewEncoder(f)
	lines.SetIndent("", "  ")
	lines.SetEscapeHTML(false)
	if err := lines.Encode(e); err != nil {
		return err
	}
	if f, err = z.Create("pupil.html"); err != nil {
		return err
	}
	if err := exportPage.Execute(f, e); err != nil {
		return err
	}
	return z.Close()
}
