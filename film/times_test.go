package film_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"steelyard/film"
)

func TestTimesAreRead(t *testing.T) {
	k := talk(t, "balanced-rule.moments")
	var b strings.Builder
	b.WriteString("# taken in one go\n\n")
	for i, s := range k.Steps {
		fmt.Fprintf(&b, "%s %.3f\n", s.ID, 2.5*float64(i))
	}
	whole := b.String() + "end 120.25\n"
	times, err := film.ParseTimes(k, whole)
	if err != nil || times.Start[3] != 7500*time.Millisecond || times.End != 120250*time.Millisecond || times.Spoke[2] != times.Start[3] {
		t.Errorf("got %v, %v", times, err)
	}
	for text, want := range map[string]string{
		"":                        `times of 0 steps`,
		b.String():                `after the last there must be a line such as "end 183.2"`,
		"start 1\n":               "the first step begins at 0",
		"start 0\nstart 3\n":      "line 2: \"start 3\": step points comes here",
		"start 0\npoints 0.05\n":  "not a tenth of a second after",
		"start 0\npoints x\n":     "no time in seconds",
		"start 0\npoints NaN\n":   "no time in seconds",
		"start 0\npoints -1\n":    "no time in seconds",
		"start 0\npoints 99999\n": "no time in seconds",
		whole + "more 200\n":      `nothing can follow`,
		strings.Replace(whole, "end 120.25", "end 2", 1):  "not a tenth of a second after",
		strings.Replace(whole, "start 0", "start 0 s", 1): `step start comes here`,
	} {
		if _, err := film.ParseTimes(k, text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: got %v, want %s", text, err, want)
		}
	}
}

func FuzzParseTimes(f *testing.F) {
	k := talk(f, "balanced-rule.moments")
	k.Steps = k.Steps[:2]
	for _, s := range []string{"start 0\npoints 1\nend 2\n", "start 0\npoints 1e-3\n", "# x\nend 3", "start 0\npoints inf"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		times, err := film.ParseTimes(k, text)
		if err != nil {
			return
		}
		if len(times.Start) != 2 || times.Start[0] != 0 || times.Start[1] <= 0 || times.End <= times.Start[1] || times.End > 4*time.Hour {
			t.Errorf("%q gives %v", text, times)
		}
	})
}

// Words after "say" are said in place of the prepared ones; the others stay.
func TestTimesMayHaveWords(t *testing.T) {
	k := talk(t, "balanced-rule.moments")
	k.Steps = k.Steps[:2]
	prepared := film.Script(&k.Steps[1])
	times, err := film.ParseTimes(k, "start 0  say Here is\ta rule.\u202e\npoints 1.5\nend 3\n")
	if err != nil || times.Start[1] != 1500*time.Millisecond {
		t.Fatal(times, err)
	}
	if got := film.Script(&k.Steps[0]); got != "Here is a rule." {
		t.Errorf("the first step says %q", got)
	}
	if got := film.Script(&k.Steps[1]); got != prepared {
		t.Errorf("the second step says %q", got)
	}
	if _, err := film.ParseTimes(k, "start 0\npoints 1.5\nend 3 say more\n"); err == nil {
		t.Error("words after the end are taken")
	}
	asked := k.Steps[1].Ask
	film.Reword(&k.Steps[1], "Look. "+asked)
	if k.Steps[1].Ask != asked || film.Script(&k.Steps[1]) != "Look. "+asked {
		t.Errorf("with its question it says %q and asks %q", film.Script(&k.Steps[1]), k.Steps[1].Ask)
	}
}

// A faster reader is done sooner, and a question leaves time to think.
func TestPace(t *testing.T) {
	k := talk(t, "balanced-rule.moments")
	slow, fast := film.Read(k, 100), film.Read(k, 200)
	if slow.End <= fast.End {
		t.Errorf("%s at 100 words a minute, %s at 200", slow.End, fast.End)
	}
	for i, s := range k.Steps[:len(k.Steps)-1] {
		if pause := slow.Start[i+1] - slow.Spoke[i]; (pause >= 4*time.Second) != (s.Ask != "") {
			t.Errorf("step %s: a pause of %s after %q", s.ID, pause, s.Ask)
		}
	}
}
