package class

import (
	"errors"
	"reflect"
	"strings"
	"testing"
)

// What is kept of a list is names and, if there are any, identifiers; everything else is passed over and named.
func TestReadNames(t *testing.T) {
	tests := []struct {
		name, text string
		want       []Listed
		how        string
	}{
		{"one name to a line", "Ilse Hart\nOmar Quist\n", []Listed{{"Ilse Hart", "", 1}, {"Omar Quist", "", 2}}, ""},
		{"surname first", "Hart, Ilse\nQuist, Omar", []Listed{{"Ilse Hart", "", 1}, {"Omar Quist", "", 2}}, "surname, first name"},
		{"no headings, identifiers", "Ilse Hart,h1\n\nOmar Quist,q7\n", []Listed{{"Ilse Hart", "h1", 1}, {"Omar Quist", "q7", 3}}, "the second as an identifier"},
		{"other columns", "Surname\tForename\tDOB\tE-mail\nHart\tIlse\t2009-01-01\tx@y\n", []Listed{{"Ilse Hart", "", 2}}, "not kept: “DOB”, “E-mail”"},
		{"Windows-1252", "name\nZo\xeb O\x92Hara\n", []Listed{{"Zoë O’Hara", "", 2}}, "“name” as a name"},
		{"text that would turn the line", "Ilse \u202eHart\n", []Listed{{"Ilse Hart", "", 1}}, ""},
		{"two of a name with identifiers", "name,id\nIlse Hart,1\nIlse Hart,2\n", []Listed{{"Ilse Hart", "1", 2}, {"Ilse Hart", "2", 3}}, ""},
	}
	for _, test := range tests {
		roll, err := ReadNames(strings.NewReader(test.text))
		if err != nil || !reflect.DeepEqual(roll.Pupils, test.want) || !strings.Contains(strings.Join(roll.How, " "), test.how) {
			t.Errorf("%s: %v, %q, %v", test.name, roll.Pupils, roll.How, err)
		}
	}
}

// All that is wrong with a list is told at once.
func TestReadNamesTellsAllFaults(t *testing.T) {
	_, err := ReadNames(strings.NewReader("name\nA\nA\n" + strings.Repeat("x", 200) + "\nB\x01\n"))
	var faults Faults
	if !errors.As(err, &faults) || len(faults) != 3 {
		t.Errorf("faults are %v", err)
	}
	for _, text := range []string{"", "name\n", "\n\n ,\n"} {
		if _, err := ReadNames(strings.NewReader(text)); !errors.As(err, &faults) || !strings.Contains(err.Error(), "no pupils") {
			t.Errorf("%q: %v", text, err)
		}
	}
}

func FuzzReadNames(f *testing.F) {
	for _, s := range []string{"a,b\nc,d", "name;id\n=1;2", "\xff\xfea\x00", "Zo\xeb", "sep=;\nname;code\n\"a\nb\";c"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		roll, err := ReadNames(strings.NewReader(string(b)))
		for _, p := range roll.Pupils {
			if err == nil && (p.Name == "" || len(p.Name) > 8*longest) {
				t.Errorf("a name is %q", p.Name)
			}
		}
	})
}
