package roster

import (
	"archive/zip"
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"steelyard/homework"
)

var day = time.Date(2026, 11, 28, 8, 0, 0, 0, time.UTC)

// sample is the set under testdata, file by file.
func sample(t testing.TB) map[string]string {
	set := map[string]string{}
	names, err := filepath.Glob("testdata/oneroster/*.csv")
	if err != nil || len(names) == 0 {
		t.Fatal("no sample set", err)
	}
	for _, n := range names {
		b, err := os.ReadFile(n)
		if err != nil {
			t.Fatal(err)
		}
		set[filepath.Base(n)] = string(b)
	}
	return set
}

// packed is a set as a zip.
func packed(t testing.TB, set map[string]string) []byte {
	var to bytes.Buffer
	z := zip.NewWriter(&to)
	for _, name := range slices.Sorted(maps.Keys(set)) {
		w, err := z.Create(name)
		if err == nil {
			_, err = w.Write([]byte(set[name]))
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return to.Bytes()
}

// changed is the sample with one text in place of another.
func changed(t testing.TB, file, old, now string) map[string]string {
	set := sample(t)
	if !strings.Contains(set[file], old) {
		t.Fatalf("%s has no %q", file, old)
	}
	set[file] = strings.Replace(set[file], old, now, 1)
	return set
}

// The table of columns that is built in says what the standard's says.
func TestColumnsAreThoseOfTheStandard(t *testing.T) {
	f, err := os.Open("testdata/columns-1.2.csv") // source: testdata/SOURCE.md
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	want := map[string][]string{}
	for _, r := range rows[1:] {
		if slices.Contains(files, r[0]) {
			want[r[0]] = append(want[r[0]], strings.Join(r[1:], ","))
		}
	}
	got := map[string][]string{}
	for file, columns := range columns12 {
		for _, c := range columns {
			extended := ""
			if c.extended {
				extended = "yes"
			}
			got[file] = append(got[file], strings.Join([]string{c.name, c.required, c.format, strings.Join(c.words, "|"), extended}, ","))
		}
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("columns differ:\n%v\n%v", got, want)
	}
}

// The sample set follows the standard and gives its class, with the names that pupils go by and nothing else of them.
func TestReadOneRoster(t *testing.T) {
	lists, err := ReadOneRoster(packed(t, sample(t)), day, Known{})
	if err != nil {
		t.Fatal(err)
	}
	want := []Pupil{{Name: "Addie Example", Source: "u-9"}, {Name: `Máire O'Neill, "Mo"`, Source: "u-10"}}
	if len(lists) != 1 || lists[0].Title != "Physics 12B" || lists[0].Source != "cl-12b" || !lists[0].Whole ||
		!reflect.DeepEqual(lists[0].Pupils, want) || !reflect.DeepEqual(lists[0].Teachers, []string{"Ruth Okafor"}) {
		t.Errorf("read %+v", lists)
	}
}

// Nothing personal beyond name and identifier is in what comes out, and the reader says so.
func TestNothingElseIsKept(t *testing.T) {
	set := changed(t, "users.csv", "u-9,,,true,a.example,,Ada,Example,,,,,,,,", "u-9,,,true,SECRET1,,Ada,Example,SECRET2,SECRET3,SECRET4,SECRET5,SECRET6,,SECRET7,SECRET8")
	set["demographics.csv"] = "SECRET9"
	set["manifest.csv"] = strings.Replace(set["manifest.csv"], "file.demographics,absent", "file.demographics,bulk", 1)
	lists, err := ReadOneRoster(packed(t, set), day, Known{})
	if err != nil {
		t.Fatal(err)
	}
	all := fmt.Sprintf("%+v", lists)
	if strings.Contains(all, "SECRET") || !strings.Contains(all, "demographics.csv was not opened") || !strings.Contains(all, "passwords") {
		t.Errorf("kept: %s", all)
	}
}

// A set of version 1.1 has the role in users.csv and no roles.csv (columns from memory).
func TestVersion11(t *testing.T) {
	set := sample(t)
	delete(set, "roles.csv")
	for _, r := range [][2]string{{"oneroster.version,1.2", "oneroster.version,1.1"}, {"file.roles,bulk\n", ""}, {"file.roles,bulk\r\n", ""}} {
		set["manifest.csv"] = strings.Replace(set["manifest.csv"], r[0], r[1], 1)
	}
	set["users.csv"] = "\ufeffsourcedId,status,dateLastModified,enabledUser,orgSourcedIds,role,username,userIds,givenName,familyName,middleName,identifier,email,sms,phone,agentSourcedIds,grades,password\n" +
		"u-t1,,,true,org-1,teacher,r,,Ruth,Okafor,,,,,,,,\nu-9,,,true,org-1,student,a,,Ada,Example,,,,,,,,\nu-10,,,true,org-1,student,m,,Mo,Neill,,,,,,,,\n"
	lists, err := ReadOneRoster(packed(t, set), day, Known{})
	if err != nil || len(lists) != 1 || len(lists[0].Pupils) != 2 || lists[0].Pupils[0].Name != "Ada Example" {
		t.Errorf("read %+v, %v", lists, err)
	}
}

// Who is in the class on the day: dates, closed accounts and other roles are looked at.
func TestWhoIsInTheClass(t *testing.T) {
	for name, test := range map[string]struct {
		file, old, now string
		want           int
	}{
		"ended":                {"enrollments.csv", "e2,,,cl-12b,org-1,u-9,student,,,", "e2,,,cl-12b,org-1,u-9,student,,2026-09-01,2026-11-28", 1},
		"ends tomorrow":        {"enrollments.csv", "e2,,,cl-12b,org-1,u-9,student,,,", "e2,,,cl-12b,org-1,u-9,student,,2026-09-01,2026-11-29", 2},
		"begins today":         {"enrollments.csv", "e2,,,cl-12b,org-1,u-9,student,,,", "e2,,,cl-12b,org-1,u-9,student,,2026-11-28,", 2},
		"begins tomorrow":      {"enrollments.csv", "e2,,,cl-12b,org-1,u-9,student,,,", "e2,,,cl-12b,org-1,u-9,student,,2026-11-29,", 1},
		"account closed":       {"users.csv", "u-9,,,true", "u-9,,,false", 1},
		"a proctor":            {"enrollments.csv", "u-9,student", "u-9,proctor", 1},
		"a word of their own":  {"enrollments.csv", "u-9,student", "u-9,ext:guest", 1},
		"faults where no harm": {"orgs.csv", "school", "cottage", 2},
	} {
		lists, err := ReadOneRoster(packed(t, changed(t, test.file, test.old, test.now)), day, Known{})
		if err != nil || len(lists) != 1 || len(lists[0].Pupils) != test.want {
			t.Errorf("%s: %+v, %v", name, lists, err)
		}
	}
}

// What breaks the standard is told with file, line and column, all at once.
func TestFaultsOfASet(t *testing.T) {
	for name, test := range map[string]struct{ file, old, now, want string }{
		"order of columns":     {"users.csv", "sourcedId,status", "status,sourcedId", `users.csv:1:1: column 1 is "status", and has to be "sourcedId"`},
		"a column of its own":  {"classes.csv", "periods", "periods,colour", "classes.csv:1:15:"},
		"nothing where needed": {"users.csv", "Ada,Example", "Ada,", "users.csv:3:8: familyName is empty"},
		"a word":               {"users.csv", "u-9,,,true", "u-9,,,yes", `users.csv:3:4: "yes" is no enabledUser`},
		"identifier":           {"enrollments.csv", "e2,", "e 2,", `enrollments.csv:3:1: "e 2" is no identifier`},
		"date":                 {"enrollments.csv", "u-9,student,,,", "u-9,student,,1/9/2026,", `enrollments.csv:3:9: "1/9/2026" is no date`},
		"nobody":               {"enrollments.csv", "u-9,student", "u-99,student", `enrollments.csv:3:6: userSourcedId "u-99" is not in users.csv`},
		"no class":             {"enrollments.csv", "e2,,,cl-12b", "e2,,,cl-13", `enrollments.csv:3:4: classSourcedId "cl-13" is not in classes.csv`},
		"status in bulk":       {"users.csv", "u-9,,", "u-9,active,", "users.csv:3:2: status is given in a complete set"},
		"twice":                {"users.csv", "u-10,", "u-9,", `users.csv:4:1: the identifier "u-9" is there twice`},
		"a missing cell":       {"users.csv", "u-9,,,true,", "u-9,,,", "users.csv:3:1: the line has 22 cells"},
		"a line break":         {"users.csv", "Ada,", "\"A\nda\",", "users.csv:3:7: a cell has a line break"},
		"open quotation":       {"users.csv", "Ada,", "\"Ada,", "users.csv:"},
		"version":              {"manifest.csv", "oneroster.version,1.2", "oneroster.version,2.0", `oneroster.version is "2.0"`},
		"announced":            {"manifest.csv", "file.users,bulk", "file.users,absent", "manifest.csv:"},
		"half a set":           {"manifest.csv", "file.users,bulk", "file.users,delta", "only some are bulk"},
		"manifest's words":     {"manifest.csv", "file.users,bulk", "file.users,all", "write absent, bulk or delta"},
	} {
		_, err := ReadOneRoster(packed(t, changed(t, test.file, test.old, test.now)), day, Known{})
		var faults Faults
		if !errors.As(err, &faults) || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%s: %v, want %s", name, err, test.want)
		}
	}
	set := changed(t, "users.csv", "u-9,,,true", "u-9,,,yes")
	set["enrollments.csv"] = strings.Replace(set["enrollments.csv"], "u-9,student", "u-99,student", 1)
	if _, err := ReadOneRoster(packed(t, set), day, Known{}); err == nil || strings.Count(err.Error(), "\n") != 1 {
		t.Errorf("two faults: %v", err)
	}
	set = sample(t)
	set["users.csv"] = strings.SplitAfter(set["users.csv"], "\n")[0]
	if _, err := ReadOneRoster(packed(t, set), day, Known{}); err == nil || !strings.Contains(err.Error(), "users.csv: it has no lines") {
		t.Errorf("no lines: %v", err)
	}
}

// A list of changes says who has come, who has left and who has another name; everybody else stays.
func TestDelta(t *testing.T) {
	manifest := "propertyName,value\nmanifest.version,1.0\noneroster.version,1.2\n"
	for _, f := range files {
		mode := "absent"
		if f == "users.csv" || f == "enrollments.csv" {
			mode = "delta"
		}
		manifest += "file." + strings.TrimSuffix(f, ".csv") + "," + mode + "\n"
	}
	heads := sample(t)
	head := func(f string) string { return strings.SplitAfter(heads[f], "\n")[0] }
	const at = ",active,2026-11-20T10:00:00.000Z,"
	set := map[string]string{
		"manifest.csv": manifest,
		"users.csv": head("users.csv") + "u-11" + at + "true,n,,Nia,Holt,,,,,,,,,,,,,,,\n" +
			"u-9" + at + "true,a,,Ada,Holloway,,,,,,,,,,,,,,,\n",
		"enrollments.csv": head("enrollments.csv") + "e9" + at + "cl-12b,org-1,u-11,student,,,\n" +
			"e3,tobedeleted,2026-11-20T10:00:00.000Z,cl-12b,org-1,u-10,student,,,\n" +
			"e8" + at + "cl-other,org-1,u-77,student,,,\n",
	}
	known := Known{Classes: map[string]bool{"cl-12b": true}, Pupils: map[string]bool{"u-9": true, "u-10": true}}
	lists, err := ReadOneRoster(packed(t, set), day, known)
	want := []Pupil{{Source: "u-10", Left: true}, {Name: "Ada Holloway", Source: "u-9", Mere: true}, {Name: "Nia Holt", Source: "u-11"}}
	if err != nil || len(lists) != 1 || lists[0].Whole || !reflect.DeepEqual(lists[0].Pupils, want) {
		t.Fatalf("read %+v, %v", lists, err)
	}
	plan := Compare(lists[0], []homework.Pupil{{ID: "a", Name: "Ada Example", Source: "u-9"}, {ID: "b", Name: "Mo", Source: "u-10"}, {ID: "c", Name: "By hand"}})
	if len(plan.Add) != 1 || len(plan.Rename) != 1 || plan.Rename[0].Name != "Ada Holloway" || len(plan.Leave) != 1 || plan.Leave[0].ID != "b" {
		t.Errorf("plan is %+v", plan)
	}
	// Changed names alone are changes too, never a class that everybody has left.
	names := map[string]string{"users.csv": set["users.csv"], "manifest.csv": strings.Replace(manifest, "file.enrollments,delta", "file.enrollments,absent", 1)}
	lists, err = ReadOneRoster(packed(t, names), day, known)
	if err != nil || len(lists) != 1 || lists[0].Whole || len(lists[0].Pupils) != 1 || !lists[0].Pupils[0].Mere {
		t.Errorf("names alone: %+v, %v", lists, err)
	}
	set["enrollments.csv"] += "e7" + at + "cl-12b,org-1,u-404,student,,,\n"
	if _, err := ReadOneRoster(packed(t, set), day, known); err == nil || !strings.Contains(err.Error(), `enrollments.csv:5:6: userSourcedId "u-404" is nobody`) {
		t.Errorf("unknown pupil: %v", err)
	}
}

// Several classes in one set come by title.
func TestSeveralClasses(t *testing.T) {
	set := changed(t, "classes.csv", "cl-12b,", "cl-11c,,,Physics 11C,,co-phy12,11C,scheduled,,org-1,t1,,,\ncl-12b,")
	set["enrollments.csv"] += "e21,,,cl-11c,org-1,u-9,student,,,\n"
	lists, err := ReadOneRoster(packed(t, set), day, Known{})
	if err != nil || len(lists) != 2 || lists[0].Title != "Physics 11C" || len(lists[0].Pupils) != 1 || len(lists[1].Pupils) != 2 {
		t.Errorf("read %+v, %v", lists, err)
	}
}

func FuzzReadOneRoster(f *testing.F) {
	set := sample(f)
	f.Add(set["manifest.csv"], set["classes.csv"], set["users.csv"], set["enrollments.csv"])
	f.Add("propertyName,value\n", "", "\"", "\r")
	f.Fuzz(func(t *testing.T, manifest, classes, users, enrolments string) {
		set["manifest.csv"], set["classes.csv"], set["users.csv"], set["enrollments.csv"] = manifest, classes, users, enrolments
		lists, err := ReadOneRoster(packed(t, set), day, Known{Classes: map[string]bool{"cl-12b": true}})
		for _, l := range lists {
			if err == nil && l.Check() != nil {
				t.Errorf("a list that can't be kept: %+v", l)
			}
		}
	})
}

func FuzzArchive(f *testing.F) {
	f.Add(packed(f, sample(f)))
	f.Add([]byte("PK\x05\x06"))
	f.Fuzz(func(t *testing.T, b []byte) { ReadOneRoster(b, day, Known{}) })
}
