package classes

import (
	"bytes"
	"compress/gzip"
	"encoding/base64"
	"encoding/json"
	"errors"
	"io"
	"net/http"
	"strconv"

	"steelyard/homework"
	"steelyard/roster"
	"steelyard/store"
	"steelyard/web/page"
)

var (
	fileField  = page.Field{Name: "file", Label: "File of class lists", Hint: "A zip of at most 20 MB"}
	namesField = page.Field{Name: "names", Label: "Names", Hint: "One pupil to a line, or rows copied from a spreadsheet. Nicknames will do.", Lines: 12, Most: 100000, Autocomplete: "off"}
	tableField = page.Field{Name: "file", Label: "Or a file", Hint: "A spreadsheet saved as CSV, or a zip from the school's system (OneRoster)"}
)

// errForm is for a form that this program did not make.
var errForm = &page.Refusal{Status: 422, What: "The list got lost on the way", Mend: "Go back and read it once more."}

// Limits of a hidden field: classes of a school, and bytes of their names.
const (
	mostLists    = 3000
	mostUnpacked = 4 << 20
)

// mostNamed is how many classes a school's file may have for the names in them to be shown before one is picked.
const mostNamed = 40

// packLists writes lists for a hidden field of the page on which the teacher looks at them, so that nothing is stored
// before they say so.
func packLists(lists []roster.List) (string, error) {
	var to bytes.Buffer
	z := gzip.NewWriter(&to)
	if err := json.NewEncoder(z).Encode(lists); err != nil {
		return "", err
	}
	if err := z.Close(); err != nil {
		return "", err
	}
	return base64.StdEncoding.EncodeToString(to.Bytes()), nil
}

// unpackLists reads them back. It trusts nothing: the field has been in somebody's browser.
func unpackLists(s string) ([]roster.List, error) {
	b, err := base64.StdEncoding.DecodeString(s)
	if err != nil {
		return nil, errForm
	}
	z, err := gzip.NewReader(bytes.NewReader(b))
	if err != nil {
		return nil, errForm
	}
	d := json.NewDecoder(io.LimitReader(z, mostUnpacked))
	if t, err := d.Token(); err != nil || t != json.Delim('[') {
		return nil, errForm
	}
	var lists []roster.List
	for d.More() {
		var l roster.List
		if len(lists) == mostLists || d.Decode(&l) != nil || l.Check() != nil {
			return nil, errForm
		}
		lists = append(lists, l)
	}
	return lists, nil
}

// picked unpacks the lists of a form and finds the one that was chosen.
func picked(r *http.Request) (list roster.List, lists []roster.List, ok bool, err error) {
	lists, err = unpackLists(r.PostFormValue("lists"))
	if err != nil {
		return list, nil, false, err
	}
	i, err := strconv.Atoi(r.PostFormValue("pick"))
	if err != nil || i < 0 || i >= len(lists) {
		return list, lists, false, nil
	}
	return lists[i], lists, true, nil
}

// readFile is the file of a form; nil if none was chosen.
func readFile(r *http.Request) ([]byte, error) {
	f, _, err := r.FormFile("file")
	if errors.Is(err, http.ErrMissingFile) || errors.Is(err, http.ErrNotMultipart) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(f)
}

// readClasses reads a school's file for a class that is not here yet.
func (m *room) readClasses(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	b, err := readFile(r)
	if err != nil {
		return err
	}
	file := fileField
	var lists []roster.List
	switch {
	case len(b) == 0:
		file.Fault = "choose a file"
	case !roster.IsArchive(b):
		file.Fault = "this is no zip; to add names from a spreadsheet, make the class first"
	default:
		if lists, err = roster.ReadOneRoster(b, m.Now(), roster.Known{}); err != nil {
			file.Fault = err.Error()
		}
	}
	if file.Fault != "" {
		return m.sendNew(w, r, v, formOf(homework.Class{KeepTill: keepTill(m.Now())}), file)
	}
	return m.sendPick(w, r, v, nil, lists, "")
}

// sendPick shows the classes of a school's file, of which the teacher picks one; for a class that is here, or a new one.
func (m *room) sendPick(w http.ResponseWriter, r *http.Request, v *page.Viewer, c *homework.Class, lists []roster.List, fault string) error {
	packed, err := packLists(lists)
	if err != nil {
		return err
	}
	view := pickView{Lists: lists, Packed: packed, Field: page.Field{Name: "pick", Label: "Class", Fault: fault}, Action: "/classes/take", Pick: -1}
	p := page.Page{Here: "classes", Styles: styles, Scripts: scripts, Bare: true, Crumbs: []page.Crumb{{Name: "Classes", Href: "/classes"}, {Name: "New class", Href: "/classes/new"}}}
	if c != nil {
		view.Action, view.Existing = "/classes/"+c.ID+"/list/pick", true
		p.Crumbs = classCrumb(*c)
		for i := range lists {
			if c.Source != "" && lists[i].Source == c.Source {
				view.Pick = i
			}
		}
	}
	if len(lists) == 1 {
		view.Pick = 0
	}
	p.Title, p.Body = titled("Which class?", view.Field), pickPage(view)
	return page.Write(w, r, v, status(view.Field), p)
}

// A pickView is what stands on the page on which a class of a school's file is picked.
type pickView struct {
	Lists    []roster.List
	Packed   string
	Field    page.Field
	Action   string
	Existing bool
	Pick     int
}

// takeClass makes a class from one of a school's file.
func (m *room) takeClass(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	l, lists, ok, err := picked(r)
	if err != nil {
		return err
	}
	if !ok {
		return m.sendPick(w, r, v, nil, lists, "choose one of the classes")
	}
	name := plain(l.Title)
	if named(name, "", mostName) != "" {
		name = "New class"
	}
	c, err := m.makeClass(r, v, homework.Class{Name: name, Source: l.Source, KeepTill: keepTill(m.Now())})
	if err != nil {
		return err
	}
	if err := m.carryOut(r, v, c, roster.Compare(l, nil)); err != nil {
		return err
	}
	return page.Go(w, r, "/classes/"+c.ID)
}

func (m *room) newList(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	c, pupils, err := m.classAndPupils(r)
	if err != nil {
		return err
	}
	return m.sendList(w, r, v, c, len(pupils), namesField, tableField, false)
}

func (m *room) sendList(w http.ResponseWriter, r *http.Request, v *page.Viewer, c homework.Class, there int, names, file page.Field, whole bool) error {
	return page.Write(w, r, v, status(names, file), page.Page{Title: titled("Add pupils to "+c.Name, names, file), Here: "classes", Styles: styles, Scripts: scripts, Bare: true,
		Crumbs: classCrumb(c), Body: listPage(c, there, names, file, whole)})
}

// readList reads names or a file and shows what would change.
func (m *room) readList(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	c, pupils, err := m.classAndPupils(r)
	if err != nil {
		return err
	}
	b, err := readFile(r)
	if err != nil {
		return err
	}
	names, file := namesField, tableField
	names.Value = r.PostFormValue("names")
	whole := r.PostFormValue("whole") != ""
	switch {
	case len(b) > 0 && roster.IsArchive(b):
		lists, err := m.readArchive(r, v, b, pupils)
		if err == nil {
			return m.sendPick(w, r, v, &c, lists, "")
		}
		file.Fault = err.Error()
	case len(b) > 0:
		l, err := roster.ReadList(b)
		if l.Whole = whole; err == nil {
			return m.sendPlan(w, r, v, c, pupils, l)
		}
		file.Fault = err.Error()
	case plain(names.Value) != "":
		l, err := roster.ReadList([]byte(names.Value))
		if l.Whole = whole; err == nil {
			return m.sendPlan(w, r, v, c, pupils, l)
		}
		names.Fault = err.Error()
	default:
		names.Fault = "write or paste at least one name, or choose a file below"
	}
	return m.sendList(w, r, v, c, len(pupils), names, file, whole)
}

// readArchive reads a school's file, knowing the pupils of the class and the teacher's classes.
func (m *room) readArchive(r *http.Request, v *page.Viewer, b []byte, pupils []homework.Pupil) ([]roster.List, error) {
	known := roster.Known{Classes: map[string]bool{}, Pupils: map[string]bool{}}
	classes, err := m.Store.ClassesOf(r.Context(), v.ID)
	if err != nil {
		return nil, err
	}
	for _, c := range classes {
		if c.Source != "" && c.ID == r.PathValue("class") {
			known.Classes[c.Source] = true
		}
	}
	for _, p := range pupils {
		if p.Source != "" {
			known.Pupils[p.Source] = true
		}
	}
	return roster.ReadOneRoster(b, m.Now(), known)
}

func (m *room) pickList(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	c, pupils, err := m.classAndPupils(r)
	if err != nil {
		return err
	}
	l, lists, ok, err := picked(r)
	if err != nil {
		return err
	}
	if !ok {
		return m.sendPick(w, r, v, &c, lists, "choose one of the classes")
	}
	return m.sendPlan(w, r, v, c, pupils, l)
}

// sendPlan shows what a list would change. Nothing has been stored.
func (m *room) sendPlan(w http.ResponseWriter, r *http.Request, v *page.Viewer, c homework.Class, pupils []homework.Pupil, l roster.List) error {
	packed, err := packLists([]roster.List{{Pupils: l.Pupils, Whole: l.Whole, Source: l.Source}})
	if err != nil {
		return err
	}
	return page.Write(w, r, v, 200, page.Page{Title: "What was understood", Here: "classes", Styles: styles, Scripts: scripts, Crumbs: classCrumb(c), Body: planPage(c, l, roster.Compare(l, pupils), packed)})
}

// takeList carries the plan out. It is made anew, since the class may have changed while the teacher looked.
func (m *room) takeList(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	c, pupils, err := m.classAndPupils(r)
	if err != nil {
		return err
	}
	lists, err := unpackLists(r.PostFormValue("lists"))
	if err != nil || len(lists) != 1 {
		return errForm
	}
	if err := m.carryOut(r, v, c, roster.Compare(lists[0], pupils)); err != nil {
		return err
	}
	if c.Source == "" && lists[0].Source != "" { // made by hand, and met in the school's list now
		c.Source = lists[0].Source
		if err := m.Store.SaveClass(r.Context(), m.By(v), c); err != nil {
			return err
		}
	}
	return page.Go(w, r, "/classes/"+c.ID)
}

func (m *room) carryOut(r *http.Request, v *page.Viewer, c homework.Class, plan roster.Plan) error {
	var fresh []homework.Pupil
	for _, p := range plan.Add {
		fresh = append(fresh, homework.Pupil{ID: store.NewID(), Class: c.ID, Name: plain(p.Name), Source: p.Source})
	}
	if len(fresh) > 0 {
		if err := m.Store.AddPupils(r.Context(), m.By(v), c.ID, fresh); err != nil {
			return err
		}
	}
	var changed []homework.Pupil
	for _, ch := range append(plan.Rename, plan.Back...) {
		ch.Pupil.Name, ch.Pupil.Left = ch.Name, homework.Pupil{}.Left
		changed = append(changed, ch.Pupil)
	}
	changed = append(changed, plan.Tie...)
	for _, p := range plan.Leave {
		p.Left = m.Now()
		changed = append(changed, p)
	}
	for _, p := range changed {
		if err := m.Store.SavePupil(r.Context(), m.By(v), p); err != nil {
			return err
		}
	}
	if len(fresh)+len(plan.Back) == 0 {
		return nil
	}
	return m.giveJoined(r.Context(), v, c.ID)
}
