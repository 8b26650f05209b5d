package class

import (
	"reflect"
	"strings"
	"testing"
	"unicode/utf16"
)

func TestReadRoll(t *testing.T) {
	utf16le := func(s string) string {
		b := []byte{0xff, 0xfe}
		for _, u := range utf16.Encode([]rune(s)) {
			b = append(b, byte(u), byte(u>>8))
		}
		return string(b)
	}
	want := []Pupil{{"Ilse Hart", "h1"}, {"Omar Quist", "q7"}}
	tests := map[string]string{
		"head, commas":           "name,code\nIlse Hart,h1\nOmar Quist,q7\n",
		"other order":            "Code,Name\r\nh1,Ilse Hart\r\nq7,Omar Quist\r\n",
		"semicolons, BOM":        "\ufeffname;code\nIlse Hart;h1\nOmar Quist;q7",
		"tabs":                   "pupil\tid\nIlse Hart\th1\nOmar Quist\tq7\n",
		"two names":              "First name,Last name,Code\nIlse,Hart,h1\nOmar,Quist,q7\n",
		"no head":                "Ilse Hart,h1\nOmar Quist,q7\n",
		"quotes, blank lines":    "name,code\n\"Ilse  Hart\", h1\n\n,,\nOmar Quist,q7\n",
		"an older spreadsheet's": "Surname;Forename;Admission  No\nHart;Ilse;h1\nQuist;Omar;q7\n",
		"UTF-16 from a spread":   utf16le("name\tcode\r\nIlse Hart\th1\r\nOmar Quist\tq7\r\n"),
	}
	for name, text := range tests {
		got, err := ReadRoll(strings.NewReader(text))
		if err != nil || !reflect.DeepEqual(got, want) {
			t.Errorf("%s: got %v, %v", name, got, err)
		}
	}
	got, err := ReadRoll(strings.NewReader("name\nIlse Hart\nOmar Quist\n"))
	if err != nil || got[0].Code != "01" || got[1].Code != "02" {
		t.Errorf("without codes: %v, %v", got, err)
	}
}

// A class that grows leaves everyone's code as it was.
func TestCodesStayWhenAClassGrows(t *testing.T) {
	long := Numbered(100)
	for n := range long {
		if short := Numbered(n); !reflect.DeepEqual(short, long[:n]) {
			t.Errorf("of %d pupils the last is %v, of %d it is %v", n, short[n-1], len(long), long[n-1])
		}
	}
	if got := []string{long[0].Code, long[98].Code, long[99].Code}; !reflect.DeepEqual(got, []string{"01", "99", "100"}) {
		t.Errorf("codes are %v", got)
	}
}

func TestReadRollRefuses(t *testing.T) {
	for text, want := range map[string]string{
		"":                                  "no pupils",
		"name,code\n":                       "no pupils",
		"name,code\nA,1\nB,1\n":             "A and B both have the code 1",
		"name\n\xff\xfe\x81":                "save it as CSV UTF-8",
		"name\n" + strings.Repeat("x", 200): "line 2: a name of more than",
		"name\nA\x07B\n":                    "line 2: a character that can't be printed",
		strings.Repeat("A\n", most+1):       "more than 5000 pupils; is it the right file?",
	} {
		if _, err := ReadRoll(strings.NewReader(text)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%.20q: got %v, want %q", text, err, want)
		}
	}
}

func FuzzReadRoll(f *testing.F) {
	f.Add("name,code\nA,1\n")
	f.Add("\ufeffa;b\n\"c\n")
	f.Fuzz(func(t *testing.T, text string) {
		pupils, err := ReadRoll(strings.NewReader(text))
		if err != nil {
			return
		}
		codes := map[string]bool{}
		for _, p := range pupils {
			if p.Code == "" || p.Name == "" || codes[p.Code] {
				t.Errorf("pupil %+v of %q", p, text)
			}
			codes[p.Code] = true
		}
	})
}
