package roster

import (
	"reflect"
	"strings"
	"testing"
	"time"

	"steelyard/homework"
)

func names(pupils []homework.Pupil) (list []string) {
	for _, p := range pupils {
		list = append(list, p.Name)
	}
	return list
}

// A later list finds pupils again, by identifier before name, and erases nobody.
func TestCompare(t *testing.T) {
	left := time.Date(2026, 10, 1, 0, 0, 0, 0, time.UTC)
	pupils := []homework.Pupil{
		{ID: "1", Name: "Ilse Hart", Source: "h1"}, {ID: "2", Name: "Omar Quist"}, {ID: "3", Name: "Nia Holt", Left: left},
		{ID: "4", Name: "Sam Reed", Source: "r1"}, {ID: "5", Name: "Tove Lind"},
	}
	l := List{Whole: true, Pupils: []Pupil{
		{Name: "Ilse Hart-Moss", Source: "h1"}, {Name: "Omar  Quist", Source: "q7"}, {Name: "Nia Holt"},
		{Name: "Sam Reed", Source: "r2"}, // another pupil of that name
	}}
	plan := Compare(l, pupils)
	if len(plan.Rename) != 1 || plan.Rename[0].Pupil.ID != "1" || plan.Rename[0].Name != "Ilse Hart-Moss" {
		t.Errorf("renamed: %+v", plan.Rename)
	}
	if len(plan.Back) != 1 || plan.Back[0].Pupil.ID != "3" || !reflect.DeepEqual(names(plan.Same), []string{"Omar Quist"}) {
		t.Errorf("back: %+v, same: %v", plan.Back, names(plan.Same))
	}
	if len(plan.Add) != 1 || plan.Add[0].Source != "r2" || !reflect.DeepEqual(names(plan.Leave), []string{"Sam Reed", "Tove Lind"}) {
		t.Errorf("added: %+v, leave: %v", plan.Add, names(plan.Leave))
	}
	if len(plan.Tie) != 1 || plan.Tie[0].ID != "2" || plan.Tie[0].Source != "q7" {
		t.Errorf("found by name, and not by the identifier from now on: %+v", plan.Tie)
	}
	l.Whole = false
	if plan := Compare(l, pupils); len(plan.Leave) > 0 {
		t.Errorf("a list of some makes others leave: %v", names(plan.Leave))
	}
	if plan := Compare(List{Whole: true, Pupils: []Pupil{{Name: "A"}, {Name: "B"}}}, []homework.Pupil{{Name: "A"}, {Name: "B"}}); !plan.Empty() {
		t.Errorf("the same list again changes something: %+v", plan)
	}
}

// A list of names and a spreadsheet come out the same; a spreadsheet's own file is told apart.
func TestReadList(t *testing.T) {
	l, err := ReadList([]byte("Name;Username\nIlse Hart;ih@harbour.example\nOmar Quist;q7\n"))
	if want := []Pupil{{Name: "Ilse Hart"}, {Name: "Omar Quist", Source: "q7"}}; err != nil || !reflect.DeepEqual(l.Pupils, want) || !strings.Contains(strings.Join(l.Notes, " "), "e-mail addresses were not kept") {
		t.Errorf("%+v, %v", l, err)
	}
	for text, want := range map[string]string{"PK\x03\x04....": "save it as CSV", "": "no pupils", "name\nA\nA\n": "line 3", strings.Repeat("A\n", 2<<20): "2 MB"} {
		if _, err := ReadList([]byte(text)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%.20q: %v", text, err)
		}
	}
}
