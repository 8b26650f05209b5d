package roster

import (
	"bytes"
	"cmp"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"
	"time"
	"unicode/utf8"
)

// files are those that are read, each after those that it refers to. Nothing else of a set is opened.
var files = []string{"orgs.csv", "academicSessions.csv", "courses.csv", "classes.csv", "users.csv", "roles.csv", "enrollments.csv"}

// needed are those that lists are made of. What is wrong in the others is told, and does no harm.
var needed = []string{"classes.csv", "users.csv", "enrollments.csv"}

// refers says to which file a column's identifiers belong.
var refers = map[string]string{
	"courseSourcedId": "courses.csv", "schoolSourcedId": "orgs.csv", "orgSourcedId": "orgs.csv", "primaryOrgSourcedId": "orgs.csv",
	"termSourcedIds": "academicSessions.csv", "schoolYearSourcedId": "academicSessions.csv", "classSourcedId": "classes.csv",
	"userSourcedId": "users.csv", "orgSourcedIds": "orgs.csv",
}

const mostFaults = 200

// Known are the identifiers of classes and pupils that are kept already: a list of changes need not explain them.
type Known struct{ Classes, Pupils map[string]bool }

// IsArchive says whether a file is a zip.
func IsArchive(b []byte) bool { return bytes.HasPrefix(b, []byte("PK")) }

// ReadOneRoster reads what a school's system writes: a zip of CSV files. It returns the classes in it, by title, each
// with the pupils who are in it on the day.
//
// All that is wrong is told together, as [Faults].
func ReadOneRoster(b []byte, day time.Time, known Known) ([]List, error) {
	a, err := openArchive(b)
	if err != nil {
		return nil, err
	}
	s := &school{archive: a, day: day.Format(time.DateOnly), known: known, ids: map[string]map[string]bool{}, people: map[string]person{}, rooms: map[string]*List{}}
	s.manifest()
	if len(s.faults) > 0 {
		return nil, s.faults
	}
	for _, file := range files {
		if m := s.modes[file]; m == "bulk" || m == "delta" {
			s.table(file, m)
		}
	}
	if len(s.faults) > 0 {
		return nil, s.faults
	}
	return s.lists()
}

// A school is what has been read of a set.
type school struct {
	archive
	day     string
	known   Known
	version string
	modes   map[string]string          // absent, bulk or delta, by file
	ids     map[string]map[string]bool // by file
	people  map[string]person          // by identifier
	rooms   map[string]*List           // by identifier
	faults  Faults
	aside   Faults // in files that lists are not made of

	ended, disabled, ahead, others int // enrolments that were passed over
}

// A person is what is kept of a user while reading.
type person struct {
	name string
	gone bool // disabled or to be deleted
}

func (s *school) fault(f Fault) {
	to := &s.faults
	if f.File != "" && f.File != "manifest.csv" && !slices.Contains(needed, f.File) {
		to = &s.aside
	}
	if len(*to) < mostFaults {
		*to = append(*to, f)
	}
}

// manifest reads which files there are [3.1].
func (s *school) manifest() {
	const name = "manifest.csv"
	if s.archive[name] == nil {
		s.fault(Fault{What: "there is no manifest.csv in the zip", Mend: "it is no OneRoster set of version 1.1 or 1.2; if it is a plain list, upload the CSV file by itself"})
		return
	}
	says := map[string]string{}
	s.rows(name, func(line int, cells []string) {
		if line == 1 {
			if strings.Join(cells, ",") != "propertyName,value" {
				s.fault(Fault{name, 1, 1, "the first line has to be propertyName,value", ""})
			}
			return
		}
		if len(cells) != 2 {
			s.fault(Fault{name, line, 1, "a line has two cells, a name and a value", ""})
			return
		}
		if _, twice := says[cells[0]]; twice {
			s.fault(Fault{name, line, 1, fmt.Sprintf("%s is there twice", short(cells[0])), "take one out"})
		}
		says[cells[0]] = cells[1]
		if file, ok := strings.CutPrefix(cells[0], "file."); ok {
			if !slices.Contains([]string{"absent", "bulk", "delta"}, cells[1]) {
				s.fault(Fault{name, line, 2, fmt.Sprintf("%s is %q", short(cells[0]), short(cells[1])), "write absent, bulk or delta"})
			}
			s.present(file+".csv", cells[1], line)
		}
	})
	s.version = says["oneroster.version"]
	if s.version != "1.2" && s.version != "1.1" && s.version != "1.2.1" {
		s.fault(Fault{File: name, What: fmt.Sprintf("oneroster.version is %q", short(s.version)), Mend: "versions 1.1 and 1.2 can be read"})
	}
	s.modes = map[string]string{}
	for _, f := range files {
		s.modes[f] = says["file."+strings.TrimSuffix(f, ".csv")]
	}
	for _, f := range needed {
		if s.modes[f] == "" {
			s.fault(Fault{File: name, What: fmt.Sprintf("it announces no %s", f), Mend: "ask for an export with classes, users and enrolments"})
		}
	}
	n := 0
	for _, f := range needed {
		if s.modes[f] == "bulk" {
			n++
		}
	}
	switch {
	case n > 0 && n < len(needed):
		s.fault(Fault{File: name, What: "of classes.csv, users.csv and enrollments.csv only some are bulk", Mend: "a complete set has all three"})
	case n == 0 && s.modes["users.csv"] != "delta" && s.modes["enrollments.csv"] != "delta":
		s.fault(Fault{File: name, What: "it announces neither users nor enrolments", Mend: "ask for an export with classes, users and enrolments"})
	}
}

// delta says whether the set is changes only: its files agree about that.
func (s *school) delta() bool { return s.modes["enrollments.csv"] != "bulk" }

// present checks that what the manifest says of a file is so.
func (s *school) present(file, mode string, line int) {
	if there := s.archive[file] != nil; there != (mode != "absent") && slices.Contains(files, file) {
		what := "is announced as " + short(mode) + " and isn't there"
		if there {
			what = "is announced as absent and is there"
		}
		s.fault(Fault{"manifest.csv", line, 2, file + " " + what, "fetch the set from the school's system again"})
	}
}

// rows reads a file line by line: UTF-8, with or without a byte-order mark, no line breaks in cells [3].
func (s *school) rows(file string, do func(line int, cells []string)) {
	b, err := s.read(file)
	if err != nil {
		var faults Faults
		if errors.As(err, &faults) {
			s.faults = append(s.faults, faults...)
		}
		return
	}
	b = bytes.TrimPrefix(b, []byte("\ufeff"))
	if !utf8.Valid(b) || bytes.IndexByte(b, 0) >= 0 {
		s.fault(Fault{File: file, What: "it is no text in UTF-8", Mend: "fetch it from the school's system again"})
		return
	}
	c := csv.NewReader(bytes.NewReader(b))
	c.FieldsPerRecord, c.ReuseRecord = -1, true
	for len(s.faults) < mostFaults {
		cells, err := c.Read()
		if errors.Is(err, io.EOF) {
			return
		}
		var p *csv.ParseError
		if errors.As(err, &p) {
			s.fault(Fault{file, p.Line, p.Column, "a quotation mark stands where none can be, or is never closed", "write it twice within a cell"})
			return
		}
		if err != nil {
			return
		}
		line, _ := c.FieldPos(0)
		for i, cell := range cells {
			if strings.ContainsAny(cell, "\r\n") {
				s.fault(Fault{file, line, i + 1, "a cell has a line break in it", "is a quotation mark missing?"})
				return
			}
		}
		do(line, cells)
	}
}

// table reads one of the files and keeps what lists are made of.
func (s *school) table(file, mode string) {
	columns := columns12[file]
	if c, ok := columns11[file]; ok && s.version == "1.1" {
		columns = c
	}
	ids := map[string]bool{}
	s.ids[file] = ids
	at := map[string]int{}
	for i, c := range columns {
		at[c.name] = i
	}
	width, lines := 0, 0
	s.rows(file, func(line int, cells []string) {
		if width == 0 {
			width = s.header(file, columns, line, cells)
			return
		}
		if width < 0 {
			return
		}
		lines++
		if len(cells) != width {
			s.fault(Fault{file, line, 1, fmt.Sprintf("the line has %d cells, the first line %d", len(cells), width), "is a comma or a quotation mark missing?"})
			return
		}
		for i := range columns {
			if what, mend := columns[i].fault(cells[i], mode); what != "" {
				s.fault(Fault{file, line, i + 1, what, mend})
			} else if mode == "bulk" {
				s.resolve(file, &columns[i], line, i+1, cells[i])
			}
		}
		get := func(name string) string {
			if i, ok := at[name]; ok {
				return cells[i]
			}
			return ""
		}
		if id := get("sourcedId"); ids[id] {
			s.fault(Fault{file, line, 1, fmt.Sprintf("the identifier %q is there twice", short(id)), "take one out"})
		} else {
			ids[strings.Clone(id)] = true
		}
		switch file {
		case "classes.csv":
			s.room(get)
		case "users.csv":
			s.person(file, line, at, get)
		case "enrollments.csv":
			s.enrolment(line, at, get)
		}
	})
	if width > 0 && lines == 0 {
		s.fault(Fault{File: file, What: "it has no lines below its headings", Mend: "an empty file is announced as absent"})
	}
	if width == 0 && len(s.faults) == 0 {
		s.fault(Fault{File: file, What: "it is empty", Mend: "an empty file is announced as absent"})
	}
}

// header checks the first line: the columns in their order, further ones only at the end and named metadata… [3].
// It returns how many cells a line has; -1 if the file can't be read.
func (s *school) header(file string, columns []column, line int, cells []string) int {
	for i, c := range columns {
		if i >= len(cells) || cells[i] != c.name {
			found := "nothing"
			if i < len(cells) {
				found = fmt.Sprintf("%q", short(cells[i]))
			}
			s.fault(Fault{file, line, i + 1, fmt.Sprintf("column %d is %s, and has to be %q", i+1, found, c.name), "columns have a fixed order in OneRoster " + s.version})
			return -1
		}
	}
	for i := len(columns); i < len(cells); i++ {
		if !strings.HasPrefix(cells[i], "metadata") {
			s.fault(Fault{file, line, i + 1, fmt.Sprintf("there is a column %q that the standard doesn't have", short(cells[i])), "columns of one's own begin with metadata"})
			return -1
		}
	}
	return len(cells)
}

// resolve checks that what a complete set refers to is in it [2].
func (s *school) resolve(file string, c *column, line, at int, cell string) {
	to := refers[c.name]
	if cell == "" || to == "" || s.modes[to] != "bulk" || to == file {
		return
	}
	for id := range strings.SplitSeq(cell, ",") {
		if id = strings.TrimSpace(id); !s.ids[to][id] {
			f := Fault{file, line, at, fmt.Sprintf("%s %q is not in %s", c.name, short(id), to), "the set is not complete; fetch it again"}
			if slices.Contains(needed, to) {
				s.fault(f)
			} else {
				s.aside = append(s.aside[:min(len(s.aside), mostFaults)], f)
			}
		}
	}
}

func (s *school) room(get func(string) string) {
	if get("status") == "tobedeleted" {
		return
	}
	id, title := strings.Clone(get("sourcedId")), strings.Clone(plain(get("title")))
	if code := plain(get("classCode")); code != "" && code != title && !strings.Contains(title, code) {
		title += " (" + code + ")"
	}
	s.rooms[id] = &List{Title: title, Source: id}
}

// person keeps a name. The rest of the line is forgotten with it.
func (s *school) person(file string, line int, at map[string]int, get func(string) string) {
	given, family := cmp.Or(get("preferredGivenName"), get("givenName")), cmp.Or(get("preferredFamilyName"), get("familyName"))
	name := strings.Clone(plain(given + " " + family))
	if what := unfit(name); what != "" {
		s.fault(Fault{file, line, at["givenName"] + 1, "a name " + what, "mend it in the school's system"})
	}
	s.people[strings.Clone(get("sourcedId"))] = person{name, get("enabledUser") == "false" || get("status") == "tobedeleted"}
}

// enrolment puts a pupil into a class, or takes them out of it. Other roles than pupil and teacher are passed over.
func (s *school) enrolment(line int, at map[string]int, get func(string) string) {
	class, user, role := get("classSourcedId"), get("userSourcedId"), get("role")
	if role != "student" && role != "teacher" {
		return
	}
	delta := s.delta()
	room := s.rooms[class]
	if room == nil {
		if !delta || !s.known.Classes[class] { // a class that was never read here, or one that goes
			s.others++
			return
		}
		room = &List{Source: strings.Clone(class)}
		s.rooms[room.Source] = room
	}
	who, ok := s.people[user]
	if !ok && !s.known.Pupils[user] {
		if delta && role == "student" {
			s.fault(Fault{"enrollments.csv", line, at["userSourcedId"] + 1, fmt.Sprintf("userSourcedId %q is nobody that has been read before, nor in users.csv", short(user)), "read a complete set first"})
		}
		return
	}
	begin, end := get("beginDate"), get("endDate")
	out := get("status") == "tobedeleted"
	switch {
	case who.gone:
		s.disabled, out = s.disabled+1, true
	case end != "" && s.day >= end: // the end is exclusive [3.2]
		s.ended, out = s.ended+1, true
	case begin != "" && s.day < begin:
		s.ahead++
		return
	}
	switch {
	case role == "teacher" && !out && who.name != "":
		room.Teachers = append(room.Teachers, who.name)
	case role == "student" && (!out || delta):
		room.Pupils = append(room.Pupils, Pupil{Name: who.name, Source: strings.Clone(user), Left: out})
	}
}

// lists are the classes, by title, with what was passed over.
func (s *school) lists() ([]List, error) {
	delta := s.delta()
	if delta { // changed names of those whom no enrolment mentions
		for class := range s.known.Classes {
			if s.rooms[class] == nil {
				s.rooms[class] = &List{Source: class}
			}
		}
	}
	var lists []List
	for _, id := range slices.Sorted(maps.Keys(s.rooms)) {
		l := *s.rooms[id]
		l.Whole, l.Pupils = !delta, once(l.Pupils)
		if delta {
			l.Pupils = append(l.Pupils, s.renamed(l.Pupils)...)
		}
		if len(l.Pupils) == 0 && (delta || len(l.Teachers) == 0) {
			continue
		}
		slices.SortStableFunc(l.Pupils, func(a, b Pupil) int { return cmp.Compare(strings.ToLower(a.Name), strings.ToLower(b.Name)) })
		slices.Sort(l.Teachers)
		l.Teachers = slices.Compact(l.Teachers)
		l.Notes = s.notes(delta)
		if err := l.Check(); err != nil {
			return nil, err
		}
		lists = append(lists, l)
	}
	if len(lists) == 0 {
		return nil, Faults{{What: "there is no class with pupils or teachers in the set today", Mend: "are the dates of the enrolments right?"}}
	}
	slices.SortStableFunc(lists, func(a, b List) int { return cmp.Compare(a.Title, b.Title) })
	return lists, nil
}

// renamed are pupils known already whom a list of changes names without saying anything of a class.
func (s *school) renamed(there []Pupil) (list []Pupil) {
	for _, id := range slices.Sorted(maps.Keys(s.people)) {
		p := s.people[id]
		if s.known.Pupils[id] && !slices.ContainsFunc(there, func(q Pupil) bool { return q.Source == id }) {
			list = append(list, Pupil{Name: p.name, Source: id, Left: p.gone, Mere: true})
		}
	}
	return list
}

// once keeps one line for each pupil: being in the class comes before having left it.
func once(pupils []Pupil) []Pupil {
	var out []Pupil
	at := map[string]int{}
	for _, p := range pupils {
		i, ok := at[p.Source]
		switch {
		case !ok:
			at[p.Source] = len(out)
			out = append(out, p)
		case out[i].Left:
			out[i] = p
		}
	}
	return out
}

func (s *school) notes(delta bool) []string {
	list := []string{"Read: names and identifiers of pupils, and which class they are in."}
	if delta {
		list = []string{"This is a list of changes: pupils whom it doesn't mention stay as they are."}
	}
	list = append(list, "Passed over and not kept: user names, e-mail addresses, telephone numbers, passwords, years, pronouns and relatives.")
	if s.archive["demographics.csv"] != nil {
		list = append(list, "demographics.csv was not opened.")
	}
	for _, n := range []struct {
		n    int
		what string
	}{
		{s.ended, "enrolments have ended"}, {s.ahead, "enrolments have not begun yet; read the list again when they have"},
		{s.disabled, "enrolments are of people whose accounts at school are closed"}, {s.others, "enrolments are for other classes"},
	} {
		if n.n > 0 {
			list = append(list, fmt.Sprintf("In the whole file %d %s.", n.n, n.what))
		}
	}
	if n := len(s.aside); n > 0 {
		list = append(list, fmt.Sprintf("Parts that were not needed have faults (%d), the first: %s.", n, s.aside[0]))
	}
	return list
}
